"""The page of a kept stone: its thread of readings, where it stands, what to test next."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from isogyre.desk.choices import DEFAULT_SETTLE, SETTLE_NAMES, Kit
from isogyre.desk.errors import RecordTroubleError
from isogyre.desk.house import House
from isogyre.desk.identify import Identified, identified, next_tests
from isogyre.desk.kits import kit_in_use, kits_at_hand
from isogyre.desk.page.chips import chips
from isogyre.desk.page.facts import facts_in_words, parties_in
from isogyre.desk.page.forms import Remarks
from isogyre.desk.page.how import How, how_numbers_came_about
from isogyre.desk.page.next import (
    first_part,
    kit_options,
    next_part,
    settle_options,
    with_views,
)
from isogyre.desk.page.records import NextPart, Option, StandingPart
from isogyre.desk.page.slips import SheetOnThread, current_of, threaded_sheets
from isogyre.desk.page.standing import capital, standing_part
from isogyre.desk.page.vocabulary import telling_features
from isogyre.desk.standings import is_tested
from isogyre.desk.thread import stone_entries, stone_record
from isogyre.desk.views import View, expected_views, has_picture
from isogyre.desk.workbench import Workbench
from isogyre.evidence import read_record
from isogyre.instruments import Trouble
from isogyre.ledger import Photograph


@dataclass(frozen=True)
class Draft:
    """What was typed into the sheets and could not be kept, with what is wrong with it.

    ``reasons`` and ``notes`` were typed beside the readings, by the names of the instruments.
    """

    entries: Mapping[str, str]
    troubles: tuple[Trouble, ...]
    reasons: Mapping[str, str]
    notes: Mapping[str, str]


@dataclass(frozen=True)
class Mend:
    """An entry that cannot be, and where to mend it."""

    label: str
    anchor: str
    trouble: str


@dataclass(frozen=True)
class KeptPage:
    """Everything on the page of one kept stone; ``standing`` is None until it can be weighed.

    ``contested`` names what two people read at the same time, and differently.
    """

    id: str
    title: str
    claim: str
    is_archived: bool
    chips: tuple[str, ...]
    sheets: tuple[SheetOnThread, ...]
    mends: tuple[Mend, ...]
    contested: tuple[str, ...]
    draft: Draft | None
    standing: StandingPart | None
    next: NextPart
    hows: tuple[How, ...]
    kits: tuple[Option, ...]
    settles: tuple[Option, ...]
    photographs: tuple[Photograph, ...]
    facts: tuple[str, ...]

    @property
    def address(self) -> str:
        """Return where the page lies."""
        return f"/stones/{self.id}"

    @property
    def kit(self) -> str:
        """Return the kit that is chosen."""
        return next(option.value for option in self.kits if option.is_chosen)

    @property
    def settle(self) -> str:
        """Return the question that is chosen."""
        return next(option.value for option in self.settles if option.is_chosen)


def kept_page(
    house: House,
    stone_id: str,
    kit: str = "",
    settle: str = "",
    draft: Draft | None = None,
) -> KeptPage:
    """Return the page of a stone, or raise UnknownEntryError.

    What could not be kept stands in its controls with the reason beside it; the standing is that
    of the readings that are kept. A kit that is not known is taken for the one in use, a question
    for the usual one.
    """
    workbench = house.workbench
    used = kit_in_use(house, kit)
    settle = settle if settle in SETTLE_NAMES else DEFAULT_SETTLE
    with house.ledger.view() as work:
        listed = work.stones.listed(stone_id)
        thread = work.readings.thread(stone_id)
        photographs = work.photographs.of_stone(stone_id)
        parties = work.parties.of(parties_in([listed]))
    record = stone_record(workbench, listed.stone, current_of(thread))
    found = _identified(workbench, record, used, settle)
    answer = found.answer if found else None
    standing = standing_part(workbench, answer) if answer else None
    kept = stone_entries(workbench, record)
    entries = draft.entries if draft else kept
    coming = _next(workbench, record, found, used, settle)
    remarks = _remarks(workbench, record, standing, draft, found)
    sheets = threaded_sheets(workbench, entries, remarks, thread)
    return KeptPage(
        id=stone_id,
        title=listed.stone.name,
        claim=listed.stone.claim,
        is_archived=listed.is_archived,
        chips=chips(kept.get("colour", "")),
        sheets=sheets,
        mends=_mends(sheets),
        contested=_contested(sheets),
        draft=draft,
        standing=standing,
        next=coming,
        hows=how_numbers_came_about(workbench, answer) if answer else (),
        kits=kit_options(used.name, kits_at_hand(house)),
        settles=settle_options(settle),
        photographs=photographs,
        facts=facts_in_words(listed, record, parties),
    )


def _identified(
    workbench: Workbench, record: Mapping[str, object], kit: Kit, settle: str
) -> Identified | None:
    try:
        found = identified(workbench, record, kit, settle)
    except RecordTroubleError:
        return None
    return found if is_tested(found.answer) else None


def _next(
    workbench: Workbench,
    record: Mapping[str, object],
    found: Identified | None,
    kit: Kit,
    settle: str,
) -> NextPart:
    if found:
        return with_views(next_part(found.answer["next"]), _drawn(workbench, record, found))
    try:
        return first_part(next_tests(workbench, record, kit, settle))
    except RecordTroubleError:
        return NextPart((), (), "")


def _drawn(
    workbench: Workbench, record: Mapping[str, object], found: Identified
) -> dict[str, tuple[View, ...]]:
    """Return what the tests proposed would show, by the names of the tests."""
    tests = {test.name: test for i in workbench.instruments for test in i.tests}
    colour, lamp = (str(record.get(key) or "") for key in ("colour", "light"))
    proposed = [test["test"] for test in found.answer["next"]["next"] if has_picture(test["field"])]
    return {
        capital(name): expected_views(
            workbench, tests[name], found.standing, f"view-{number}", colour, lamp
        )
        for number, name in enumerate(proposed)
    }


def _remarks(
    workbench: Workbench,
    record: Mapping[str, object],
    standing: StandingPart | None,
    draft: Draft | None,
    found: Identified | None,
) -> Remarks:
    read = found.read if found else read_record(record, workbench.instruments)
    suspect = standing.fit.suspect if standing else None
    proposed = [test["test"] for test in found.answer["next"]["next"]] if found else []
    return Remarks(
        troubles=draft.troubles if draft else read.troubles,
        ignored=read.ignored,
        suspect=suspect.field if suspect else "",
        telling=telling_features(workbench, proposed),
    )


def _contested(sheets: Sequence[SheetOnThread]) -> tuple[str, ...]:
    """Return of what several readings stand, though only one can count."""
    rival = [(on.sheet.name, slip.label) for on in sheets for slip in on.slips if slip.has_rival]
    return tuple(dict.fromkeys(label or name for name, label in rival))


def _mends(sheets: Sequence[SheetOnThread]) -> tuple[Mend, ...]:
    return tuple(
        Mend(control.label, control.anchor, control.trouble)
        for on_thread in sheets
        for control in on_thread.sheet.controls
        if control.trouble
    )
