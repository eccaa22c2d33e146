"""Match loose phrases to the features of the vocabulary, tolerant of spelling and word order."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from rapidfuzz import fuzz

# Words that carry no meaning for the match.
EMPTY = frozenset(
    re.findall(
        r"\w+",
        "a an and the of in on with at to from some fine large small many few several numerous "
        "abundant seen under is are was very slightly slight one two three both near round",
    )
)
# How many phases an inclusion holds is its whole point, though a number alone is not.
PHASES = re.compile(r"\b(two|three|multi)[- ]phase")
SPELLINGS = {
    "color": "colour",
    "colored": "coloured",
    "gray": "grey",
    "luster": "lustre",
    "colorless": "colourless",
    "center": "centre",
    "fiber": "fibre",
    "crystallized": "crystallised",
}
EXACT_TRUST = 0.9
FUZZY_TRUST = 0.7
FUZZY_CUTOFF = 86.0


@dataclass(frozen=True)
class Match:
    """A feature that a phrase names, and how far the match is to be trusted."""

    feature: str
    trust: float


@dataclass(frozen=True)
class PhraseBook:
    """The words of every feature, as sets of tokens."""

    entries: tuple[tuple[str, frozenset[str], str], ...]

    @classmethod
    def of(cls, words: Mapping[str, Iterable[str]]) -> "PhraseBook":
        """Make a phrase book from feature names and their other words."""
        return cls(
            tuple(
                (name, frozenset(tokens(phrase)), " ".join(tokens(phrase)))
                for name, phrases in words.items()
                for phrase in (name, *phrases)
            )
        )

    def match(self, phrase: str) -> list[Match]:
        """Return the features ``phrase`` names: all that it contains, else the nearest one."""
        said = frozenset(tokens(phrase))
        held: dict[str, frozenset[str]] = {}
        for name, words, _ in self.entries:
            if words and words <= said and len(words) > len(held.get(name, ())):
                held[name] = words
        best = [
            name
            for name, words in held.items()
            if not any(words < other for other in held.values())
        ]
        if best:
            return [Match(name, EXACT_TRUST) for name in sorted(best, key=lambda n: -len(held[n]))]
        return self._nearest(" ".join(tokens(phrase)))

    def _nearest(self, phrase: str) -> list[Match]:
        scored = [(fuzz.token_sort_ratio(phrase, words), name) for name, _, words in self.entries]
        score, name = max(scored, default=(0.0, ""))
        return [Match(name, FUZZY_TRUST)] if score >= FUZZY_CUTOFF else []


def tokens(phrase: str) -> list[str]:
    """Return the words of a phrase, lower case, singular, in one spelling, empty words dropped."""
    joined = PHASES.sub(r"\1phase", phrase.lower().replace("'s", "s"))
    words = re.findall(r"[a-z]+", joined)
    return [_stem(SPELLINGS.get(word, word)) for word in words if word not in EMPTY]


def _stem(word: str) -> str:
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith("s") and not word.endswith(("ss", "us", "is")) and len(word) > 3:
        return word[:-1]
    return word
