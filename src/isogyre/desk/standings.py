"""Where kept stones stand: reckoned once for each revision, and noted so that the list can tell."""

import logging
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from isogyre.desk.answers import IdentifyAnswer
from isogyre.desk.choices import DEFAULT_KIT, Kit
from isogyre.desk.errors import RecordTroubleError
from isogyre.desk.house import House
from isogyre.desk.identify import identify
from isogyre.desk.page.forms import owner_of
from isogyre.desk.page.standing import fit_in_words
from isogyre.desk.thread import ALSO_OF_THE_STONE, stone_record
from isogyre.ledger import LedgerError, ListedStone, Reading, StandingNote
from isogyre.ledger.ledger import Work

log = logging.getLogger(__name__)

# A stone is settled for the list when its name and its growth are about this sure.
SETTLED = 0.9
AT_A_TIME = 50


@dataclass(frozen=True)
class Weighed:
    """A stone with its readings and, if they can be weighed, the answer."""

    listed: ListedStone
    readings: tuple[Reading, ...]
    record: dict[str, Any]
    answer: IdentifyAnswer | None


def weigh(house: House, stone_id: str, kit: str | Kit = DEFAULT_KIT) -> Weighed:
    """Return where a stone stands now, or raise UnknownEntryError."""
    with house.ledger.view() as work:
        listed = work.stones.listed(stone_id)
        readings = work.readings.current(stone_id)
    return _weighed(house, listed, readings, kit)


def reweigh(house: House, stone_ids: Sequence[str], kit: str | Kit = DEFAULT_KIT) -> None:
    """Weigh stones and note where they stand."""
    with house.ledger.view() as work:
        listed = [work.stones.listed(stone_id) for stone_id in stone_ids]
        readings = work.readings.current_of(stone_ids)
    weighed = [_weighed(house, stone, readings[stone.stone.id], kit) for stone in listed]
    notes = [note_of(house, stone) for stone in weighed]
    with house.ledger.session() as work:
        _put(work, notes)


def note_afresh(house: House, stone_ids: Sequence[str]) -> None:
    """Weigh stones after a change that is kept already.

    A note that cannot be written now must not make the change look lost, and be sent again; the
    stone counts as not weighed until it is changed again, or the program starts anew.
    """
    try:
        reweigh(house, stone_ids)
    except LedgerError as error:
        log.warning("%s not weighed again: %s", ", ".join(stone_ids), error)


def reweigh_stale(
    house: House, kit: str | Kit = DEFAULT_KIT, told: Callable[[int], bool] = lambda left: True
) -> int:
    """Weigh every stone whose note is not of now; return how many were weighed.

    ``told`` hears how many are left, and says whether to go on.
    """
    done = 0
    while True:
        with house.ledger.view() as work:
            left = work.standings.count_stale(house.made_by)
            stale = work.standings.stale(house.made_by, AT_A_TIME)
        if not stale or not told(left):
            return done
        reweigh(house, stale, kit)
        done += len(stale)


def note_of(house: House, weighed: Weighed) -> StandingNote:
    """Return what the list shows of a stone's standing."""
    blank = StandingNote(
        stone_id=weighed.listed.stone.id,
        revision=weighed.listed.revision,
        made_by=house.made_by,
        made_at=house.now(),
        leader="",
        leader_probability=0.0,
        name="",
        origin="",
        origin_probability=0.0,
        treatment="",
        treatment_probability=0.0,
        is_open=True,
        does_not_fit=False,
        awaits="",
        next_test="",
    )
    answer = weighed.answer
    return _filled(house, blank, answer) if answer and is_tested(answer) else blank


def is_tested(answer: IdentifyAnswer) -> bool:
    """Return whether anything was weighed but what the seller says: that alone is no standing."""
    return any(weight["field"] not in ALSO_OF_THE_STONE for weight in answer["weights"])


def _filled(house: House, blank: StandingNote, answer: IdentifyAnswer) -> StandingNote:
    leader = answer["species"][0]
    origin, origin_share = _first(answer["origin"])
    treatment, treatment_share = _first(answer["treated"])
    *_, is_strained = fit_in_words(answer["misfit"], leader["name"])
    is_open = leader["probability"] < SETTLED or origin_share < SETTLED
    coming = answer["next"]["next"] if is_open else []
    return replace(
        blank,
        leader=leader["name"],
        leader_probability=leader["probability"],
        name=answer["candidates"][0]["trade_name"] if answer["candidates"] else leader["name"],
        origin=origin,
        origin_probability=origin_share,
        treatment=treatment,
        treatment_probability=treatment_share,
        is_open=is_open,
        does_not_fit=is_strained,
        awaits=owner_of(house.workbench, coming[0]["field"]) if coming else "",
        next_test=coming[0]["test"] if coming else "",
    )


def _first(shares: dict[str, float]) -> tuple[str, float]:
    return next(iter(shares.items()))


def _put(work: Work, notes: Sequence[StandingNote]) -> None:
    for note in notes:
        work.standings.put(note)


def _weighed(
    house: House, listed: ListedStone, readings: tuple[Reading, ...], kit: str | Kit
) -> Weighed:
    record = stone_record(house.workbench, listed.stone, readings)
    try:
        answer = identify(house.workbench, record, kit)
    except RecordTroubleError:
        # Nothing to weigh yet, or entries that an older version let in.
        answer = None
    return Weighed(listed, readings, record, answer)
