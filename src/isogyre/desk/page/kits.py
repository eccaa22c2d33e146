"""The pages of the kits: what is at hand, and the form in which a kit of one's own is made.

No page names an instrument: ticks, minutes and figures are rendered from what the instruments
declare.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from urllib.parse import quote

from isogyre.desk.house import House
from isogyre.desk.kits import KitNameTakenError, chosen_kit, figures_of, kits_at_hand
from isogyre.desk.workbench import Workbench
from isogyre.instruments import Field, Instrument, Readings, Trouble
from isogyre.instruments.entry import number_in
from isogyre.instruments.kits import KITS, Kit

# What the form sends: a tick a test under one name, figures under the kind and their key.
NAME, ABOUT, HOLDS = "name", "about", "holds"
MINUTES, FIGURE = "minutes.", "figure."
LONGEST_NAME, LONGEST_ABOUT = 40, 120
SHORTEST_TEST_MIN, LONGEST_TEST_MIN = 0.05, 600.0
# Words that the addresses of the kits' pages are made of.
RESERVED = frozenset(("new", "choose", "remove"))


@dataclass(frozen=True)
class KitEntries:
    """What was typed and ticked; ``figures`` under the keys of their controls."""

    name: str = ""
    about: str = ""
    holds: frozenset[str] = frozenset()
    figures: Mapping[str, str] = field(default_factory=dict)

    @classmethod
    def of(cls, kit: Kit) -> "KitEntries":
        """Return the entries that make this kit."""
        minutes = {MINUTES + key: f"{value:g}" for key, value in kit.minutes.items()}
        errors = {FIGURE + key: f"{value:g}" for key, value in kit.errors.items()}
        return cls(kit.name, kit.about, kit.fields, minutes | errors)

    @classmethod
    def typed(cls, typed: Sequence[tuple[str, str]]) -> "KitEntries":
        """Return of what a form sent only what a kit is made of, blank figures left out."""
        said = {key: " ".join(text.split()) for key, text in typed}
        figures = {k: v for k, v in said.items() if k.startswith((MINUTES, FIGURE)) and v}
        holds = frozenset(text for key, text in typed if key == HOLDS)
        return cls(said.get(NAME, ""), said.get(ABOUT, ""), holds, figures)

    def unnamed(self) -> "KitEntries":
        """Return the same kit as a beginning for another one."""
        return replace(self, name="", about="")

    def figure(self, key: str) -> str:
        """Return what was typed into the control of this key."""
        return self.figures.get(key, "")

    def pairs(self) -> tuple[tuple[str, str], ...]:
        """Return what a form would send to make this kit."""
        ticks = ((HOLDS, key) for key in sorted(self.holds))
        return ((NAME, self.name), (ABOUT, self.about), *ticks, *self.figures.items())


@dataclass(frozen=True)
class FigureControl:
    """A figure that may be entered; blank means the usual one."""

    key: str
    label: str
    unit: str
    span: str
    usual: str
    value: str
    trouble: str

    @property
    def anchor(self) -> str:
        """Return the id that links and labels point to."""
        return self.key.replace(".", "-").replace("_", "-")


@dataclass(frozen=True)
class TestTick:
    """A test that is at hand or not, and how long it takes."""

    __test__ = False  # a test of stones, not one for pytest to collect

    key: str
    label: str
    is_held: bool
    minutes: FigureControl

    @property
    def anchor(self) -> str:
        """Return the id that the label points to."""
        return f"holds-{self.key.replace('_', '-')}"


@dataclass(frozen=True)
class InstrumentGroup:
    """One instrument: its tests, the figures that are its own, and what to be careful about."""

    name: str
    about: str
    cautions: tuple[str, ...]
    tests: tuple[TestTick, ...]
    figures: tuple[FigureControl, ...]


@dataclass(frozen=True)
class Mend:
    """Something that cannot be kept, and where to mend it."""

    label: str
    anchor: str
    trouble: str


@dataclass(frozen=True)
class KitPage:
    """The form of one kit. A built-in one is a beginning for one's own."""

    title: str
    address: str
    entries: KitEntries
    groups: tuple[InstrumentGroup, ...]
    mends: tuple[Mend, ...]
    is_own: bool
    is_built_in: bool
    longest_name: int = LONGEST_NAME
    longest_about: int = LONGEST_ABOUT

    def trouble(self, anchor: str) -> str:
        """Return what is wrong at a control, or nothing."""
        return "; ".join(mend.trouble for mend in self.mends if mend.anchor == anchor)


@dataclass(frozen=True)
class KitRow:
    """One kit of the list."""

    name: str
    about: str
    holds: tuple[str, ...]
    figures: tuple[str, ...]
    is_chosen: bool
    is_own: bool

    @property
    def address(self) -> str:
        """Return where its page lies."""
        return address_of(self.name)


@dataclass(frozen=True)
class Removed:
    """A kit that was removed, and all that makes it again."""

    name: str
    pairs: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class KitsPage:
    """The kits at hand, the one in use marked."""

    rows: tuple[KitRow, ...]
    removed: Removed | None = None


def address_of(name: str) -> str:
    """Return the address of the page of a kit."""
    return f"/kits/{quote(name, safe='')}"


# ---- the list


def kits_page(house: House, removed: Kit | None = None, was_in_use: bool = False) -> KitsPage:
    """Return the list of the kits; one that was just removed can be made again from it."""
    chosen = chosen_kit(house).name
    rows = tuple(_row(house.workbench, kit, kit.name == chosen) for kit in kits_at_hand(house))
    if removed is None:
        return KitsPage(rows)
    again = (("use", "yes"),) if was_in_use else ()
    return KitsPage(rows, Removed(removed.name, (*KitEntries.of(removed).pairs(), *again)))


def _row(workbench: Workbench, kit: Kit, is_chosen: bool) -> KitRow:
    tests = {i.name: [t for t in i.tests if kit.holds(t)] for i in workbench.instruments}
    declared = {f.key: f for i in workbench.instruments for f in i.fields}
    figures = (
        f"{declared[key].label} {value:g} {declared[key].unit}".strip()
        for key, value in kit.errors.items()
        if key in declared
    )
    minutes = (
        f"{label} {kit.minutes[key]:g} min"
        for instrument in workbench.instruments
        for key, label in _labels(instrument).items()
        if key in kit.minutes
    )
    return KitRow(
        name=kit.name,
        about=kit.about,
        holds=tuple(name for name, held in tests.items() if held),
        figures=(*figures, *minutes),
        is_chosen=is_chosen,
        is_own=kit.name not in KITS,
    )


# ---- the form


def kit_page(
    workbench: Workbench,
    entries: KitEntries,
    name: str = "",
    troubles: Sequence[Trouble] = (),
) -> KitPage:
    """Return the form of the kit of this name, or of a new one, filled in as entered."""
    groups = tuple(_group(i, entries, troubles) for i in workbench.instruments if i.tests)
    is_built_in = name in KITS
    return KitPage(
        title=name or "A kit of your own",
        address=address_of(name) if name and not is_built_in else "/kits/new",
        entries=entries,
        groups=groups,
        mends=_mends(groups, troubles),
        is_own=bool(name) and not is_built_in,
        is_built_in=is_built_in,
    )


def kit_of_entries(
    workbench: Workbench, entries: KitEntries
) -> tuple[Kit | None, tuple[Trouble, ...]]:
    """Return the kit that was entered, or None and everything that is wrong with it."""
    known = {test.field for i in workbench.instruments for test in i.tests}
    own = [field for i in workbench.instruments for field in own_figures(i)]
    holds, found = entries.holds & known, Readings()
    minutes = _read(entries, MINUTES, [_minutes_of(key) for key in sorted(known)], found)
    errors = _read(entries, FIGURE, own, found)
    troubles = [*_name_troubles(entries.name), *found.troubles]
    if not holds:
        troubles.append(Trouble(HOLDS, "a kit holds at least one test: tick what is at hand"))
    if troubles:
        return None, tuple(troubles)
    return Kit(entries.name, entries.about[:LONGEST_ABOUT], holds, minutes, errors), ()


def _read(
    entries: KitEntries, kind: str, declared: Iterable[Field], found: Readings
) -> dict[str, float]:
    """Return the figures of a kind by their record keys; troubles go to ``found``."""
    figures = {}
    for part in declared:
        control = replace(part, key=kind + part.key)
        figure = number_in({control.key: entries.figure(control.key)}, control, found)
        if figure is not None:
            figures[part.key] = figure
    return figures


def own_figures(instrument: Instrument) -> tuple[Field, ...]:
    """Return the figures that belong to the instrument rather than to a stone."""
    keys = {key for field in instrument.fields for key in figures_of(field)}
    return tuple(field for field in instrument.fields if field.key in keys)


def _minutes_of(key: str) -> Field:
    return Field(key, "minutes", "number", "min", SHORTEST_TEST_MIN, LONGEST_TEST_MIN)


def _name_troubles(name: str) -> list[Trouble]:
    if not any(sign.isalnum() for sign in name):
        return [Trouble(NAME, "a kit needs a name, for instance: at the fair")]
    if len(name) > LONGEST_NAME:
        return [Trouble(NAME, f"that is longer than {LONGEST_NAME} signs: shorten it")]
    if "/" in name or not name.isprintable():
        return [Trouble(NAME, "a name is made of words and figures, without a stroke /")]
    if name in RESERVED or name in KITS:
        return [Trouble(NAME, f"'{name}' is taken by the program: give it a name of its own")]
    return []


def name_taken(error: KitNameTakenError) -> Trouble:
    """Return the trouble of a name that another kit has."""
    return Trouble(NAME, str(error))


def _group(
    instrument: Instrument, entries: KitEntries, troubles: Sequence[Trouble]
) -> InstrumentGroup:
    usual = _usual_minutes(instrument)
    tests = tuple(
        TestTick(
            key=key,
            label=label,
            is_held=key in entries.holds,
            minutes=_control(MINUTES, _minutes_of(key), usual[key], entries, troubles),
        )
        for key, label in _labels(instrument).items()
    )
    figures = tuple(
        _control(FIGURE, field, _usual(field), entries, troubles)
        for field in own_figures(instrument)
    )
    return InstrumentGroup(instrument.name, instrument.about, instrument.cautions, tests, figures)


def _control(
    kind: str, field: Field, usual: str, entries: KitEntries, troubles: Sequence[Trouble]
) -> FigureControl:
    key = kind + field.key
    return FigureControl(
        key=key,
        label=field.label,
        unit=field.unit,
        span=f"{field.low:g} to {field.high:g}",
        usual=usual,
        value=entries.figure(key),
        trouble="; ".join(t.message for t in troubles if t.field == key),
    )


def _usual(field: Field) -> str:
    # Without a usual figure it follows from the rest, as a density's error does from the weight.
    return "reckoned" if field.usual is None else f"{field.usual:g}"


def _labels(instrument: Instrument) -> dict[str, str]:
    """Return the tests by the key they fill; where many fill one, it is the instrument's own."""
    labels: dict[str, str] = {}
    for test in instrument.tests:
        labels[test.field] = instrument.name if test.field in labels else test.name
    return labels


def _usual_minutes(instrument: Instrument) -> dict[str, str]:
    by_key: dict[str, set[float]] = {}
    for test in instrument.tests:
        by_key.setdefault(test.field, set()).add(test.minutes)
    return {
        key: " to ".join(f"{minutes:g}" for minutes in sorted({min(times), max(times)}))
        for key, times in by_key.items()
    }


def _mends(groups: Iterable[InstrumentGroup], troubles: Sequence[Trouble]) -> tuple[Mend, ...]:
    labels = {NAME: "its name", HOLDS: "what it holds"}
    of_the_kit = (Mend(labels[t.field], t.field, t.message) for t in troubles if t.field in labels)
    of_figures = (
        Mend(f"{group.name}, {control.label}", control.anchor, control.trouble)
        for group in groups
        for control in (*(test.minutes for test in group.tests), *group.figures)
        if control.trouble
    )
    return (*of_the_kit, *of_figures)
