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


def test_the_door_and_the_page_say_the_same(client):
    leader = client.post("/api/identify", json=RECORD).json()["species"][0]["name"]
    page = client.post("/", data={key: str(value) for key, value in RECORD.items()}).text
    assert f"<b>{leader.capitalize()}," in page


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
