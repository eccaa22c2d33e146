"""The list of stones: what it finds, in which order, page by page."""

from datetime import date, timedelta

import pytest

from isogyre.ledger import StoneFilter, UnkeepableError, UnknownEntryError
from tests.ledger.conftest import NOW
from tests.ledger.made import custody, reading, stone


def wide(word):
    """Return a word in the letters that an East Asian keyboard may send."""
    return "".join(chr(ord(letter) + 0xFEE0) for letter in word)


@pytest.fixture
def box(ledger, stone_id):
    """Return a ledger with four stones; the newest is listed first."""
    made = [
        stone("blue", name="T 2", claim="Saphir, ungebrannt, STRAßE", place="safe"),
        stone("red", name="T 3", note="Rubellite, 100% loupe clean", kind="ring"),
        stone("green", name="T 4", place="window", claim=wide("tsavorite")),
    ]
    with ledger.session() as work:
        for minutes, each in enumerate(made, start=1):
            entered = stone(**{**vars(each), "created_at": NOW + timedelta(minutes=minutes)})
            work.stones.enter(entered, by="me")
        work.custody.append(
            custody("1", "mine", stone_id="blue"),
            custody("2", "client's", stone_id="red", party_id="client", due=date(2026, 6, 1)),
            custody("3", "out to setter", stone_id="red", party_id="setter", due=date(2026, 5, 20)),
            custody("4", "on approval from", stone_id="green", party_id="setter"),
            custody("5", "mine", stone_id="green"),
        )
        work.readings.append(
            reading("a", stone_id="blue"),
            reading("b", stone_id="red", field="sg"),
            reading("c", stone_id="green"),
            reading(
                "d",
                stone_id="green",
                state="withdrawn",
                value=None,
                supersedes="c",
                reason="another stone",
            ),
        )
        work.stones.archive(stone_id, at=NOW, by="me")
    return ledger


def found(ledger, **wanted):
    with ledger.view() as work:
        page = work.stones.page(StoneFilter(**wanted))
        assert work.stones.count(StoneFilter(**wanted)) == len(page.stones)
        return [listed.stone.id for listed in page.stones]


# What is asked for, and which stones are listed, the newest first.
LISTS = [
    ({}, ["green", "red", "blue"]),
    ({"archived": True}, ["stone"]),
    ({"archived": None}, ["green", "red", "blue", "stone"]),
    ({"words": "SAPHIR safe"}, ["blue"]),
    ({"words": "strasse"}, ["blue"]),
    ({"words": "Tsavorite"}, ["green"]),
    ({"words": "t"}, ["green", "red", "blue"]),
    ({"words": "100%"}, ["red"]),
    ({"words": "1%"}, []),
    ({"words": "r_d"}, []),
    ({"kind": "ring"}, ["red"]),
    ({"whose": "mine"}, ["green", "blue"]),
    ({"whose": "client's"}, ["red"]),
    ({"whose": "on approval from"}, []),
    ({"holding": "out to setter"}, ["red"]),
    ({"holding": "client's"}, []),
    ({"party_id": "client"}, ["red"]),
    ({"party_id": "setter"}, ["red"]),
    ({"place": "safe"}, ["blue"]),
    ({"place": "saf"}, []),
    ({"due_before": date(2026, 5, 20)}, []),
    ({"due_before": date(2026, 5, 21)}, ["red"]),
    ({"has": ("ri_low",)}, ["blue"]),
    ({"lacks": ("ri_low",)}, ["green", "red"]),
    ({"has": ("sg",), "lacks": ("ri_low",)}, ["red"]),
    ({"has": ("sg", "ri_low")}, []),
]


def test_a_filter_finds_what_it_says(box):
    assert [(wanted, found(box, **wanted)) for wanted, _ in LISTS] == LISTS


def test_places_are_those_where_stones_lie_that_are_not_archived(box):
    with box.session() as work:
        assert work.stones.places() == {"safe": 1, "window": 1}
        work.stones.amend("red", {"place": "safe"}, at=NOW, by="me")
        work.stones.archive("green", at=NOW, by="me")
        assert work.stones.places() == {"safe": 2}


def test_a_stone_in_the_list_shows_whose_it_is_and_where(box):
    with box.view() as work:
        red = work.stones.listed("red")
        assert red.revision == 2
        assert not red.is_archived
        assert (red.custody.holding, red.custody.party_id) == ("out to setter", "setter")
        assert (red.ownership.holding, red.ownership.due) == ("client's", date(2026, 6, 1))
        assert red.custody == work.custody.newest("red")
        assert red.ownership == work.custody.ownership("red")
        assert work.stones.listed("stone").custody is None


def test_the_newest_entry_holds_whatever_its_date(ledger, stone_id):
    wrong = custody("1", "client's", party_id="client", since=NOW + timedelta(days=365))
    right = custody("2", "client's", party_id="client", since=NOW)
    with ledger.session() as work:
        work.custody.append(wrong)
        work.custody.append(right)
        assert work.custody.newest(stone_id) == right
        assert work.custody.history(stone_id) == (wrong, right)


def test_words_that_are_amended_are_found(ledger, stone_id):
    with ledger.session() as work:
        work.stones.amend(stone_id, {"note": "Vesuvianite"}, at=NOW, by="me")
    assert found(ledger, words="vesuvianite") == [stone_id]


@pytest.mark.parametrize("limit", [1, 2, 3, 7, 8])
def test_pages_together_hold_every_stone_once(ledger, limit):
    # Three share a moment: the id then decides, and a page may end between them.
    times = [NOW, NOW, NOW, *(NOW + timedelta(seconds=s) for s in (5, 1, 9, 3))]
    with ledger.session() as work:
        for number, moment in enumerate(times):
            work.stones.enter(stone(f"s{number}", created_at=moment), by="me")
    listed, after, pages = [], None, 0
    with ledger.view() as work:
        while pages == 0 or after is not None:
            page = work.stones.page(after=after, limit=limit)
            listed += [each.stone.id for each in page.stones]
            after, pages = page.after, pages + 1
    assert listed == ["s5", "s3", "s6", "s4", "s2", "s1", "s0"]
    assert pages == -(-len(times) // limit)


def test_words_that_are_no_text_are_refused():
    with pytest.raises(UnkeepableError, match="no text"):
        StoneFilter(words="a\0b")


def test_a_page_after_nothing_known_is_refused(ledger):
    with ledger.view() as work, pytest.raises(UnknownEntryError, match="none"):
        work.stones.page(after="none")
