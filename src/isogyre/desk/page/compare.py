"""The comparison of two or three kinds of stone as a typed page record: what separates them."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from math import ceil, floor, log10

from isogyre.catalogue import UnknownMaterialError
from isogyre.desk.cards import ConstantAnswer
from isogyre.desk.compare import (
    LEAST_TOLD,
    Comparison,
    FeatureBetween,
    NotGrownSoError,
    Side,
    TestBetween,
    compare,
    constants_of_side,
    read_side,
)
from isogyre.desk.page.feature_drawing import drawing_address
from isogyre.desk.page.figures import Tick
from isogyre.desk.page.material_records import Chooser, ChooserBox, ConstantRow
from isogyre.desk.page.materials import (
    DECIMALS,
    INDEX_DECIMALS,
    chooser,
    constant_rows,
    figure_range,
)
from isogyre.desk.page.standing import capital
from isogyre.desk.separation import how_often
from isogyre.desk.wording import factor_in_words, odds_in_words, per_cent
from isogyre.desk.workbench import Workbench
from isogyre.trade import Harm

MOST_SIDES = 3
NEARLY_ALWAYS_TOLD = 0.97
ALL_OF_THEM = 0.99
# Below an even chance '1 in 7 of them' is said, above it '96 % of them'.
SPOKEN_AS_ODDS = 0.45
# Rows shown before the rest is folded away.
TESTS_SHOWN, FEATURES_SHOWN = 6, 5
WORDED_TICKS, AXIS_MARGIN = 5, 0.08
# What is compared at the end, each on an axis of its own: label, unit and the constants drawn.
PROPERTIES = (
    ("refractive index", "", ("n", "n_o", "n_e", "n_alpha", "n_beta", "n_gamma")),
    ("birefringence", "", ("birefringence",)),
    ("relative density", "", ("sg",)),
    ("hardness", "Mohs", ("hardness",)),
    ("dispersion", "686.7 to 430.8 nm", ("dispersion",)),
    ("optic axial angle 2V", "°", ("two_v_deg",)),
)


NATURAL = "natural"


@dataclass(frozen=True)
class SideHead:
    """One of the kinds compared, its card, and the colours it was narrowed to."""

    name: str
    material: str
    narrowed: str


@dataclass(frozen=True)
class PairTold:
    """How often a test names the right one of a pair; ``width`` is 0 for a guess to 100."""

    pair: str
    words: str
    width: float


@dataclass(frozen=True)
class BestTest:
    """A test that is the best for these pairs; without a name nothing on the bench parts them."""

    name: str
    minutes: str
    told: tuple[PairTold, ...]


@dataclass(frozen=True)
class Shown:
    """What one of the kinds shows, or what a test could do to it."""

    side: str
    text: str


@dataclass(frozen=True)
class TestPart:
    """A test that separates, with what each kind shows and whom it could hurt."""

    name: str
    minutes: str
    told: tuple[PairTold, ...]
    shown: tuple[Shown, ...]
    caution: str
    cautions: tuple[Shown, ...]


@dataclass(frozen=True)
class SilentTest:
    """A test that separates nothing, and what all of them show."""

    name: str
    alike: str
    shown: tuple[Shown, ...]


@dataclass(frozen=True)
class FeatureRow:
    """A feature that speaks for one kind: how often it shows it, and what seeing it is worth."""

    name: str
    often: str
    others: str
    factor: str
    what: str
    how_to_see: str
    drawing: str


@dataclass(frozen=True)
class FeaturesPart:
    """The features that speak for one kind, those that tell most first."""

    side: str
    rows: tuple[FeatureRow, ...]
    more: tuple[FeatureRow, ...]


@dataclass(frozen=True)
class RangeBar:
    """A range on the axis of a property, in per cent of its width."""

    at: float
    width: float


@dataclass(frozen=True)
class PropertyRow:
    """A property of one kind: its range, drawn and said, and who says so."""

    side: str
    material: str
    text: str
    bars: tuple[RangeBar, ...]
    anchor: str
    claims: tuple[ConstantRow, ...]


@dataclass(frozen=True)
class PropertyPart:
    """One property of all kinds on one axis."""

    label: str
    unit: str
    overlap: str
    ticks: tuple[Tick, ...]
    rows: tuple[PropertyRow, ...]


@dataclass(frozen=True)
class ComparisonPart:
    """What separates the kinds, what does not, what the loupe adds, and the properties last."""

    title: str
    sides: tuple[SideHead, ...]
    best: tuple[BestTest, ...]
    parting: tuple[TestPart, ...]
    parting_more: tuple[TestPart, ...]
    silent: tuple[SilentTest, ...]
    features: tuple[FeaturesPart, ...]
    properties: tuple[PropertyPart, ...]


@dataclass(frozen=True)
class ComparePage:
    """The chooser with what was typed, and the comparison if there is one to be made."""

    chooser: Chooser
    comparison: ComparisonPart | None
    is_refused: bool


def compare_page(workbench: Workbench, typed: Sequence[str]) -> ComparePage:
    """Return the comparison of the first three names typed; what cannot be used is told beside it.

    Nothing typed is lost. One name, or none, is asked for a second without being refused.
    """
    names = [" ".join(name.split()) for name in typed]
    names = [name for name in names if name][:MOST_SIDES]
    blank = chooser(workbench, names)
    read = _as_meant(workbench, [_read(workbench, box) for box in blank.boxes])
    boxes = tuple(_overlap_told(read, number) for number in range(len(read)))
    sides = [side for _, side in read if side]
    is_refused = any(box.remark for box in boxes)
    whole = len(sides) > 1 and not is_refused
    part = _comparison(workbench, compare(workbench, sides)) if whole else None
    return ComparePage(replace(blank, boxes=boxes), part, is_refused)


def _read(workbench: Workbench, box: ChooserBox) -> tuple[ChooserBox, Side | None]:
    """Return the kind named in a box, or the box with what is wrong with its name."""
    if not box.typed:
        return box, None
    try:
        return box, read_side(workbench, box.typed)
    except UnknownMaterialError as error:
        remark = "The catalogue holds nothing by this name."
        return replace(box, remark=remark, near=tuple(error.near)), None
    except NotGrownSoError as error:
        return replace(box, remark=str(error)), None


def _as_meant(
    workbench: Workbench, read: Sequence[tuple[ChooserBox, Side | None]]
) -> list[tuple[ChooserBox, Side | None]]:
    """Return the kinds with a bare name read as natural where another is a part of it.

    Who asks for ruby or synthetic ruby asks whether it grew in the ground.
    """
    rows = [set(side.rows) for _, side in read if side]

    def meant(box: ChooserBox, side: Side | None) -> tuple[ChooserBox, Side | None]:
        if side is None or not any(other < set(side.rows) for other in rows):
            return box, side
        _, natural = _read(workbench, replace(box, typed=f"{NATURAL} {box.typed}"))
        return box, natural or side

    return [meant(box, side) for box, side in read]


def _overlap_told(read: Sequence[tuple[ChooserBox, Side | None]], number: int) -> ChooserBox:
    """Return a box; if its stones are among those of an earlier one, it says so."""
    box, side = read[number]
    for _, earlier in read[:number]:
        if side and earlier and set(side.rows) & set(earlier.rows):
            same = "the same as" if set(side.rows) == set(earlier.rows) else "not apart from"
            return replace(
                box,
                remark=f"“{side.name}” is {same} “{earlier.name}”: name another material, or "
                "how each was grown.",
            )
    return box


def _comparison(workbench: Workbench, found: Comparison) -> ComparisonPart:
    names = [side.name for side in found.sides]
    parting = [_test(one, names) for one in found.parting]
    return ComparisonPart(
        title=capital(
            " or ".join(names) if len(names) < 3 else f"{names[0]}, {names[1]} or {names[2]}"
        ),
        sides=tuple(
            SideHead(side.name, side.material.name, ", ".join(side.colours)) for side in found.sides
        ),
        best=_best(found, names),
        parting=tuple(parting[:TESTS_SHOWN]),
        parting_more=tuple(parting[TESTS_SHOWN:]),
        silent=tuple(_silent(one, names) for one in found.silent),
        features=tuple(_features(workbench, found, number) for number in range(len(names))),
        properties=_properties(workbench, found.sides),
    )


def _pairs(names: Sequence[str]) -> list[str]:
    return [f"{one} from {other}" for one, other in combinations(names, 2)]


# ---- tests ------------------------------------------------------------------------------------


def told_in_words(probability: float) -> str:
    """Return how often a test names the right one of two (0.5 to 1) as a person says it."""
    if probability >= NEARLY_ALWAYS_TOLD:
        return "nearly always"
    if probability < LEAST_TOLD:
        return "no better than a guess"
    return f"{min(9, round(10 * probability))} times in 10"


def minutes_in_words(minutes: float) -> str:
    """Return how long a test takes."""
    return "under a minute" if minutes < 1 else f"about {minutes:.0f} min"


def _best(found: Comparison, names: Sequence[str]) -> tuple[BestTest, ...]:
    """Return the best test of every pair, pairs of one test together."""
    best: dict[str, BestTest] = {}
    for number, pair in enumerate(_pairs(names)):
        one = max(found.parting, key=lambda one: _rank(one, number), default=None)
        if one is None or one.told[number] < LEAST_TOLD:
            row, told = BestTest("", "", ()), PairTold(pair, told_in_words(0.5), 0.0)
        else:
            row = BestTest(capital(one.test.name), minutes_in_words(one.test.minutes), ())
            told = _told(pair, one.told[number])
        row = best.get(row.name, row)
        best[row.name] = replace(row, told=(*row.told, told))
    return tuple(best.values())


def _rank(one: TestBetween, number: int) -> tuple[float, float]:
    """Return how good a test is for one pair; of two as good the quicker one is the better."""
    return round(one.told[number], 2), -one.test.minutes


def _told(pair: str, told: float) -> PairTold:
    return PairTold(pair, told_in_words(told), round(200 * (told - 0.5), 1))


def _test(one: TestBetween, names: Sequence[str]) -> TestPart:
    hurt = [(name, harm) for name, harm in zip(names, one.harms, strict=True) if harm]
    return TestPart(
        name=capital(one.test.name),
        minutes=minutes_in_words(one.test.minutes),
        told=tuple(_told(*pair) for pair in zip(_pairs(names), one.told, strict=True)),
        shown=_shown(one, names),
        caution=capital(_caution(hurt)),
        cautions=tuple(
            Shown(name, f"{harm.verdict}: {harm.reason}; {harm.lifted_by}") for name, harm in hurt
        ),
    )


def _caution(hurt: Sequence[tuple[str, Harm]]) -> str:
    """Return in a few words whom a test could hurt: all of a kind, or those treated somehow."""
    some = [
        f"{_share(harm.probability)} of {name}"
        for name, harm in hurt
        if harm.probability < ALL_OF_THEM
    ]
    whole = [
        f"never on {name}" if harm.verdict == "never" else f"ask first with {name}"
        for name, harm in hurt
        if harm.probability >= ALL_OF_THEM
    ]
    return ", ".join((*whole, *([f"could hurt {', '.join(some)}"] if some else [])))


def _share(probability: float) -> str:
    return odds_in_words(probability) if probability < SPOKEN_AS_ODDS else per_cent(probability)


def _shown(one: TestBetween, names: Sequence[str]) -> tuple[Shown, ...]:
    texts = (text.replace("none of these", "nothing of the kind") for text in one.shown)
    return tuple(Shown(name, text) for name, text in zip(names, texts, strict=True))


def _silent(one: TestBetween, names: Sequence[str]) -> SilentTest:
    shown = _shown(one, names)
    alike = shown[0].text if len({row.text for row in shown}) == 1 else ""
    return SilentTest(capital(one.test.name), alike, () if alike else shown)


# ---- features ---------------------------------------------------------------------------------


def _features(workbench: Workbench, found: Comparison, number: int) -> FeaturesPart:
    names = [side.name for side in found.sides]
    rows = [_feature(workbench, one, names) for one in found.features if one.speaks_for == number]
    return FeaturesPart(names[number], tuple(rows[:FEATURES_SHOWN]), tuple(rows[FEATURES_SHOWN:]))


def _feature(workbench: Workbench, one: FeatureBetween, names: Sequence[str]) -> FeatureRow:
    others = {
        name: how_often(chance)
        for number, (name, chance) in enumerate(zip(names, one.chances, strict=True))
        if number != one.speaks_for
    }
    alike = len(others) > 1 and len(set(others.values())) == 1
    return FeatureRow(
        name=one.feature.name,
        often=how_often(one.chances[one.speaks_for]),
        others=f"{next(iter(others.values()))} in the others"
        if alike
        else ", ".join(f"{often} in {name}" for name, often in others.items()),
        factor=factor_in_words(one.log10_factor),
        what=one.feature.what,
        how_to_see=one.feature.how_to_see,
        drawing=drawing_address(workbench, one.feature.name),
    )


# ---- properties -------------------------------------------------------------------------------


def _properties(workbench: Workbench, sides: Sequence[Side]) -> tuple[PropertyPart, ...]:
    """Return every property that somebody makes a claim about, each on its own axis."""
    parts = []
    for number, (label, unit, names) in enumerate(PROPERTIES):
        answers = [constants_of_side(workbench, side, names) for side in sides]
        if any(answers):
            decimals = DECIMALS.get(names[0], INDEX_DECIMALS)
            parts.append(_property(label, unit, decimals, sides, answers, f"ask-{number}"))
    return tuple(parts)


Answers = Sequence[tuple[str, ConstantAnswer]]


def _property(
    label: str,
    unit: str,
    decimals: int,
    sides: Sequence[Side],
    answers: Sequence[Answers],
    anchor: str,
) -> PropertyPart:
    ranges = [_ranges(given) for given in answers]
    whole = [(min(r)[0], max(high for _, high in r)) for r in ranges if r]
    axis = Axis.of(whole, decimals)
    rows = (
        PropertyRow(
            side=side.name,
            material=side.material.name,
            text=_range_text(own, side, label, decimals),
            bars=tuple(axis.bar(low, high) for low, high in own),
            anchor=f"{anchor}-{number}",
            claims=constant_rows(
                {**one, "label": f"{one['label']}, {growth}"} for growth, one in given
            ),
        )
        for number, (side, own, given) in enumerate(zip(sides, ranges, answers, strict=True))
    )
    return PropertyPart(label, unit, _overlap(whole, len(sides)), axis.ticks(), tuple(rows))


def _ranges(given: Answers) -> list[tuple[float, float]]:
    """Return one range for each constant, over all ways of growth."""
    found: dict[str, tuple[float, float]] = {}
    for _, one in given:
        followed = one["followed"]
        if followed:
            low, high = found.get(one["name"], (followed["low"], followed["high"]))
            found[one["name"]] = (min(low, followed["low"]), max(high, followed["high"]))
    return sorted(found.values())


def _range_text(own: Sequence[tuple[float, float]], side: Side, label: str, decimals: int) -> str:
    if own:
        return figure_range(own[0][0], max(high for _, high in own), decimals)
    single = side.material.optic.character == "isotropic"
    return "singly refractive" if single and label == "birefringence" else "no figure"


def _overlap(whole: Sequence[tuple[float, float]], count: int) -> str:
    """Return in words whether the ranges of all kinds lie apart, as far as they have figures."""
    if len(whole) < count:
        return ""
    pairs = list(combinations(sorted(whole), 2))
    meeting = sum(one[1] >= other[0] for one, other in pairs)
    if not meeting:
        return "no overlap"
    return "overlap" if meeting == len(pairs) else "some overlap"


@dataclass(frozen=True)
class Axis:
    """A piece of a property's scale, with a margin on either side of what is drawn."""

    start: float
    end: float
    decimals: int

    @classmethod
    def of(cls, ranges: Sequence[tuple[float, float]], decimals: int) -> "Axis":
        """Return the axis that holds all ``ranges``; ten of the last decimal at the least."""
        low, high = min(low for low, _ in ranges), max(high for _, high in ranges)
        margin = max(AXIS_MARGIN * (high - low), 5 * 10.0**-decimals)
        return cls(low - margin, high + margin, decimals)

    def place(self, figure: float) -> float:
        """Return where a figure lies, in per cent."""
        return round(100 * (figure - self.start) / (self.end - self.start), 2)

    def bar(self, low: float, high: float) -> RangeBar:
        """Return the bar of a range."""
        return RangeBar(self.place(low), round(self.place(high) - self.place(low), 2))

    def ticks(self) -> tuple[Tick, ...]:
        """Return worded ticks at round figures, five at the most."""
        least = (self.end - self.start) / WORDED_TICKS
        power = 10.0 ** floor(log10(least))
        step = next(times * power for times in (1, 2, 5, 10) if times * power >= least)
        decimals = max(0, -floor(log10(step) + 1e-9))
        numbers = range(ceil(self.start / step), floor(self.end / step) + 1)
        return tuple(Tick(self.place(n * step), f"{n * step:.{decimals}f}") for n in numbers)
