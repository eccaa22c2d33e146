"""What was appended stays: there is no method to change it, and the database refuses to."""

from dataclasses import fields

import pytest
from sqlalchemy import create_engine, exc, inspect, text

from isogyre.ledger import Damage, ReturnCheck
from isogyre.ledger.readings import Readings
from isogyre.ledger.tables import APPEND_ONLY, NEVER_DELETED, Base
from tests.ledger.conftest import NOW
from tests.ledger.made import PHOTOGRAPH, custody, reading, take_in

# A change of each table that no other rule would refuse.
CHANGES = {
    "stone_events": "by = 'somebody else'",
    "custody": "note = 'never'",
    "readings": "value = '1.5'",
    "photographs": "note = 'another stone'",
    "take_ins": "description = 'brass'",
    "return_checks": "verdict = 'as received'",
    "damage_marks": "severity = 'slight'",
    "piece_photographs": "take_in_id = take_in_id",
}


@pytest.fixture
def raw(ledger, url, stone_id):
    """Return a way to run SQL past the ledger, on one row of every table."""
    mark = Damage(kind="chip", place="girdle", severity="severe")
    with ledger.session() as work:
        work.readings.append(reading("r"))
        work.custody.append(custody("c", "mine"))
        work.photographs.append(PHOTOGRAPH)
        work.take_ins.append(take_in("t", damage=(mark,), photographs=("photograph",)))
        check = ReturnCheck(
            id="k", take_in_id="t", checked_at=NOW, checked_by="me", verdict="changed"
        )
        work.take_ins.append_return(check)
    engine = create_engine(url)

    def run(statement):
        with engine.begin() as connection:
            found = connection.execute(text(statement))
            return found.all() if found.returns_rows else []

    yield run
    engine.dispose()


@pytest.mark.parametrize("table", APPEND_ONLY)
def test_the_database_refuses_to_change_or_delete_a_row(raw, url, table):
    before = raw(f"SELECT * FROM {table}")
    statements = [f"UPDATE {table} SET {CHANGES[table]}", f"DELETE FROM {table}"]
    if url.startswith("postgresql"):
        statements.append(f"TRUNCATE {table} CASCADE")
    else:
        statements.append(f"INSERT OR REPLACE INTO {table} SELECT * FROM {table}")
        statements.append(f"UPDATE OR REPLACE {table} SET {CHANGES[table]}")
    for statement in statements:
        with pytest.raises(exc.IntegrityError, match=r"never changed|already kept"):
            raw(statement)
    assert before
    assert raw(f"SELECT * FROM {table}") == before


@pytest.mark.parametrize("table", NEVER_DELETED)
def test_the_database_refuses_to_delete_what_was_referred_to(raw, table):
    with pytest.raises(exc.IntegrityError, match="never changed"):
        raw(f"DELETE FROM {table} WHERE id IN ('stone', 'setter')")


def test_the_database_refuses_to_take_one_reading_in_place_of_another(raw):
    upsert = (
        "INSERT INTO readings SELECT * FROM readings WHERE true "
        "ON CONFLICT (id) DO UPDATE SET note = 'another'"
    )
    with pytest.raises(exc.IntegrityError):
        raw(upsert)
    assert raw("SELECT note FROM readings") == [("",)]


def test_every_numbered_table_is_append_only():
    numbered = {name for name, table in Base.metadata.tables.items() if "sequence" in table.columns}
    assert numbered == set(APPEND_ONLY)


def test_every_append_only_table_has_its_triggers(ledger, url):
    engine = create_engine(url)
    of_triggers = {
        "sqlite": "SELECT tbl_name FROM sqlite_master WHERE type = 'trigger'",
        "postgresql": "SELECT event_object_table FROM information_schema.triggers",
    }
    with engine.connect() as connection:
        guarded = set(connection.scalars(text(of_triggers[engine.dialect.name])))
        tables = set(inspect(connection).get_table_names())
    engine.dispose()
    assert guarded == {*APPEND_ONLY, *NEVER_DELETED}
    assert guarded < tables


def test_the_readings_offer_nothing_but_appending_and_looking():
    offered = {name for name in vars(Readings) if not name.startswith("_")}
    assert offered == {"append", "get", "thread", "current", "current_of"}


def test_a_reading_cannot_be_changed_in_hand():
    made = reading("r")
    with pytest.raises(AttributeError):
        made.value = 1.5
    assert {part.name for part in fields(made)} >= {"supersedes", "reason", "taken_by"}
