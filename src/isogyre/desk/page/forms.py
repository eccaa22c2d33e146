"""The instruments' declared fields as plain form records, and what was typed as a record.

No page names an instrument: what can be entered, in which unit and range and with which caution,
is rendered from the declaration alone.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from isogyre.desk.page.chips import chips
from isogyre.desk.page.palettes import PALETTES, Palette
from isogyre.desk.page.scale import DrawnScale, ReadingScale, reading_scale
from isogyre.desk.page.vocabulary import FeatureGroup, vocabulary
from isogyre.desk.workbench import Workbench
from isogyre.evidence import SETTINGS, fields_of
from isogyre.instruments import Field, Ignored, Instrument, Readings, Trouble
from isogyre.instruments.entry import NotANumberError, parse_number

# What somebody typed, under the key of its control.
Entries = Mapping[str, str]
State = Literal["unread", "read", "misfit", "uncounted", "cannot"]

THE_STONE = Instrument(
    name="the stone",
    fields=(
        Field("id", "its name or number", "words"),
        Field("met", "where it was met", "choice", choices=tuple(SETTINGS)),
    ),
    # It describes: nothing on this sheet is weighed by itself.
    read=lambda record: Readings(),
    about="Where a stone was met says how often each kind turns up there, before any reading.",
)
# Longer lists of choices open as a menu instead of lying side by side.
MOST_SIDE_BY_SIDE = 5
LONGEST_LINE, LONGEST_TEXT = 400, 4000
# A comma before one or two digits is a decimal comma; before three it parts two wavelengths.
BETWEEN_NUMBERS = re.compile(r"[;\s]+|,(?!\d{1,2}(?!\d))\s*")


@dataclass(frozen=True)
class Control:
    """One thing to enter: its word, what may be entered, and what was typed."""

    key: str
    label: str
    shape: Literal["number", "line", "text", "row", "menu", "tick"]
    unit: str = ""
    low: float | None = None
    high: float | None = None
    step: float | None = None
    choices: tuple[str, ...] = ()
    hint: str = ""
    caution: str = ""
    longest: int = LONGEST_LINE
    value: str = ""
    trouble: str = ""
    notes: tuple[str, ...] = ()
    drawn: tuple[float, float] | None = None
    above: str = ""
    scale: DrawnScale | None = None
    palette: Palette | None = None
    # Features to find and put into this control or, of two such controls, into either.
    vocabulary: tuple[FeatureGroup, ...] = ()
    boxes: tuple[str, ...] = ()
    # Id of the list of words on the same page that is offered while one types.
    offered: str = ""
    is_seldom: bool = False

    @property
    def anchor(self) -> str:
        """Return the id that links and labels point to."""
        return anchor_of(self.key)

    @property
    def is_folded(self) -> bool:
        """Whether the control stays folded away: it is seldom needed, and nothing stands in it."""
        return self.is_seldom and not (self.value or self.trouble or self.notes)

    @property
    def span(self) -> str:
        """Return the allowed range in words, or nothing where there is none."""
        if self.low is None or self.high is None:
            return ""
        return f"{self.low:g} to {self.high:g}"

    @property
    def short(self) -> str:
        """Return what a word of the vocabulary becomes when it is put into this control."""
        return "not seen" if "not seen" in self.label else "seen"

    @property
    def is_signed(self) -> bool:
        """Whether a minus may be typed, which a phone's pad of figures does not offer."""
        return self.low is not None and self.low < 0


@dataclass(frozen=True)
class Shown:
    """An entry in short; the label is empty where the sheet's name says it already."""

    label: str
    text: str
    chips: tuple[str, ...] = ()


@dataclass(frozen=True)
class Sheet:
    """What one instrument asks, and what has been entered in it."""

    name: str
    anchor: str
    about: str
    cautions: tuple[str, ...]
    controls: tuple[Control, ...]
    state: State
    word: str
    shown: tuple[Shown, ...]
    scale: ReadingScale | None = None


@dataclass(frozen=True)
class Remarks:
    """What is to be said beside the controls: troubles, entries not counted, the misfit.

    ``telling`` names features that would tell most now, best first.
    """

    troubles: Sequence[Trouble] = ()
    ignored: Sequence[Ignored] = ()
    suspect: str = ""
    telling: Sequence[str] = ()


def sheets(
    workbench: Workbench, entries: Entries, remarks: Remarks | None = None
) -> tuple[Sheet, ...]:
    """Return a sheet for the stone itself and one for every instrument, in bench order."""
    said = remarks or Remarks()
    return tuple(_sheet(workbench, i, entries, said) for i in _instruments(workbench))


def entries_in(workbench: Workbench, typed: Iterable[tuple[str, str]]) -> dict[str, str]:
    """Return of what was sent only what some control asks for, blank entries left out."""
    keys = {key for i in _instruments(workbench) for f in i.fields for key, _ in leaves(f)}
    return {key: text.strip() for key, text in typed if key in keys and text.strip()}


def record_of(workbench: Workbench, entries: Entries) -> dict[str, Any]:
    """Return the record that the typed entries make."""
    fields = (f for instrument in _instruments(workbench) for f in instrument.fields)
    values = {f.key: _value(f, entries) for f in fields}
    return {key: value for key, value in values.items() if value}


def owner_of(workbench: Workbench, key: str) -> str:
    """Return the name of the instrument that reads ``key``, or the key itself."""
    owners = {f.key: i.name for i in _instruments(workbench) for f in i.fields}
    return owners.get(key, key)


def origin_of(workbench: Workbench, key: str) -> str:
    """Return where a reading comes from: of phrases the question asked, else the instrument."""
    declared = fields_of(_instruments(workbench)).get(key)
    asked = declared is not None and declared.kind == "phrases"
    return declared.label if declared and asked else owner_of(workbench, key)


def anchor_of(key: str) -> str:
    """Return the id of a control, by its key in a record."""
    return "enter-" + key.replace(".", "-")


def _instruments(workbench: Workbench) -> tuple[Instrument, ...]:
    return (THE_STONE, *workbench.instruments)


def leaves(declared: Field) -> list[tuple[str, Field]]:
    """Return what is typed for a field: itself, or each part of an object."""
    if declared.kind != "object":
        return [(declared.key, declared)]
    return [(f"{declared.key}.{part.key}", part) for part in declared.parts]


def _value(declared: Field, entries: Entries) -> Any:
    if declared.kind == "object":
        typed = {
            p.key: entries.get(key, "")
            for p, (key, _) in zip(declared.parts, leaves(declared), strict=True)
        }
        return {key: text for key, text in typed.items() if text}
    text = entries.get(declared.key, "")
    if declared.kind == "phrases":
        return [phrase.strip() for phrase in re.split(r"[;\n]", text) if phrase.strip()]
    if declared.kind == "numbers":
        return [number for number in BETWEEN_NUMBERS.split(text) if number]
    return text


def _sheet(
    workbench: Workbench, instrument: Instrument, entries: Entries, remarks: Remarks
) -> Sheet:
    single = [c for f in instrument.fields for c in controls_of(f, entries, remarks)]
    controls = _with_vocabulary(workbench, _with_scales(single), remarks.telling)
    state, word = _state(instrument, controls, remarks)
    return Sheet(
        name=instrument.name,
        anchor="with-" + instrument.name.replace(" ", "-"),
        about=instrument.about,
        cautions=instrument.cautions,
        controls=controls,
        state=state,
        word=word,
        shown=tuple(_shown(control, instrument) for control in controls if control.value),
        scale=_scale(controls),
    )


def controls_of(declared: Field, entries: Entries, remarks: Remarks) -> list[Control]:
    """Return what is to be entered for a field: one control, or one for each part of it."""
    troubles = [t.message for t in remarks.troubles if t.field == declared.key]
    notes = [f"{i.value}: {i.reason}" for i in remarks.ignored if i.field == declared.key]
    controls = []
    for key, leaf in leaves(declared):
        controls.append(_control(key, leaf, entries.get(key, ""), troubles, notes))
        # What is said about an object as a whole stands beside its first part.
        troubles, notes = [], []
    return controls


def _control(
    key: str, leaf: Field, value: str, troubles: Sequence[str], notes: Sequence[str]
) -> Control:
    # A word that is no choice was typed somewhere all the same: it stays, with its trouble.
    unknown = (value,) if leaf.choices and value and value not in leaf.choices else ()
    return Control(
        key=key,
        label=leaf.label,
        shape=_shape(leaf),
        unit=leaf.unit,
        low=leaf.low,
        high=leaf.high,
        step=leaf.step,
        choices=(*leaf.choices, *unknown),
        hint=leaf.hint,
        caution=leaf.caution,
        longest=LONGEST_TEXT if leaf.kind == "phrases" else LONGEST_LINE,
        value=value,
        trouble="; ".join(troubles),
        notes=tuple(notes),
        drawn=leaf.drawn,
        above=leaf.above,
        palette=PALETTES.get(leaf.words),
        is_seldom=leaf.is_seldom,
    )


def _with_scales(controls: Sequence[Control]) -> tuple[Control, ...]:
    """Give each figure that is read off a scale its scale, two that share one to the upper."""
    lower = {upper.above for upper in controls if upper.above}

    def drawn(c: Control) -> DrawnScale | None:
        if c.drawn is None or c.low is None or c.high is None or c.step is None or c.key in lower:
            return None
        sharing = [other for other in controls if other.key in (c.above, c.key)]
        anchors = tuple(other.anchor for other in sharing)
        names = tuple(other.label for other in sharing)
        return DrawnScale(anchors, names, c.low, c.high, c.step, *c.drawn)

    return tuple(replace(control, scale=drawn(control)) for control in controls)


def _with_vocabulary(
    workbench: Workbench, controls: Sequence[Control], telling: Sequence[str]
) -> tuple[Control, ...]:
    """Put the features under the last control that takes phrases, for all that take them."""
    taking = [control for control in controls if control.shape == "text"]
    if not taking:
        return tuple(controls)
    found = replace(
        taking[-1],
        vocabulary=vocabulary(workbench, telling),
        boxes=tuple(control.anchor for control in taking),
    )
    return tuple(found if control is taking[-1] else control for control in controls)


def _shape(leaf: Field) -> Literal["number", "line", "text", "row", "menu", "tick"]:
    if leaf.kind == "choice":
        if len(leaf.choices) == 1:
            return "tick"
        return "row" if len(leaf.choices) <= MOST_SIDE_BY_SIDE else "menu"
    if leaf.kind == "number":
        return "number"
    return "text" if leaf.kind == "phrases" else "line"


def _state(
    instrument: Instrument, controls: Sequence[Control], remarks: Remarks
) -> tuple[State, str]:
    entered = [control for control in controls if control.value]
    if any(control.trouble for control in controls):
        return "cannot", "cannot be"
    if instrument is THE_STONE:
        return ("read", "said") if entered else ("unread", "not said yet")
    if not entered:
        return "unread", "not looked for yet"
    if remarks.suspect in {declared.key for declared in instrument.fields}:
        return "misfit", "look again"
    if all(control.notes for control in entered):
        return "uncounted", "does not count"
    return "read", "read"


def _shown(control: Control, instrument: Instrument) -> Shown:
    if control.shape == "tick":
        return Shown("", control.label)
    text = f"{control.value} {control.unit}".strip().replace("\n", "; ")
    names_a_colour = control.shape == "line" and instrument is not THE_STONE
    return Shown(
        label="" if control.label == instrument.name else control.label,
        text=text,
        chips=chips(control.value) if names_a_colour else (),
    )


def _scale(controls: Sequence[Control]) -> ReadingScale | None:
    """Return the scale that several figures of a sheet are read on, if any is read on it."""
    scales: dict[tuple[float, float, float], list[Control]] = {}
    for control in controls:
        if control.low is not None and control.high is not None and control.step is not None:
            scales.setdefault((control.low, control.high, control.step), []).append(control)
    for (low, high, step), sharing in scales.items():
        figures = [f for control in sharing if (f := _figure(control, low, high)) is not None]
        if len(sharing) > 1 and figures:
            return reading_scale(sorted(figures), step, low, high)
    return None


def _figure(control: Control, low: float, high: float) -> float | None:
    try:
        figure = parse_number(control.value)
    except NotANumberError:
        return None
    return figure if low <= figure <= high else None
