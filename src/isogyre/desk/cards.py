"""The card of a material as plain values: what `material` gives, whoever asks."""

from typing import TypedDict


class SourceAnswer(TypedDict):
    """A source that the card cites. Sources of one ``group`` probably copy one original."""

    key: str
    author: str
    title: str
    year: str
    where: str
    group: str
    how_seen: str


class RangeAnswer(TypedDict):
    """A range; a single figure has ``low`` equal to ``high``."""

    low: float
    high: float


class ClaimAnswer(TypedDict):
    """What one source says. ``agrees`` if it lies inside the range that is followed."""

    low: float
    high: float
    source: str
    at: str
    note: str
    is_followed: bool
    agrees: bool


class DrawnAnswer(TypedDict):
    """The spread of the virtual stones: half lie below the median, nine in ten between the ends."""

    low90: float
    median: float
    high90: float


class ConstantAnswer(TypedDict):
    """One constant: the range followed, the rule that chose it, and every claim beside it."""

    name: str
    label: str
    unit: str
    followed: RangeAnswer | None
    rule: str
    disagree: bool
    claims: list[ClaimAnswer]
    drawn: DrawnAnswer | None


class StatementAnswer(TypedDict):
    """A fact in words."""

    text: str
    source: str


class SeenAnswer(TypedDict):
    """Something to be seen, how often, and how to see it."""

    name: str
    seen: str
    what: str
    how_to_see: str
    source: str


class GlowAnswer(TypedDict):
    """An answer to an ultraviolet lamp and how often it is met."""

    look: str
    seen: str
    source: str


class LineAnswer(TypedDict):
    """An absorption line or band."""

    nm: float
    width_nm: float
    strength: str
    source: str


class SpectrumAnswer(TypedDict):
    """A pattern of lines, its cause and how often it is met."""

    name: str
    cause: str
    seen: str
    text: str
    lines: list[LineAnswer]
    source: str


class PleochroismAnswer(TypedDict):
    """Strength and colours in the dichroscope."""

    strength: str
    colours: list[str]
    source: str


class FilterAnswer(TypedDict):
    """How often the stone looks pink to red through the colour filter."""

    red: str
    source: str


class LookAnswer(TypedDict):
    """A colour type. ``share`` is its part of the stones grown in this way."""

    variety: str
    how_common: str
    share: float
    colours: dict[str, str]
    incandescent: dict[str, str]
    transparency: dict[str, str]
    pleochroism: PleochroismAnswer | None
    spectrum: list[SpectrumAnswer]
    long_wave: list[GlowAnswer]
    short_wave: list[GlowAnswer]
    filter: FilterAnswer | None
    phenomena: list[SeenAnswer]
    features: list[SeenAnswer]
    magnet: str
    source: str


class SeparationAnswer(TypedDict):
    """A test that tells two kinds of stone apart, and what it shows for each of them.

    ``gain_bits`` is what the test is expected to add between two equally likely kinds; one bit
    would part them for good.
    """

    test: str
    gain_bits: float
    here: str
    there: str


class BodyAnswer(TypedDict):
    """The material grown in one way. ``constants`` holds only what differs from the material's.

    ``told_from_first`` separates it from the first way of growth, best test first.
    """

    growth: str
    origin: str
    name: str
    what: str
    how_common: str
    share: float
    constants: list[ConstantAnswer]
    looks: list[LookAnswer]
    features: list[SeenAnswer]
    told_from_first: list[SeparationAnswer]
    source: str


class CareAnswer(TypedDict):
    """What the bench may do: yes, caution or no."""

    torch: str
    pickle: str
    ultrasonic: str
    steam: str
    light: str
    hazard: str
    source: str
    from_memory: list[str]


class TreatmentAnswer(TypedDict):
    """A treatment of this material: what it leaves, what it hides, what settles it."""

    name: str
    what: str
    how_common: str
    growths: list[str]
    looks: list[str]
    leaves: list[SeenAnswer]
    hides: list[SeenAnswer]
    long_wave: list[GlowAnswer]
    short_wave: list[GlowAnswer]
    spectrum: list[SpectrumAnswer]
    filter: FilterAnswer | None
    constants: list[ConstantAnswer]
    hand_tests: str
    laboratory: str
    care: CareAnswer | None
    note: str
    source: str


class LookalikeAnswer(TypedDict):
    """A material taken for this one, and the tests that part them, best first."""

    name: str
    species: str
    kind: str
    separated_by: list[SeparationAnswer]


class CautionAnswer(TypedDict):
    """A test that could hurt this material."""

    test: str
    verdict: str
    reason: str
    lifted_by: str
    source: str


class MaterialCard(TypedDict):
    """Everything the catalogue holds on one material.

    ``asked`` is the name asked for, ``found_as`` the name it was read as, a variety or another
    name of the material included. ``from_memory`` is the share, 0 to 1, of its values that no
    source was opened for.
    """

    asked: str
    found_as: str
    name: str
    species: str
    family: str
    group: str
    kind: str
    also_called: list[str]
    same_species: list[str]
    same_group: list[str]
    how_common: str
    formula: StatementAnswer | None
    system: StatementAnswer | None
    optic_character: str
    optic_sign: str
    constants: list[ConstantAnswer]
    transparency: dict[str, str]
    lustre: list[str]
    bodies: list[BodyAnswer]
    treatments: list[TreatmentAnswer]
    lookalikes: list[LookalikeAnswer]
    care: CareAnswer
    cautions: list[CautionAnswer]
    traits: list[str]
    toughness: StatementAnswer | None
    cleavage: StatementAnswer | None
    note: str
    sources: list[SourceAnswer]
    from_memory: float
