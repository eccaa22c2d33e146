"""The demo bench: an invented bench of some weeks, put into a ledger that holds no stone yet."""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

from isogyre.desk.house import House
from isogyre.desk.standings import reweigh
from isogyre.desk.thread import STATES
from isogyre.evidence import fields_of
from isogyre.ledger import (
    Custody,
    Damage,
    Money,
    Party,
    Reading,
    Stone,
    StoneFilter,
    TakeIn,
)
from isogyre.ledger.ledger import Work

SCENARIO = Path(__file__).parent / "data" / "demo.toml"
# What is told or weighed when a stone comes in, before anybody sits down to it.
ON_ENTRY = ("claim", "weight_ct")
Part = Mapping[str, Any]


class BenchNotEmptyError(ValueError):
    """The ledger holds stones already, and invented ones must not be mixed with them."""

    def __init__(self, stones: int) -> None:
        kept = "a stone" if stones == 1 else f"{stones} stones"
        super().__init__(
            f"this bench holds {kept} already, nothing was loaded: the demo is invented and goes "
            "into an empty bench only; name a new folder"
        )


@dataclass(frozen=True)
class DemoCount:
    """What was loaded."""

    stones: int
    readings: int
    parties: int
    take_ins: int


def load_demo(house: House, now: datetime) -> DemoCount:
    """Put the demo bench into an empty ledger, all of it or nothing, and weigh its stones.

    Parameters
    ----------
    now
        The aware time from which everything counts back; nothing is entered later than that.

    Raises
    ------
    BenchNotEmptyError
        If the ledger holds a stone, archived ones too.
    LedgerError
        If the ledger cannot keep it; then nothing is kept.
    """
    script = demo_script()
    with house.ledger.session() as work:
        if kept := work.stones.count(StoneFilter(archived=None)):
            raise BenchNotEmptyError(kept)
        loader = _Loader(house, work, now, script)
        for party in script["party"]:
            loader.enter_party(party)
        for stone in script["stone"]:
            loader.enter_stone(stone)
    reweigh(house, loader.stone_ids)
    return DemoCount(
        stones=len(loader.stone_ids),
        readings=loader.readings,
        parties=len(loader.parties),
        take_ins=loader.take_ins,
    )


def demo_script() -> dict[str, Any]:
    """Return the demo bench as it is written down."""
    return tomllib.loads(SCENARIO.read_text("utf-8"))


class _Loader:
    """Turns what is written down into entries of the ledger, inside one unit of work."""

    def __init__(self, house: House, work: Work, now: datetime, script: Part) -> None:
        self._house, self._work, self._now, self._script = house, work, now, script
        instruments = house.workbench.instruments
        self._owner = {field.key: i.name for i in instruments for field in i.fields}
        self._fields = fields_of(instruments)
        self.parties: dict[str, str] = {}
        self.stone_ids: list[str] = []
        self.readings = self.take_ins = 0

    def enter_party(self, part: Part) -> None:
        """Enter somebody under the key by which stones name him."""
        named = self.parties[part["key"]] = self._house.new_id()
        given = {key: value for key, value in part.items() if key != "key"}
        self._work.parties.enter(Party(id=named, **given))

    def enter_stone(self, part: Part) -> None:
        """Enter a stone with its readings, whereabouts and take-in."""
        stone_id = self._house.new_id()
        self.stone_ids.append(stone_id)
        self._work.stones.enter(self._stone(stone_id, part), by=self._by)
        readings = [*self._on_entry(stone_id, part), *self._thread(stone_id, part)]
        self._work.readings.append(*readings)
        self.readings += len(readings)
        self._work.custody.append(*self._custody(stone_id, part))
        if "take_in" in part:
            self._work.take_ins.append(self._take_in(stone_id, part))
            self.take_ins += 1
        if "archived" in part:
            self._work.stones.archive(stone_id, at=self._moment(part["archived"]), by=self._by)

    # ---- times and sums ----------------------------------------------------------------------

    @property
    def _by(self) -> str:
        return str(self._script["by"])

    def _moment(self, part: Part) -> datetime:
        """Return so many days ago, at a time of day."""
        day = self._now.date() - timedelta(days=part["days_ago"])
        return datetime.combine(day, part["at"], self._now.tzinfo)

    def _due(self, part: Part) -> date | None:
        days = part.get("due_in_days")
        return None if days is None else self._now.date() + timedelta(days=days)

    def _money(self, whole: int | None) -> Money | None:
        return None if whole is None else Money(100 * whole, self._script["currency"])

    # ---- entries -----------------------------------------------------------------------------

    def _stone(self, stone_id: str, part: Part) -> Stone:
        length, width, depth = (*part.get("measures_mm", ()), None, None, None)[:3]
        plain = ("name", "kind", "form", "count", "place", "where_met", "met", "claim", "note")
        return Stone(
            id=stone_id,
            created_at=self._moment(part["entered"]),
            length_mm=length,
            width_mm=width,
            depth_mm=depth,
            asking=self._money(part.get("asking")),
            asking_per=part.get("asked_per"),
            **{key: part[key] for key in plain if key in part},
        )

    def _on_entry(self, stone_id: str, part: Part) -> Iterator[Reading]:
        for key in ON_ENTRY:
            if key in part:
                yield self._reading(stone_id, key, part[key], self._moment(part["entered"]))

    def _thread(self, stone_id: str, part: Part) -> Iterator[Reading]:
        """Yield what each sitting read, some minutes apart, and what it put right."""
        newest: dict[str, str] = {}
        for sitting in part.get("sitting", ()):
            at = self._moment(sitting)
            for key, value in self._looks(sitting.get("read", {})):
                reading = self._reading(stone_id, key, value, at)
                newest[key] = reading.id
                yield reading
                at += timedelta(minutes=self._script["minutes_a_reading"])
            for key, right in sitting.get("correct", {}).items():
                yield self._reading(stone_id, key, at=at, supersedes=newest[key], **right)

    def _looks(self, read: Part) -> Iterator[tuple[str, Any]]:
        """Yield key and value of each reading: every phrase is one."""
        for key, value in read.items():
            are_phrases = self._fields[key].kind == "phrases"
            yield from ((key, each) for each in (value if are_phrases else [value]))

    def _reading(
        self, stone_id: str, key: str, value: Any, at: datetime, **correction: str
    ) -> Reading:
        usual = self._script["usual"].get(key, {})
        return Reading(
            id=self._house.new_id(),
            stone_id=stone_id,
            field=key,
            value=value,
            taken_at=at,
            taken_by=self._by,
            state=STATES.get(key, "seen"),
            error=usual.get("error"),
            light=usual.get("light", ""),
            instrument=self._owner[key],
            **correction,
        )

    def _custody(self, stone_id: str, part: Part) -> Iterator[Custody]:
        for step in part["custody"]:
            yield Custody(
                id=self._house.new_id(),
                stone_id=stone_id,
                holding=step["holding"],
                since=self._moment({"at": part["entered"]["at"], **step}),
                party_id=self.parties[step["party"]] if "party" in step else None,
                due=self._due(step),
                note=step.get("note", ""),
            )

    def _take_in(self, stone_id: str, part: Part) -> TakeIn:
        taken = part["take_in"]
        received_at = self._moment(part["entered"])
        return TakeIn(
            id=self._house.new_id(),
            receipt=f"{received_at.year}-{taken['receipt']}",
            stone_id=stone_id,
            party_id=self.parties[part["custody"][0]["party"]],
            received_at=received_at,
            received_by=self._by,
            description=taken["description"],
            weight_g=taken["weight_g"],
            value=self._money(taken["value"]),
            value_note=taken["value_note"],
            risk_note=taken["risk_note"],
            note=taken["note"],
            damage=tuple(Damage(**mark) for mark in taken["damage"]),
        )
