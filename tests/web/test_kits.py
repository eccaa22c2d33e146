"""Kits are seen, switched, made, mended and removed; nothing typed is lost."""

import pytest
from fastapi.testclient import TestClient

from isogyre.desk import open_house, open_workbench
from isogyre.desk.kits import chosen_kit, kit_named, kits_at_hand
from isogyre.instruments.kits import KITS
from isogyre.web import create_app

HERE = "http://127.0.0.1"
FAIR = {
    "name": "at the fair",
    "about": "in the coat",
    "holds": ["colour", "magnification", "ri_low", "sg"],
    "minutes.ri_low": "4,5",
    "figure.ri_sd": "0.004",
    "figure.ri_limit": "1.79",
}


@pytest.fixture(scope="module")
def workbench():
    return open_workbench()


@pytest.fixture
def house(tmp_path, workbench):
    house = open_house(tmp_path, workbench=workbench)
    yield house
    house.close()


@pytest.fixture
def client(house):
    return TestClient(create_app(house), base_url=HERE, raise_server_exceptions=False)


def pressed(page):
    return [e["value"] for _, e in page.elements if e.get("name") == "holds" and "checked" in e]


def mended(page, key):
    """Return what is told beside a control."""
    control = page.named(key)
    assert control["aria-invalid"] == "true"
    return page.text.split(f'id="{control["aria-describedby"]}"')[1].split("</p>")[0]


def test_the_list_says_what_each_kit_holds_and_which_is_in_use(client, read_page):
    page = read_page(client.get("/kits").text)
    offered = [e["value"] for _, e in page.elements if e.get("name") == "name"]
    # The kit in use offers no switch to itself.
    assert offered == [name for name in KITS if name != "bench"]
    assert page.text.count("in use") == 1 + page.text.count("kit in use")
    assert "refractometer · polariscope and conoscope" in page.text


def test_one_tap_takes_another_kit_into_use(client, house):
    answer = client.post("/kits/choose", data={"name": "pocket"}, follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (303, "/kits")
    assert chosen_kit(house) == KITS["pocket"]


def test_a_kit_nobody_has_is_not_found(client, house):
    assert client.post("/kits/choose", data={"name": "suitcase"}).status_code == 404
    assert client.get("/kits/suitcase").status_code == 404
    assert client.post("/kits/remove", data={"name": "suitcase"}).status_code == 404
    assert chosen_kit(house) == KITS["bench"]


def test_the_form_offers_every_test_with_its_usual_figures(client, read_page, workbench):
    page = read_page(client.get("/kits/new").text)
    offered = {e["value"] for _, e in page.elements if e.get("name") == "holds"}
    assert offered == {t.field for i in workbench.instruments for t in i.tests}
    assert page.named("minutes.ri_low")["placeholder"] == "3"
    assert page.named("figure.ri_sd")["placeholder"] == "0.002"
    assert page.named("figure.ri_limit")["placeholder"] == "1.8"
    assert page.named("figure.sg_sd")["placeholder"] == "reckoned"
    # The kit in use is a beginning; the caution stands where its instrument is.
    assert set(pressed(page)) == KITS["bench"].fields
    assert "fume hood" in page.text


def test_a_kit_is_kept_with_its_minutes_and_its_figures(client, house):
    answer = client.post("/kits/new", data=FAIR, follow_redirects=False)
    assert answer.status_code == 303
    kit = kit_named(house, "at the fair")
    assert kit.fields == set(FAIR["holds"])
    assert (kit.minutes, kit.errors) == ({"ri_low": 4.5}, {"ri_sd": 0.004, "ri_limit": 1.79})
    assert kit.about == "in the coat"
    assert chosen_kit(house) == KITS["bench"]


def test_a_kit_can_be_kept_and_used_at_once(client, house):
    client.post("/kits/new", data=FAIR | {"use": "yes"})
    assert chosen_kit(house).name == "at the fair"


def test_its_own_page_shows_it_as_it_was_entered(client, read_page):
    client.post("/kits/new", data=FAIR)
    page = read_page(client.get("/kits/at%20the%20fair").text)
    assert pressed(page) and set(pressed(page)) == set(FAIR["holds"])
    assert page.entries["minutes.ri_low"] == "4.5"
    assert page.entries["figure.ri_sd"] == "0.004"
    listed = client.get("/kits").text
    assert "error of an edge 0.004" in listed
    assert "both edges over a full turn 4.5 min" in listed


@pytest.mark.parametrize(
    ("key", "wrong", "told"),
    [
        ("figure.ri_sd", "0.5", "outside 0.0002 to 0.05"),
        ("figure.ri_sd", "small", "not a number"),
        ("figure.ri_limit", "17.9", "outside 1.6 to 2"),
        ("minutes.sg", "-5", "outside 0.05 to 600 min"),
        ("minutes.sg", "0", "outside 0.05 to 600 min"),
        ("name", " ", "needs a name"),
        ("name", "bench", "taken by the program"),
        ("name", "new", "taken by the program"),
        ("name", "a/b", "without a stroke"),
        ("name", "n" * 41, "longer than 40"),
    ],
)
def test_a_bad_entry_is_told_beside_its_control_and_nothing_is_lost(
    client, read_page, house, key, wrong, told
):
    typed = FAIR | {key: wrong}
    answer = client.post("/kits/new", data=typed)
    assert answer.status_code == 422
    page = read_page(answer.text)
    assert told in mended(page, key)
    assert set(pressed(page)) == set(FAIR["holds"])
    kept = {k: page.entries[k] for k in typed if k != "holds"}
    assert kept == {k: v.strip() for k, v in typed.items() if k != "holds"}
    assert kits_at_hand(house) == tuple(KITS.values())


def test_all_that_is_wrong_is_told_at_once(client, read_page):
    wrong = {"figure.ri_sd": "9", "minutes.sg": "long", "name": ""}
    page = read_page(client.post("/kits/new", data=wrong).text)
    links = [e["href"] for tag, e in page.elements if tag == "a" and e["href"].startswith("#")]
    assert links == ["#main", "#name", "#holds", "#figure-ri-sd", "#minutes-sg"]
    assert "tick what is at hand" in page.text


def test_a_second_kit_of_the_same_name_does_not_replace_the_first(client, read_page, house):
    client.post("/kits/new", data=FAIR)
    answer = client.post("/kits/new", data=FAIR | {"about": "another"})
    assert answer.status_code == 422
    assert "already" in mended(read_page(answer.text), "name")
    assert kit_named(house, "at the fair").about == "in the coat"


def test_a_kit_is_mended_in_place_and_renamed(client, house):
    client.post("/kits/new", data=FAIR | {"use": "yes"})
    client.post("/kits/at%20the%20fair", data=FAIR | {"figure.ri_sd": ""})
    assert "ri_sd" not in kit_named(house, "at the fair").errors
    client.post("/kits/at%20the%20fair", data=FAIR | {"name": "travel"})
    assert [kit.name for kit in kits_at_hand(house)] == [*KITS, "travel"]
    # The kit in use stays in use under its new name.
    assert chosen_kit(house).name == "travel"


def test_a_built_in_kit_is_a_beginning_and_stays_as_it_is(client, read_page, house):
    page = read_page(client.get("/kits/pocket").text)
    assert set(pressed(page)) == KITS["pocket"].fields
    assert 'action="/kits/new"' in page.text
    assert "remove this kit" not in page.text
    client.post("/kits/pocket", data=FAIR)
    assert [kit.name for kit in kits_at_hand(house)] == [*KITS, "at the fair"]
    client.post("/kits/remove", data={"name": "pocket"})
    assert kits_at_hand(house)[0] == KITS["pocket"]


def test_a_removed_kit_can_be_put_back_as_it_was(client, read_page, house):
    client.post("/kits/new", data=FAIR | {"use": "yes"})
    before = kits_at_hand(house)
    page = read_page(client.post("/kits/remove", data={"name": "at the fair"}).text)
    assert kits_at_hand(house) == tuple(KITS.values())
    assert chosen_kit(house) == KITS["bench"]
    undo = page.text.split('action="/kits/new"')[1].split("</form>")[0]
    hidden = read_page(undo).elements
    again = [(e["name"], e["value"]) for _, e in hidden if e.get("type") == "hidden"]
    pairs = {name: [v for n, v in again if n == name] for name, _ in again}
    client.post("/kits/new", data=pairs)
    assert kits_at_hand(house) == before
    assert chosen_kit(house).name == "at the fair"


@pytest.mark.parametrize("name", ["ring & stone", "50 %", "Ünter wegs?", "a#b", "..a", "<i>x<i>"])
def test_a_name_of_odd_signs_has_a_page_of_its_own(client, read_page, house, name):
    client.post("/kits/new", data=FAIR | {"name": name})
    page = read_page(client.get("/kits").text)
    (address,) = (
        e["href"] for tag, e in page.elements
        if tag == "a" and e["href"].startswith("/kits/") and e["href"][6:] not in {*KITS, "new"}
    )  # fmt: skip
    shown = read_page(client.get(address).text)
    assert shown.entries["name"] == name
    assert not [tag for tag, _ in (*page.elements, *shown.elements) if tag == "i"]


def test_another_site_cannot_change_a_kit(client, house):
    headers = {"origin": "https://elsewhere.example", "sec-fetch-site": "cross-site"}
    answer = client.post("/kits/choose", data={"name": "pocket"}, headers=headers)
    assert answer.status_code == 403
    assert chosen_kit(house) == KITS["bench"]
