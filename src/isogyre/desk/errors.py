"""What the desk refuses."""

from collections.abc import Sequence

from isogyre.instruments import Trouble


class RecordTroubleError(ValueError):
    """A record holds entries that cannot be used; all of them are told at once."""

    def __init__(self, troubles: Sequence[Trouble]) -> None:
        self.troubles = tuple(troubles)
        super().__init__("; ".join(f"{t.field}: {t.message}" for t in troubles))


class UnknownWordError(ValueError):
    """An option is none of the words it can be."""

    def __init__(self, what: str, word: str, known: Sequence[str]) -> None:
        self.what = what
        super().__init__(f"{what}: '{word}' is none of {', '.join(known)}")
