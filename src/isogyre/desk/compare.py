"""The use case 'compare': what separates two or three kinds of stone, and what does not.

A kind is a material or a variety of it, and, where one says so, grown in one way: 'spinel',
'natural ruby', 'flux ruby'.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from math import log10

import numpy as np
from numpy.typing import NDArray

from isogyre.catalogue import Catalogue
from isogyre.catalogue.model import Body, Feature, Material
from isogyre.desk.cards import ConstantAnswer
from isogyre.desk.constants import constant_answers
from isogyre.desk.find_material import find_material, names_of
from isogyre.desk.material import drawn_from
from isogyre.desk.separation import Kind, Kinds, tests_at_hand, told_apart
from isogyre.desk.workbench import Workbench
from isogyre.instruments import PlannedTest
from isogyre.population.hypotheses import Hypothesis, constants_of
from isogyre.trade import Harm, harm

Array = NDArray[np.float64]
Rows = NDArray[np.intp]

# A test parts two kinds if it names the right one six times in ten, where a guess does five.
LEAST_TOLD = 0.6
# A feature speaks for a kind that shows it three times as often as any other here, and that is
# seen in it at least 'seldom'.
LEAST_FACTOR, LEAST_CHANCE = 3.0, 0.03
# Of what a loupe looks for, only what every kind shows at times can mislead.
MISLEADS_FROM = 0.13
# A colour is a variety's own from this share of its stones on; a stone of another kind is taken
# for it if this much of its kind has one of those colours.
OWN_COLOUR, SAME_COLOUR = 0.25, 0.4
LOUPE = "magnification"


class NotGrownSoError(ValueError):
    """The catalogue knows the material, not that it is grown in this way."""

    def __init__(self, name: str, growth: str, known: Sequence[str]) -> None:
        super().__init__(
            f"The catalogue names no {growth} {name}; it names {', '.join(known)} {name}."
        )


@dataclass(frozen=True, eq=False)
class Side:
    """One of the kinds compared. ``colours`` are the varieties it was narrowed to, if it was."""

    name: str
    material: Material
    rows: Rows
    is_variety: bool
    colours: tuple[str, ...] = ()


@dataclass(frozen=True)
class TestBetween:
    """A test: how often it names the right one of each pair, and what it does with each side.

    ``told`` follows ``combinations`` of the sides, 0.5 (a guess) to 1.
    """

    test: PlannedTest
    told: tuple[float, ...]
    shown: tuple[str, ...]
    harms: tuple[Harm | None, ...]

    @property
    def worth(self) -> float:
        """Return the mean over the pairs, 0.5 to 1."""
        return sum(self.told) / len(self.told)


@dataclass(frozen=True)
class FeatureBetween:
    """A feature that speaks for the side of number ``speaks_for``: how often each side shows it.

    ``log10_factor`` is what seeing it multiplies the odds by, against the nearest other side.
    """

    feature: Feature
    chances: tuple[float, ...]
    speaks_for: int
    log10_factor: float


@dataclass(frozen=True)
class Comparison:
    """What separates the sides, best first; what does not; what the loupe adds."""

    sides: tuple[Side, ...]
    parting: tuple[TestBetween, ...]
    silent: tuple[TestBetween, ...]
    features: tuple[FeatureBetween, ...]


# ---- what is compared -------------------------------------------------------------------------


def read_side(workbench: Workbench, typed: str) -> Side:
    """Return the kind of stone that ``typed`` names.

    Raises
    ------
    UnknownMaterialError
        If nothing in the catalogue comes near the name.
    NotGrownSoError
        If the material is not grown in the way that is named.
    """
    plain = _plain(typed)
    # 'Flux phenakite' comes near the name 'blue phenakite': a slip is forgiven last of all.
    if plain not in map(_plain, _names(workbench)):
        for word, growths, rest in _growth_taken_off(workbench.catalogue, plain):
            return _side(workbench, rest, word, growths)
    return _side(workbench, typed, "", frozenset())


def _names(workbench: Workbench) -> Iterator[str]:
    return (name for name, _ in names_of(workbench.catalogue).values())


def _plain(name: str) -> str:
    return " ".join(name.lower().replace(",", " ").split())


def _growth_taken_off(
    catalogue: Catalogue, plain: str
) -> Iterator[tuple[str, frozenset[str], str]]:
    """Yield the way of growth that begins or ends a name, longest word first, and the rest."""
    words: dict[str, set[str]] = {}
    for growth in catalogue.growths.values():
        for word in (growth.name, growth.origin, *growth.words):
            words.setdefault(_plain(word), set()).add(growth.name)
    for word in sorted(words, key=len, reverse=True):
        for rest in (plain.removeprefix(f"{word} "), plain.removesuffix(f" {word}")):
            if rest != plain:
                yield word, frozenset(words[word]), rest


def _side(workbench: Workbench, name: str, word: str, growths: frozenset[str]) -> Side:
    found_as, material = find_material(workbench.catalogue, name)
    of_material = np.flatnonzero(workbench.population.rows_of("material", material.name))
    drawn = drawn_from(workbench)
    # A colour type may be called like the whole material, which then is what is meant.
    is_whole = found_as == material.name
    named = [row for row in of_material if not is_whole and _is_called(drawn[row], found_as)]
    is_variety = any(drawn[row].look.variety == found_as for row in named)
    meant = named or list(of_material)
    rows = [row for row in meant if not growths or drawn[row].body.growth in growths]
    called = found_as if named or found_as in material.also_called else material.name
    if not rows:
        known = dict.fromkeys(drawn[row].body.growth for row in meant)
        raise NotGrownSoError(called, word, list(known))
    return Side(f"{word} {called}".strip(), material, np.array(rows), is_variety)


def _is_called(drawn: Hypothesis, name: str) -> bool:
    return name in (drawn.look.variety, drawn.body.name)


def compare(workbench: Workbench, sides: Sequence[Side]) -> Comparison:
    """Return what separates two or three kinds of stone.

    Beside a variety, a whole material is narrowed to the stones that share its colours: a stone
    in hand has one colour, and only those are taken for one another.
    """
    sides = _of_one_colour(workbench, sides)
    kinds = [Kind.of(workbench.population, side.rows) for side in sides]
    tests = [
        _between(workbench, test, sides, kinds) for test in tests_at_hand(workbench.instruments)
    ]
    # Of two tests as good as each other the quicker one comes first.
    tests.sort(key=lambda one: (-round(one.worth, 2), one.test.minutes))
    return Comparison(
        sides=tuple(sides),
        parting=tuple(one for one in tests if max(one.told) >= LEAST_TOLD),
        silent=tuple(
            one
            for one in tests
            if max(one.told) < LEAST_TOLD and _can_mislead(workbench, one.test, kinds)
        ),
        features=tuple(_features(workbench, kinds)),
    )


def _of_one_colour(workbench: Workbench, sides: Sequence[Side]) -> list[Side]:
    population = workbench.population
    hue = population.tables.hue
    own = np.zeros(hue.shape[1], dtype=bool)
    for side in sides:
        if side.is_variety:
            own |= Kind.of(population, side.rows).weight @ hue[side.rows] >= OWN_COLOUR
    return [side if side.is_variety else _narrowed(workbench, side, own) for side in sides]


def _narrowed(workbench: Workbench, side: Side, colours: NDArray[np.bool_]) -> Side:
    alike = side.rows[
        workbench.population.tables.hue[side.rows][:, colours].sum(axis=1) >= SAME_COLOUR
    ]
    if len(alike) in (0, len(side.rows)):
        return side
    varieties = dict.fromkeys(workbench.population.labels[row].variety for row in alike)
    return replace(side, rows=alike, colours=tuple(varieties))


# ---- tests ------------------------------------------------------------------------------------


def _between(
    workbench: Workbench, test: PlannedTest, sides: Sequence[Side], kinds: Sequence[Kind]
) -> TestBetween:
    population = workbench.population
    # Bins of figures are laid between the two kinds they are to part, so each pair has its own.
    pairs = (Kinds.of(population, *pair) for pair in combinations(kinds, 2))
    return TestBetween(
        test=test,
        told=tuple(told_apart(pair.chances(test)) for pair in pairs),
        shown=tuple(Kinds.of(population, *kinds).shown(test)),
        harms=tuple(_harm(workbench, test, *one) for one in zip(sides, kinds, strict=True)),
    )


def _harm(workbench: Workbench, test: PlannedTest, side: Side, kind: Kind) -> Harm | None:
    if not test.touches:
        return None
    traits = workbench.population.traits
    rows = zip(kind.weight, kind.rows, strict=True)
    candidates = [(float(weight), traits[row], side.name) for weight, row in rows]
    return harm(test.touches, candidates, frozenset(), workbench.rules)


def _can_mislead(workbench: Workbench, test: PlannedTest, kinds: Sequence[Kind]) -> bool:
    """Whether a test that parts nothing is worth a warning: of the loupe's, what all show."""
    if test.field != LOUPE:
        return True
    chances = (kind.words(workbench.population, test) for kind in kinds)
    return min(1 - float(chance[-1]) for chance in chances) >= MISLEADS_FROM


# ---- features ---------------------------------------------------------------------------------


def _features(workbench: Workbench, kinds: Sequence[Kind]) -> list[FeatureBetween]:
    """Return the features that speak for one side, those expected to tell most first."""
    population = workbench.population
    table = np.stack([kind.weight @ population.tables.features[kind.rows] for kind in kinds])
    found = [
        _feature(feature, table[:, population.feature_names.index(name)])
        for name, feature in workbench.catalogue.features.items()
        if feature.where in ("loupe", "eye")
    ]
    speaking = [one for one in found if one.log10_factor >= log10(LEAST_FACTOR)]
    seen = [one for one in speaking if one.chances[one.speaks_for] >= LEAST_CHANCE]
    return sorted(seen, key=lambda one: -one.chances[one.speaks_for] * one.log10_factor)


def _feature(feature: Feature, chances: Array) -> FeatureBetween:
    best = int(chances.argmax())
    nearest = float(np.delete(chances, best).max())
    factor = log10(float(chances[best]) / nearest)
    return FeatureBetween(feature, tuple(map(float, chances)), best, factor)


# ---- constants --------------------------------------------------------------------------------


def constants_of_side(
    workbench: Workbench, side: Side, names: Sequence[str]
) -> list[tuple[str, ConstantAnswer]]:
    """Return the constants of a side in ``names``, each with the way of growth that it is said of.

    What two ways of growth have in common is said once.
    """
    drawn = drawn_from(workbench)
    bodies: dict[int, Body] = {id(drawn[row].body): drawn[row].body for row in side.rows}
    answers: list[tuple[str, ConstantAnswer]] = []
    for body in bodies.values():
        rows = [row for row in side.rows if drawn[row].body is body]
        strata = np.unique(workbench.population.stratum[rows])
        said = constants_of(side.material, body, None)
        sources = workbench.catalogue.sources
        found = constant_answers(said, workbench.population, strata, sources, names)
        known = [(one["name"], one["claims"]) for _, one in answers]
        new = [one for one in found if (one["name"], one["claims"]) not in known]
        answers += [(body.name or body.growth, one) for one in new]
    return answers
