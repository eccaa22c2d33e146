"""The forms in which a stone is entered, described anew and handed on."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from isogyre.desk.entering import (
    AT_THE_COUNTER,
    DETAILS,
    LATER,
    currency_of,
    known_claims,
    typed_of_stone,
)
from isogyre.desk.house import House
from isogyre.desk.page.facts import custody_in_words
from isogyre.desk.page.forms import Control, Remarks, controls_of
from isogyre.evidence import fields_of
from isogyre.instruments import Field, Trouble
from isogyre.ledger import Custody, Party
from isogyre.ledger.values import HOLDINGS

Typed = Mapping[str, str]
# Lists of words that a page offers beside a control, by the key of the control.
OFFERED = {"claim": "claims"}


@dataclass(frozen=True)
class NewStonePage:
    """The form of a new stone: what is asked at the counter, and what can wait."""

    first: tuple[Control, ...]
    later: tuple[Control, ...]
    claims: tuple[str, ...]
    currency: str
    mends: tuple[Control, ...]

    @property
    def is_unfolded(self) -> bool:
        """Whether something stands in the folded part."""
        return any(control.value or control.trouble for control in self.later)


@dataclass(frozen=True)
class CustodyForm:
    """Whose a stone is now, where it has been, and the form that hands it on."""

    now: str
    history: tuple[str, ...]
    holdings: tuple[str, ...]
    parties: tuple[str, ...]
    typed: Typed
    troubles: Mapping[str, str]


@dataclass(frozen=True)
class DetailsPage:
    """The form that describes a kept stone anew, and the one that hands it on."""

    id: str
    title: str
    is_archived: bool
    controls: tuple[Control, ...]
    claims: tuple[str, ...]
    mends: tuple[Control, ...]
    custody: CustodyForm


def new_stone_page(
    house: House, typed: Typed | None = None, troubles: Sequence[Trouble] = ()
) -> NewStonePage:
    """Return the form of a new stone, with what was typed and what is wrong with it."""
    said = typed or {}
    colour = fields_of(house.workbench.instruments)["colour"]
    first = _controls((*AT_THE_COUNTER, colour), said, troubles)
    later = _controls(LATER, said, troubles)
    return NewStonePage(
        first=first,
        later=later,
        claims=tuple(known_claims(house)),
        currency=currency_of(house),
        mends=_mends((*first, *later)),
    )


def details_page(
    house: House,
    stone_id: str,
    typed: Typed | None = None,
    troubles: Sequence[Trouble] = (),
    handed: Typed | None = None,
) -> DetailsPage:
    """Return the forms about a kept stone, or raise UnknownEntryError.

    ``typed`` was typed into the description and ``handed`` into the custody form, if either
    could not be kept; ``troubles`` say why.
    """
    with house.ledger.view() as work:
        listed = work.stones.listed(stone_id)
        history = work.custody.history(stone_id)
        parties = work.parties.all()
    controls = _controls(DETAILS, typed or typed_of_stone(listed.stone), troubles)
    return DetailsPage(
        id=stone_id,
        title=listed.stone.name,
        is_archived=listed.is_archived,
        controls=controls,
        claims=tuple(known_claims(house)),
        mends=_mends(controls),
        custody=_custody(history, parties, handed or {}, troubles),
    )


def _custody(
    history: Sequence[Custody],
    parties: Sequence[Party],
    typed: Typed,
    troubles: Sequence[Trouble],
) -> CustodyForm:
    by_id = {party.id: party for party in parties}
    told = [
        f"{custody_in_words(entry, by_id)} (since {entry.since.day} {entry.since:%b %Y})"
        for entry in reversed(history)
    ]
    return CustodyForm(
        now=told[0] if told else "not said",
        history=tuple(told[1:]),
        holdings=HOLDINGS,
        parties=tuple(dict.fromkeys(party.name for party in parties)),
        typed=typed,
        troubles={trouble.field: trouble.message for trouble in troubles},
    )


def _controls(
    fields: Sequence[Field], typed: Typed, troubles: Sequence[Trouble]
) -> tuple[Control, ...]:
    remarks = Remarks(troubles=troubles)
    controls = (control for field in fields for control in controls_of(field, typed, remarks))
    return tuple(replace(c, offered=OFFERED.get(c.key, "")) for c in controls)


def _mends(controls: Sequence[Control]) -> tuple[Control, ...]:
    return tuple(control for control in controls if control.trouble)
