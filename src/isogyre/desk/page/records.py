"""What the page of a stone consists of: words and places, nothing left to reckon."""

from dataclasses import dataclass

from isogyre.desk.page.figures import Bar, OddsMark, Slice, Tick
from isogyre.desk.page.forms import Sheet


@dataclass(frozen=True)
class Verdict:
    """The sentence that answers the page's question, and the quiet one that says its limit."""

    name: str
    odds: str
    rest: str
    limit: str


@dataclass(frozen=True)
class OddsRow:
    """Something the stone can be, with its odds."""

    name: str
    words: str
    figure: str
    mark: OddsMark


@dataclass(frozen=True)
class NameRow:
    """A name the stone may bear, and the kind of stone that bears it."""

    name: str
    kind: str
    material: str
    words: str
    figure: str


@dataclass(frozen=True)
class PartRow:
    """A share of one whole, drawn as a slice and said in words."""

    name: str
    note: str
    words: str
    figure: str
    slice: Slice


@dataclass(frozen=True)
class WeightRow:
    """What one reading does to the odds of the leader against the runner-up."""

    shown: str
    origin: str
    factor: str
    bar: Bar


@dataclass(frozen=True)
class Beam:
    """All readings about one datum."""

    leader: str
    runner_up: str
    ticks: tuple[Tick, ...]
    datum: float
    rows: tuple[WeightRow, ...]
    silent: tuple[str, ...]
    together: WeightRow


@dataclass(frozen=True)
class Suspect:
    """The reading that fits least, given all the others."""

    field: str
    shown: str
    instrument: str
    anchor: str
    words: str


@dataclass(frozen=True)
class Fit:
    """Whether the readings go together, and the one to look at again if they do not."""

    verdict: str
    explanation: str
    suspect: Suspect | None


@dataclass(frozen=True)
class SettingRow:
    """The leader's odds where stones are met in one setting."""

    name: str
    about: str
    words: str
    figure: str
    is_stated: bool


@dataclass(frozen=True)
class NotCounted:
    """An entry that does not count, and why."""

    instrument: str
    anchor: str
    value: str
    reason: str


@dataclass(frozen=True)
class StandingPart:
    """Where a stone stands."""

    verdict: Verdict
    readings: str
    odds_ticks: tuple[Tick, ...]
    species: tuple[OddsRow, ...]
    others: str
    names: tuple[NameRow, ...]
    origins: tuple[PartRow, ...]
    treatments: tuple[PartRow, ...]
    beam: Beam
    fit: Fit
    setting: str
    settings: tuple[SettingRow, ...]
    tips: str
    is_thin: bool
    laboratory: tuple[str, ...]
    not_counted: tuple[NotCounted, ...]


@dataclass(frozen=True)
class Expected:
    """What a test would show if the stone were one of the candidates, in words and drawn.

    ``svg`` is empty where nothing is drawn; one that ``is_narrow`` stands beside the other.
    """

    candidate: str
    seen: str
    svg: str = ""
    is_narrow: bool = False
    limit: str = ""


@dataclass(frozen=True)
class HarmNote:
    """Why a test must not be made on this stone, or only with leave, and what would lift that."""

    verdict: str
    reason: str
    because: str
    lifted_by: str


@dataclass(frozen=True)
class TestRow:
    """A test worth making: why, how long, what it would show, what it could harm."""

    __test__ = False  # a test of stones, not one for pytest to collect

    name: str
    minutes: str
    gain: str
    expected: tuple[Expected, ...]
    anchor: str
    harm: HarmNote | None


@dataclass(frozen=True)
class NextPart:
    """What to test next, best first, and what this stone must not be asked to bear.

    ``missing`` would tell much and cannot be made with this kit.
    """

    tests: tuple[TestRow, ...]
    blocked: tuple[TestRow, ...]
    outlook: str
    missing: tuple[TestRow, ...] = ()


@dataclass(frozen=True)
class Option:
    """One of a few things to choose between."""

    value: str
    word: str
    about: str
    is_chosen: bool


@dataclass(frozen=True)
class StonePage:
    """Everything on the page of one stone."""

    title: str
    chips: tuple[str, ...]
    sheets: tuple[Sheet, ...]
    troubles: int
    standing: StandingPart | None
    next: NextPart | None
    kits: tuple[Option, ...]
    settles: tuple[Option, ...]
    is_blank: bool
