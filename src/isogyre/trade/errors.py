"""Faults of the rule tables, and questions they cannot answer."""

from collections.abc import Iterable, Sequence


class TradeRulesError(ValueError):
    """The rule tables are faulty; the message lists every fault found."""

    def __init__(self, faults: Sequence[str]) -> None:
        self.faults = tuple(faults)
        super().__init__("faults in the rules of the trade:\n  " + "\n  ".join(faults))


class UnknownSubjectError(KeyError):
    """The rule tables hold nothing under this word; a misspelt word must not pass as harmless."""

    def __init__(self, what: str, word: str, known: Iterable[str]) -> None:
        self.word = word
        self.known = tuple(sorted(set(known)))
        super().__init__(f"no {what} is called '{word}'; known: {', '.join(self.known)}")

    def __str__(self) -> str:
        return str(self.args[0])
