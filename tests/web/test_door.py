"""The data door: a record in, the object of `identify` out."""

import pytest

RECORD = {"id": "a", "colour": "red", "ri_low": 1.718, "ri_high": 1.718, "polariscope": "SR"}


def test_a_record_is_answered_with_the_object_of_identify(client):
    answer = client.post("/api/identify", json=RECORD)
    assert answer.status_code == 200
    found = answer.json()
    assert found["id"] == "a"
    assert found["species"][0]["name"] == "spinel"
    assert sum(share["probability"] for share in found["species"]) == pytest.approx(1)
    assert found["next"]["kit"] == "bench"


def test_kit_and_question_are_taken_from_the_address(client):
    found = client.post("/api/identify?kit=pocket&settle=natural", json=RECORD).json()
    assert (found["next"]["kit"], found["next"]["settle"]) == ("pocket", "natural")


@pytest.mark.parametrize(
    ("record", "field"),
    [
        ({"ri_low": 17.6}, "ri_low"),
        ({"ri_low": 1.77, "ri_high": 1.76}, "ri_low"),
        ({"weight_air_ct": 1, "weight_liquid_ct": 2}, "weight_liquid_ct"),
        ({"nothing": "known"}, "record"),
        ({}, "record"),
    ],
)
def test_what_cannot_be_used_is_refused_field_by_field(client, record, field):
    answer = client.post("/api/identify", json=record)
    assert answer.status_code == 422
    assert field in {trouble["field"] for trouble in answer.json()["troubles"]}
    assert all(trouble["message"] for trouble in answer.json()["troubles"])


@pytest.mark.parametrize(
    "body", [b"", b"{", b"[]", b"3", b'"ruby"', b"\xff\xfe", b"[" * 20000, b'{"a":' * 20000]
)
def test_what_is_no_record_is_refused_and_not_a_fault(client, body):
    answer = client.post("/api/identify", content=body)
    assert answer.status_code == 422
    assert answer.json()["troubles"][0]["field"] == "record"


@pytest.mark.parametrize("asked", ["kit=synchrotron", "settle=price"])
def test_an_unknown_kit_or_question_is_refused(client, asked):
    answer = client.post(f"/api/identify?{asked}", json=RECORD)
    assert answer.status_code == 422
    assert answer.json()["troubles"][0]["field"] == asked.partition("=")[0]


def test_the_description_of_the_door_holds_every_field_with_its_range(client):
    described = client.get("/api/openapi.json").json()["paths"]["/api/identify"]["post"]
    fields = described["requestBody"]["content"]["application/json"]["schema"]["properties"]
    assert fields["ri_low"]["minimum"] == 1.3
    assert fields["polariscope"]["examples"] == ["SR", "DR", "AGG", "ADR"]
    assert fields["heavy_liquid"]["properties"].keys() == {"sg", "result"}


def entered(client, record=RECORD):
    answer = client.post("/api/stones", json=record)
    assert answer.status_code == 201
    return f"/api/stones/{answer.json()['id']}"


def test_a_stone_that_is_kept_stands_where_identify_puts_it(client):
    kept = client.get(f"{entered(client)}/standing").json()
    assert kept == client.post("/api/identify", json=RECORD).json()


def test_readings_that_come_later_count_like_those_of_the_first_hour(client):
    address = entered(client, {"id": "a", "colour": "red"})
    rest = {key: value for key, value in RECORD.items() if key not in ("id", "colour")}
    assert client.post(f"{address}/readings", json=rest).json()["kept"] == len(rest)
    kept = client.get(f"{address}/standing").json()
    assert kept == client.post("/api/identify", json=RECORD).json()


def test_readings_may_come_as_a_list_of_fields_and_values(client):
    address = entered(client)
    seen = [{"field": "magnification", "value": word} for word in ("octahedra", "fingerprint")]
    assert client.post(f"{address}/readings", json={"readings": seen}).status_code == 201
    thread = client.get(address).json()["readings"]
    assert [r["value"] for r in thread if r["field"] == "magnification"] == [
        "octahedra",
        "fingerprint",
    ]


def test_a_field_that_is_sent_again_is_superseded(client):
    address = entered(client)
    client.post(f"{address}/readings", json={"ri_low": 1.717, "reason": "misread"})
    thread = [r for r in client.get(address).json()["readings"] if r["field"] == "ri_low"]
    assert [(r["value"], r["reason"]) for r in thread] == [(1.718, ""), (1.717, "misread")]
    assert thread[1]["supersedes"] == thread[0]["id"]


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"ri_low": 17}, "ri_low"),
        ({"frobnication": 3}, "frobnication"),
        ({}, "readings"),
        ({"readings": [3]}, "readings"),
        ({"ri_high": 1.70}, "ri_low"),
    ],
)
def test_a_reading_that_cannot_be_is_refused_and_nothing_is_kept(client, said, field):
    address = entered(client)
    before = client.get(address).json()
    answer = client.post(f"{address}/readings", json=said)
    assert answer.status_code == 422
    assert field in {trouble["field"] for trouble in answer.json()["troubles"]}
    assert client.get(address).json() == before


@pytest.mark.parametrize(
    ("record", "field"), [({"ri_low": 17.6}, "ri_low"), ({"note": ["a"]}, "note")]
)
def test_a_stone_with_a_bad_entry_is_not_kept(client, record, field):
    answer = client.post("/api/stones", json=record)
    assert answer.status_code == 422
    assert answer.json()["troubles"][0]["field"] == field


def test_a_stone_without_readings_has_no_standing_yet(client):
    answer = client.get(f"{entered(client, {'id': 'bare'})}/standing")
    assert answer.status_code == 422
    assert answer.json()["troubles"][0]["field"] == "record"


def test_a_stone_that_is_not_there_is_told_as_data(client):
    for answer in (
        client.get("/api/stones/none"),
        client.get("/api/stones/none/standing"),
        client.post("/api/stones/none/readings", json={"colour": "red"}),
    ):
        assert answer.status_code == 404
        assert answer.json()["troubles"]


def test_what_describes_a_stone_is_kept_with_it(client):
    described = {
        "id": "b",
        "measures_mm": "6.1 x 5,4 × 3.8 mm",
        "note": "an old setting",
        "price": 480,
        "place": "box 4",
        "met": "old piece",
    }
    kept = client.get(entered(client, described)).json()
    assert [kept[f"{side}_mm"] for side in ("length", "width", "depth")] == [6.1, 5.4, 3.8]
    assert kept["note"] == "an old setting\nprice: 480"
    assert (kept["place"], kept["met"]) == ("box 4", "old piece")


@pytest.mark.parametrize("measures", ["about six", [6.1, -5.4], [1, 2, 3, 4], "", [None], "0 x 1"])
def test_measures_that_are_none_are_left_out(client, measures):
    kept = client.get(entered(client, {"id": "c", "measures_mm": measures})).json()
    assert kept["length_mm"] is None
