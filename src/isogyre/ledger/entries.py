"""What goes into the ledger and comes out of it: plain frozen records.

Ids and times are handed in; an id is a text that sorts by age. Times are aware and come back in
UTC. Free text that was not given is empty, not None.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from datetime import date, datetime
from typing import Any

from isogyre.ledger.values import (
    AskedPer,
    DamageKind,
    EventKind,
    Holding,
    Money,
    Ownership,
    PartyKind,
    ReadingState,
    Severity,
    StoneForm,
    StoneKind,
    Verdict,
    require_json,
    require_keepable,
)


class Entry:
    """What every entry shares: it is refused at once if it could not be kept unchanged.

    Raises
    ------
    NaiveTimeError
        If a time has no time zone.
    UnkeepableError
        If a number is not finite or a text is no text.
    """

    def __post_init__(self) -> None:
        for part in fields(self):  # type: ignore[arg-type]
            require_keepable(getattr(self, part.name))


@dataclass(frozen=True, kw_only=True)
class Stone(Entry):
    """A stone, a ring, another piece or a parcel.

    ``name`` is the short name or number the user sees; ``count`` is for parcels; ``where_met`` is
    free text and ``met`` one of the settings of the prior. Measures are above 0, in mm. The
    asking price and what it is asked per are given together or not at all.
    """

    id: str
    name: str
    created_at: datetime
    kind: StoneKind = "stone"
    form: StoneForm | None = None
    length_mm: float | None = None
    width_mm: float | None = None
    depth_mm: float | None = None
    count: int | None = None
    place: str = ""
    where_met: str = ""
    met: str = ""
    claim: str = ""
    asking: Money | None = None
    asking_per: AskedPer | None = None
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class StoneEvent(Entry):
    """What happened to a stone's entry; ``changes`` gives old and new value of what was amended."""

    stone_id: str
    kind: EventKind
    at: datetime
    by: str
    changes: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class StandingNote(Entry):
    """What was made of a stone's readings: a reckoning, replaced when it is made again.

    ``revision`` is the stone's as it was seen together with the readings, ``made_by`` tells the
    catalogue and the program that reckoned. ``leader`` is a species, empty if nothing could be
    weighed, ``name`` its trade name; probabilities are 0 to 1. ``awaits`` names the instrument of
    the next test and ``next_test`` says the test in words; both are empty if there is none.
    """

    stone_id: str
    revision: int
    made_by: str
    made_at: datetime
    leader: str
    leader_probability: float
    name: str
    origin: str
    origin_probability: float
    treatment: str
    treatment_probability: float
    is_open: bool
    does_not_fit: bool
    awaits: str
    next_test: str


@dataclass(frozen=True, kw_only=True)
class Party(Entry):
    """A client, a dealer, a setter or a laboratory."""

    id: str
    name: str
    kind: PartyKind
    contact: str = ""
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Custody(Entry):
    """Whose a stone is, or to whom it went; ``due`` is a date in local life, not a moment."""

    id: str
    stone_id: str
    holding: Holding
    since: datetime
    party_id: str | None = None
    due: date | None = None
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Reading(Entry):
    """One reading of a stone, under its key in the record.

    ``value`` is anything JSON can hold, ``error`` one standard deviation in the field's own unit,
    ``light`` the lamp it was read in. A correction names the reading it ``supersedes``, of the
    same stone and field, and the ``reason``; so does a withdrawal, whose value is None.
    """

    id: str
    stone_id: str
    field: str
    value: Any
    taken_at: datetime
    taken_by: str
    state: ReadingState = "seen"
    error: float | None = None
    light: str = ""
    instrument: str = ""
    note: str = ""
    supersedes: str | None = None
    reason: str = ""

    def __post_init__(self) -> None:
        super().__post_init__()
        require_json(self.value)


@dataclass(frozen=True, kw_only=True)
class Photograph(Entry):
    """A photograph of a stone; its bytes lie in the photo store under ``sha256``."""

    id: str
    stone_id: str
    sha256: str
    media_type: str
    width_px: int
    height_px: int
    added_at: datetime
    taken_at: datetime | None = None
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Damage(Entry):
    """One mark of damage; ``place`` says in words where it is."""

    kind: DamageKind
    place: str
    severity: Severity
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class TakeIn(Entry):
    """A client's piece as it was received: described, weighed, photographed.

    ``receipt`` is the number on the receipt, unique. Value and risk agreed are free text, with
    an amount where one was named. ``photographs`` are ids of photographs of the stone.
    """

    id: str
    receipt: str
    stone_id: str
    party_id: str
    received_at: datetime
    received_by: str
    description: str = ""
    weight_g: float | None = None
    value: Money | None = None
    value_note: str = ""
    risk: Money | None = None
    risk_note: str = ""
    note: str = ""
    damage: tuple[Damage, ...] = ()
    photographs: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class ReturnCheck(Entry):
    """What came back, compared with what was taken in."""

    id: str
    take_in_id: str
    checked_at: datetime
    checked_by: str
    verdict: Verdict
    weight_g: float | None = None
    note: str = ""
    damage: tuple[Damage, ...] = ()
    photographs: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Kit(Entry):
    """A named set of record keys, with minutes and errors where they differ from the usual."""

    name: str
    fields: tuple[str, ...]
    minutes: Mapping[str, float] = field(default_factory=dict)
    errors: Mapping[str, float] = field(default_factory=dict)
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class StoneFilter(Entry):
    """Which stones to list; what is not given does not narrow.

    Every one of the ``words`` stands somewhere in name, claim, note or place, in capitals or not.
    ``whose`` looks at the newest ownership, ``holding`` at the newest custody entry of any kind,
    ``party_id`` and ``due_before`` at both. ``place`` is where it lies, word for word. ``has`` and
    ``lacks`` are fields with and without a current reading. ``archived`` None lists both.

    ``is_open``, ``does_not_fit``, ``awaits`` (an instrument's name as it is noted) and ``leader``
    (words that stand in the species, in capitals or not) ask for what the note of the standing
    says. Only a note of the stone's current revision counts, whoever made it: a stone that was
    read or amended since its note was made is found by none of these, neither by yes nor by no.
    """

    words: str = ""
    kind: StoneKind | None = None
    whose: Ownership | None = None
    holding: Holding | None = None
    party_id: str | None = None
    due_before: date | None = None
    place: str = ""
    has: tuple[str, ...] = ()
    lacks: tuple[str, ...] = ()
    archived: bool | None = False
    is_open: bool | None = None
    does_not_fit: bool | None = None
    awaits: str = ""
    leader: str = ""


@dataclass(frozen=True)
class ListedStone:
    """A stone as it stands in the list.

    ``revision`` grows with every reading and every change of the entry: what was computed from
    them may be kept under it. ``custody`` is the newest entry, ``ownership`` the newest that says
    whose the stone is. ``note`` is the last of the standing, or None; it may be of an older
    revision, or made by another catalogue.
    """

    stone: Stone
    revision: int
    is_archived: bool
    custody: Custody | None
    ownership: Custody | None
    note: StandingNote | None


@dataclass(frozen=True)
class StonePage:
    """One page of the list, newest first; ``after`` asks for the next, or is None at the end."""

    stones: tuple[ListedStone, ...]
    after: str | None
