"""What the catalogue holds: claims about materials, each with its source.

A claim is one statement by one source. Nothing here decides which of two claims is right;
:mod:`isogyre.catalogue.follow` does that by one rule for all.
"""

from typing import Literal, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator

Step = Literal["nearly always", "often", "at times", "seldom", "hardly ever"]
Hue = Literal[
    "colourless",
    "white",
    "grey",
    "black",
    "brown",
    "red",
    "pink",
    "orange",
    "yellow",
    "yellow-green",
    "green",
    "blue-green",
    "blue",
    "violet",
    "purple",
]
Kind = Literal[
    "crystal", "aggregate", "rock", "amorphous", "glass", "organic", "plastic", "assembled"
]
Character = Literal["isotropic", "uniaxial", "biaxial", "aggregate", "opaque"]
Transparency = Literal["transparent", "translucent", "opaque"]
Lustre = Literal[
    "adamantine",
    "subadamantine",
    "vitreous",
    "resinous",
    "waxy",
    "greasy",
    "silky",
    "pearly",
    "metallic",
    "dull",
]
Verdict = Literal["yes", "caution", "no"]
PleochroismStrength = Literal["none", "weak", "distinct", "strong"]
LineStrength = Literal["strong", "medium", "weak"]
PolariscopeWord = Literal["single", "double", "aggregate", "anomalous"]

# How often a feature is met, as a probability. The words are the catalogue's; the figures are a
# judgement, kept coarse on purpose: nobody has counted finer than this.
STEP_PROBABILITY: dict[Step, float] = {
    "nearly always": 0.92,
    "often": 0.6,
    "at times": 0.25,
    "seldom": 0.07,
    "hardly ever": 0.012,
}


class Entry(BaseModel):
    """A row of the catalogue; unknown keys are refused, so that a misspelt one is noticed."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Claim(Entry):
    """A range of a constant as one source gives it; a single figure has ``low == high``."""

    low: float
    high: float
    source: str
    at: str = ""
    note: str = ""
    follow: bool = False

    @model_validator(mode="after")
    def _ascending(self) -> Self:
        if self.low > self.high:
            raise ValueError(f"low {self.low} lies above high {self.high}")
        return self


class Statement(Entry):
    """A fact in words with its source."""

    text: str
    source: str
    at: str = ""


class Seen(Entry):
    """How often a feature, phenomenon or spectrum is met in the stones this row stands under."""

    name: str
    seen: Step
    source: str
    at: str = ""
    note: str = ""


class Glow(Entry):
    """One answer to an ultraviolet lamp, such as ``weak red`` or ``inert``, and how often."""

    look: str
    seen: Step
    source: str


class Pleochroism(Entry):
    """Strength of pleochroism and the colours by axis, as a dichroscope shows them."""

    strength: PleochroismStrength
    colours: tuple[str, ...] = ()
    source: str


class FilterReaction(Entry):
    """How often the stone looks pink to red through the colour filter."""

    red: Step
    source: str


class Optic(Entry):
    """Optic character and, for crystals, the sign; ``+-`` where both signs occur."""

    character: Character
    sign: Literal["", "+", "-", "+-"] = ""
    source: str


class PolariscopeHabit(Entry):
    """How a material behaves between crossed polars when its character alone misleads."""

    shares: dict[PolariscopeWord, Step]
    source: str


class Constants(Entry):
    """Physical constants, each a list of claims. Indices are for sodium light, 589.3 nm."""

    n: tuple[Claim, ...] = ()
    n_o: tuple[Claim, ...] = ()
    n_e: tuple[Claim, ...] = ()
    n_alpha: tuple[Claim, ...] = ()
    n_beta: tuple[Claim, ...] = ()
    n_gamma: tuple[Claim, ...] = ()
    birefringence: tuple[Claim, ...] = ()
    sg: tuple[Claim, ...] = ()
    hardness: tuple[Claim, ...] = ()
    dispersion: tuple[Claim, ...] = ()
    two_v_deg: tuple[Claim, ...] = ()
    # -1 to 1: how far density follows the index between stones of one isomorphous series.
    index_density_correlation: tuple[Claim, ...] = ()
    # Mean length of the tail towards low density (pores, light foreign grains).
    sg_tail_below: tuple[Claim, ...] = ()


class Care(Entry):
    """What the bench may do to the untreated material. A treatment can only make it worse."""

    torch: Verdict
    pickle: Verdict
    ultrasonic: Verdict
    steam: Verdict
    light: Verdict
    source: str
    from_memory: tuple[str, ...] = ()
    hazard: str = ""


class Look(Entry):
    """A colour type of a material: the stones that share a colour, its cause and its reactions."""

    variety: str
    how_common: Step
    source: str
    like: str = ""
    colours: dict[Hue, Step] = Field(default_factory=dict)
    incandescent: dict[Hue, Step] = Field(default_factory=dict)
    transparency: dict[Transparency, Step] = Field(default_factory=dict)
    pleochroism: Pleochroism | None = None
    spectrum: tuple[Seen, ...] = ()
    long_wave: tuple[Glow, ...] = ()
    short_wave: tuple[Glow, ...] = ()
    filter: FilterReaction | None = None
    phenomena: tuple[Seen, ...] = ()
    features: tuple[Seen, ...] = ()
    magnet: Literal["", "none", "weak", "strong"] = ""
    # Where stones of this look bear less, or other things, than the material in general.
    care: Care | None = None


class Body(Entry):
    """A material grown in one way. What is not said is taken from the first body."""

    growth: str
    how_common: Step
    source: str
    name: str = ""
    constants: Constants = Constants()
    looks: tuple[Look, ...] = ()
    features: tuple[Seen, ...] = ()
    polariscope: PolariscopeHabit | None = None


class TreatmentPractice(Entry):
    """A treatment of this material: how often practised, on what, and what it leaves to be seen."""

    name: str
    how_common: Step
    source: str
    growths: tuple[str, ...] = ()
    looks: tuple[str, ...] = ()
    features: tuple[Seen, ...] = ()
    hides: tuple[Seen, ...] = ()
    long_wave: tuple[Glow, ...] = ()
    short_wave: tuple[Glow, ...] = ()
    spectrum: tuple[Seen, ...] = ()
    filter: FilterReaction | None = None
    constants: Constants = Constants()
    note: str = ""


class Durability(Entry):
    """Toughness and cleavage in words."""

    toughness: Statement | None = None
    cleavage: Statement | None = None


class Material(Entry):
    """One material that a bench can name."""

    name: str
    species: str
    family: str
    kind: Kind
    how_common: Step
    source: str
    group: str = ""
    also_called: tuple[str, ...] = ()
    formula: Statement | None = None
    system: Statement | None = None
    optic: Optic
    constants: Constants
    transparency: dict[Transparency, Step] = Field(default_factory=dict)
    lustre: tuple[Lustre, ...] = ("vitreous",)
    durability: Durability = Durability()
    traits: tuple[str, ...] = ()
    thermal: Literal["", "diamond-like", "middling", "low"] = ""
    conducts: bool = False
    polariscope: PolariscopeHabit | None = None
    care: Care
    lookalikes: tuple[str, ...] = ()
    bodies: tuple[Body, ...]
    treatments: tuple[TreatmentPractice, ...] = ()
    note: str = ""

    @model_validator(mode="after")
    def _names_its_own_looks_and_growths(self) -> Self:
        """A misspelt look would never be met, and a treatment of it never weighed."""
        growths = {body.growth for body in self.bodies}
        looks = {look.variety for body in self.bodies for look in body.looks}
        models = {"", *(look.variety for look in self.bodies[0].looks)}
        unknown = [
            *(look.like for body in self.bodies for look in body.looks if look.like not in models),
            *(name for one in self.treatments for name in one.looks if name not in looks),
            *(name for one in self.treatments for name in one.growths if name not in growths),
        ]
        if unknown:
            raise ValueError(f"no look or growth of it is called {', '.join(map(repr, unknown))}")
        return self


class Feature(Entry):
    """Something that can be seen in or on a stone, looked for, or not looked for.

    ``cause`` names what brings it about: features of one cause appear together and count as one
    body of evidence. ``elsewhere`` is how often it is reported in stones that do not list it.
    ``is_told`` is false for what writers leave out though they saw it (sharp facet edges).
    """

    name: str
    cause: str
    what: str
    source: str
    where: Literal["loupe", "eye", "spectroscope", "lamp"] = "loupe"
    elsewhere: float = Field(default=0.01, gt=0, lt=0.5)
    is_told: bool = True
    words: tuple[str, ...] = ()
    how_to_see: str = ""
    confused_with: tuple[str, ...] = ()


class Growth(Entry):
    """A way in which a material comes about, and what the trade must call the result."""

    name: str
    origin: Literal[
        "natural", "cultured", "synthetic", "imitation", "composite", "reconstructed", "organic"
    ]
    words: tuple[str, ...] = ()
    what: str
    source: str


class TreatmentWord(Entry):
    """A treatment of the vocabulary, with what settles it when hand tests cannot."""

    name: str
    what: str
    words: tuple[str, ...] = ()
    traits: tuple[str, ...] = ()
    care: Care | None = None
    laboratory: str
    hand_tests: Literal["settle it at times", "give hints", "see nothing"]
    source: str


class Line(Entry):
    """An absorption line or band. ``width_nm`` is its full width; narrow lines have 2 or less."""

    nm: float = Field(gt=380, lt=760)
    strength: LineStrength
    width_nm: float = Field(default=2.0, gt=0)
    source: str
    at: str = ""


class Spectrum(Entry):
    """A pattern of lines and bands that one cause gives in one kind of host."""

    name: str
    cause: str
    lines: tuple[Line, ...] = ()
    text: str = ""
    source: str


class Source(Entry):
    """Where claims come from. Sources of one ``group`` probably copy one original."""

    key: str
    author: str
    title: str
    year: str = ""
    where: str = ""
    group: str = ""
    how_seen: str = ""
