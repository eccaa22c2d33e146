"""A stone is entered and its standing is shown; nothing typed is lost, whatever was typed."""

import pytest

SAPPHIRE = {
    "id": "blue one",
    "form": "faceted",
    "met": "known dealer",
    "colour": "blue",
    "transparency": "transparent",
    "ri_low": "1.762",
    "ri_high": "1.770",
    "ri_turn": "full",
    "polariscope": "DR",
    "weight_air_ct": "2.000",
    "weight_liquid_ct": "1.500",
    "magnification": "silk\nstraight growth bands",
    "not_seen": "curved striae",
}


def weigh(client, read_page, entries):
    answer = client.post("/", data=entries)
    assert answer.status_code == 200
    return read_page(answer.text)


def kept(page, entries):
    """Return which of the entries the page's form would send again, unchanged."""
    return {key for key, text in entries.items() if page.entries.get(key) == text}


def test_an_empty_page_teaches_and_offers_invented_stones(client):
    page = client.get("/").text
    assert "What is this stone?" in page
    assert "invented stone" in page
    assert "not looked for yet" in page


def test_a_stone_is_answered_with_its_odds_in_words_and_per_cent(client, read_page):
    page = weigh(client, read_page, SAPPHIRE).text
    assert "<b>Corundum," in page
    assert "to 1 on" in page
    assert "For and against" in page
    assert "What hand tests cannot settle" in page


def test_a_stone_is_kept_in_the_address_with_everything_that_was_typed(client, read_page):
    answer = client.post("/", data=SAPPHIRE, follow_redirects=False)
    assert answer.status_code == 303
    again = read_page(client.get(answer.headers["location"]).text)
    assert kept(again, SAPPHIRE) == SAPPHIRE.keys()


def test_blank_entries_leave_no_trace_in_the_address(client):
    answer = client.post("/", data={"colour": "red", "ri_low": " "}, follow_redirects=False)
    assert "colour=red" in answer.headers["location"]
    assert "ri_low" not in answer.headers["location"]


def test_a_stone_too_long_for_an_address_is_answered_in_place(client, read_page):
    entries = SAPPHIRE | {"magnification": "\n".join(f"silk, zone {n}" for n in range(800))}
    answer = client.post("/", data=entries, follow_redirects=False)
    assert answer.status_code == 200
    assert kept(read_page(answer.text), entries) == entries.keys()


def test_a_bad_entry_gets_its_message_beside_its_field_and_the_others_stay(client, read_page):
    entries = SAPPHIRE | {"ri_low": "1.790", "weight_liquid_ct": "2.5"}
    page = weigh(client, read_page, entries)
    assert kept(page, entries) == entries.keys()
    for key in ("ri_low", "weight_liquid_ct"):
        control = page.named(key)
        assert control["aria-invalid"] == "true"
        described = page.text.split(f'id="{control["aria-describedby"]}"')[1].split("</div>")[0]
        assert "This cannot be:" in described
    assert "aria-invalid" not in page.named("ri_high")
    assert "standing-head" not in page.text


def test_an_entry_that_is_no_reading_is_told_beside_its_field(client, read_page):
    page = weigh(client, read_page, {"colour": "frobnicate", "polariscope": "DR"})
    described = page.text.split(f'id="{page.named("colour")["aria-describedby"]}"')[1]
    assert "Does not count:" in described.split("</div>")[0]


def test_a_name_alone_is_kept_and_is_not_weighed(client, read_page):
    page = weigh(client, read_page, {"id": "box 4, slot 3"})
    assert "Nothing to weigh yet" in page.text
    assert page.entries["id"] == "box 4, slot 3"


@pytest.mark.parametrize("key", ["ri_low", "colour", "weight_air_ct", "spectrum_lines_nm", "met"])
@pytest.mark.parametrize(
    "absurd",
    [
        "1e400",
        "-17",
        "NaN",
        "1.76.2",
        "9" * 300,
        "\u0661\u066b\u0667\u0666",  # figures, but none that a bench writes
        "<script>alert(1)</script>",
        '"><img src=x onerror=alert(1)>',
        "{{ 7 * 7 }}",
        "ruby\u202e",
    ],
)
def test_an_absurd_entry_is_kept_as_typed_and_never_becomes_part_of_the_page(
    client, read_page, key, absurd
):
    page = weigh(client, read_page, {"polariscope": "DR", key: absurd})
    assert page.entries[key] == absurd
    assert not [e for tag, e in page.elements if tag == "img" or "onerror" in e]
    assert all("src" in e for tag, e in page.elements if tag == "script")


def test_no_stone_is_ever_certain(client, read_page):
    page = weigh(client, read_page, SAPPHIRE)
    for word in ("100 %", "100.0 %", "certain", "certified", "untreated"):
        assert word not in page.text.replace("uncertain", "")


def test_what_no_control_asks_for_is_dropped(client):
    answer = client.post("/", data={"colour": "red", "truth": "ruby"}, follow_redirects=False)
    assert "truth" not in answer.headers["location"]


def test_another_question_and_another_kit_are_remembered(client, read_page):
    page = weigh(client, read_page, SAPPHIRE | {"kit": "pocket", "settle": "treated"})
    assert page.entries["kit"] == "pocket"
    assert page.entries["settle"] == "treated"
    pressed = [e["value"] for _, e in page.elements if e.get("aria-pressed") == "true"]
    assert pressed == ["treated", "pocket"]


def test_a_kit_nobody_has_falls_back_to_the_usual_one(client, read_page):
    page = weigh(client, read_page, SAPPHIRE | {"kit": "synchrotron", "settle": "price"})
    assert (page.entries["kit"], page.entries["settle"]) == ("bench", "name")


def test_an_opaque_stone_without_a_name_is_not_to_be_wetted(client, read_page):
    page = weigh(client, read_page, {"colour": "blue", "transparency": "opaque"})
    assert "but not on this stone yet" in page.text
    assert "soak" in page.text


def test_a_reading_at_odds_with_the_rest_is_pointed_out(client, read_page):
    page = weigh(client, read_page, SAPPHIRE | {"polariscope": "SR"})
    assert 'class="sheet misfit"' in page.text
    assert "Look at it again first" in page.text


@pytest.mark.parametrize("number", range(3))
def test_an_invented_stone_opens_and_says_that_it_is_invented(client, read_page, number):
    blank = read_page(client.get("/").text)
    offered = [e["href"] for _, e in blank.elements if "example=" in e.get("href", "")]
    page = client.get(offered[number])
    assert page.status_code == 200
    assert "An invented stone" in page.text
