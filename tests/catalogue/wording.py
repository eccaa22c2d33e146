"""What the words of published descriptions claim, on the scales of the catalogue."""

import re
from collections.abc import Mapping, Sequence

from isogyre.population.words import GLOW_HUES, GLOW_STRENGTHS, PLEOCHROISM_STRENGTHS

Span = tuple[int, int]

CLEAVAGE_WORDS = {
    0: ("none", "no true", "as the parts"),
    1: ("poor", "indistinct", "imperfect", "almost never", "interrupted", "traces"),
    2: ("distinct", "good", "two directions", "{100}", "two sets"),
    3: ("perfect", "easy", "strong tendency", "very good"),
}
DIRECTION_WORDS = {
    1: ("one direction", "one perfect", "basal", "pinacoidal", "perpendicular to length"),
    2: ("two directions", "two sets", "prismatic", "two pinacoidal"),
    3: ("three directions", "rhombohedr"),
    4: ("four directions", "octahedral"),
    6: ("six directions", "dodecahedral"),
}
TOUGHNESS_WORDS = {
    0: ("poor", "no better"),
    1: ("fair",),
    2: ("good", "high"),
    3: ("excellent", "tough", "exceptional"),
}
PLEOCHROISM_WORDS = {
    "none": ("none",),
    "weak": ("weak",),
    "distinct": ("distinct", "moderate", "medium", "definite", "pleochroic", "visible"),
    "strong": ("strong", "conspicuous", "pronounced"),
}
# A dichroscope shows more than one colour: published as colours alone, it is at least weak.
COLOURS_ALONE = ("/", " to ", "trichroic", "violet-red", "purple,", "blue,", "seen in")
HEDGES = ("may ", "may)", "some ", "sometimes", "rarely", "occasional", "at times", "partly")
GLOW_WORDS = {
    "red": ("red", "dark red"),
    "pink": ("pink", "rose"),
    "orange": ("orange", "brown"),
    "yellow": ("yellow", "cream", "golden", "beige", "brown"),
    "green": ("green",),
    "blue": ("blue", "bluish", "indigo"),
    "violet": ("violet", "purple", "purplish"),
    "white": ("white", "whitish", "chalky", "cream", "beige"),
}
STRENGTH_WORDS = {
    "very weak": ("very weak", "very little", "dim", "almost none", "greatly diminished"),
    "weak": ("weak",),
    "moderate": ("moderate",),
    "strong": ("strong", "bright", "vivid", "brilliant"),
}


def _plain(text: str) -> str:
    """Return the text without what stands in brackets, which speaks of something else."""
    return re.sub(r"\(.*?\)", "", text)


def _found(text: str, scale: Mapping[int, Sequence[str]]) -> list[int]:
    """Return the steps whose words stand in ``text``; a longer word hides one inside it."""
    rest = text.lower()
    steps = []
    pairs = [(word, step) for step, words in scale.items() for word in words]
    for word, step in sorted(pairs, key=lambda pair: -len(pair[0])):
        if re.search(rf"(?<![a-z]){re.escape(word)}", rest):
            steps.append(step)
            rest = re.sub(rf"(?<![a-z]){re.escape(word)}", " ", rest)
    return steps


def cleavage_grade(text: str) -> int | None:
    """Return the best grade named, none 0 to perfect 3, or None if no grade is named."""
    steps = _found(_plain(text), CLEAVAGE_WORDS)
    return max(steps) if steps else None


def cleavage_directions(text: str) -> set[int]:
    """Return how many directions are named: of the best cleavage, and of all together."""
    best, *others = re.split(r"[,;]", _plain(text))
    steps = _found(best, DIRECTION_WORDS)
    more = 2 if "two more" in text else 1 if re.search(r"a second|another", text) else len(others)
    return {max(steps), max(steps) + more} if steps else set()


def toughness_span(text: str) -> Span | None:
    """Return the steps named, poor 0 to excellent 3."""
    steps = _found(text, TOUGHNESS_WORDS)
    return (min(steps), max(steps)) if steps else None


def pleochroism_span(text: str) -> Span | None:
    """Return the steps of pleochroism that a text names, in the order of the catalogue."""
    scale = {PLEOCHROISM_STRENGTHS.index(s): words for s, words in PLEOCHROISM_WORDS.items()}
    said = text.replace("strongly coloured", "deep-coloured")
    steps = _found(said.partition(":")[0], scale)
    if steps:
        return min(steps), max(steps)
    if any(word in text for word in COLOURS_ALONE):
        return 1, len(PLEOCHROISM_STRENGTHS) - 1
    return None


def is_hedged(text: str) -> bool:
    """Return whether a text says that only some stones do so."""
    return any(word in text.lower() for word in HEDGES)


def glow_answers(text: str) -> set[tuple[str, str]] | None:
    """Return the (strength, hue) pairs that agree with a described glow; inert has no hue.

    A strength is read within one step, which is what two observers differ by.
    """
    said = text.lower()
    inert = bool(re.search(r"\b(inert|none)\b", said)) and "almost none" not in said
    if inert and not re.search(r"inert to| may | sometimes", said):
        return {("inert", "")}
    hues = {
        hue
        for hue, names in GLOW_WORDS.items()
        if any(re.search(rf"(?<![a-z]){name}", said) for name in names)
    }
    numbered = {GLOW_STRENGTHS.index(s): names for s, names in STRENGTH_WORDS.items()}
    steps = _found(said, numbered)
    if not (inert or hues or steps):
        return None
    strongest = len(GLOW_STRENGTHS) - 1
    low, high = (min(steps) - 1, max(steps) + 1) if steps else (1, strongest)
    strengths = GLOW_STRENGTHS[max(low, 1) : high + 1]
    answers = {(strength, hue) for strength in strengths for hue in (hues or GLOW_HUES)}
    return answers | ({("inert", "")} if inert or low == 0 else set())


def glow_clauses(text: str) -> list[tuple[str, str]]:
    """Return (whose glow, what glow) for each part of a description; whose may be empty.

    What is said of dyed and filled stones is left out: it is not the stone's own glow.
    """
    parts = re.split(r", (?=[\w -]*stones)|, (?=light|white|dark|some dyed)", _plain(text))
    own = [part for part in parts if "dyed" not in part]
    return [_whose(part) for part in own]


def _whose(part: str) -> tuple[str, str]:
    found = re.match(r"(.*? stones|(?:light|dark|white)[a-z ]*?(?= inert| generally)) (.*)", part)
    return (found[1], found[2]) if found else ("", part)
