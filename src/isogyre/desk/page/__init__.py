"""The page of a stone as a typed record: every figure worded, placed and ready to be shown."""

from isogyre.desk.choices import DEFAULT_KIT, DEFAULT_SETTLE, KIT_NAMES, SETTLE_NAMES
from isogyre.desk.identify import identify, next_tests
from isogyre.desk.page.chips import chips
from isogyre.desk.page.forms import Entries, Remarks, record_of, sheets
from isogyre.desk.page.next import first_part, kit_options, next_part, settle_options
from isogyre.desk.page.records import StandingPart, StonePage
from isogyre.desk.page.standing import standing_part
from isogyre.desk.workbench import Workbench
from isogyre.evidence import RecordReading, read_record

__all__ = ["StonePage", "stone_page"]

UNTITLED = "A stone"


def stone_page(
    workbench: Workbench, entries: Entries, kit: str = DEFAULT_KIT, settle: str = DEFAULT_SETTLE
) -> StonePage:
    """Return the page of the stone that was typed in, or of a blank one.

    Nothing typed is lost: what cannot be used stands in its control with the reason beside it.
    A kit or a question that is not known is taken for the usual one.
    """
    kit = kit if kit in KIT_NAMES else DEFAULT_KIT
    settle = settle if settle in SETTLE_NAMES else DEFAULT_SETTLE
    record = record_of(workbench, entries)
    read = read_record(record, workbench.instruments)
    weighable = bool(read.readings) and not read.troubles
    answer = identify(workbench, record, kit, settle) if weighable else None
    standing = standing_part(workbench, answer) if answer else None
    if read.troubles:
        coming = None
    elif answer:
        coming = next_part(answer["next"])
    else:
        coming = first_part(next_tests(workbench, record, kit, settle))
    return StonePage(
        title=entries.get("id", UNTITLED),
        chips=chips(entries.get("colour", "")),
        sheets=sheets(workbench, entries, _remarks(read, standing)),
        troubles=len(read.troubles),
        standing=standing,
        next=coming,
        kits=kit_options(kit),
        settles=settle_options(settle),
        is_blank=not entries,
    )


def _remarks(read: RecordReading, standing: StandingPart | None) -> Remarks:
    suspect = standing.fit.suspect if standing else None
    return Remarks(read.troubles, read.ignored, suspect.field if suspect else "")
