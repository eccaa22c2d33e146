"""The door for programs: a record's fields are those that the bench reads."""

from dataclasses import fields

import pytest

from isogyre import Record, identify
from isogyre.desk import UnknownWordError, open_workbench
from isogyre.evidence.record import DESCRIPTIVE, fields_of

# What a case collection adds to a record: the answer and where it was published.
OF_CASES = {"truth", "source", "advanced"}


def test_a_record_has_a_field_for_everything_that_is_read_or_kept():
    known = {*fields_of(open_workbench().instruments), *DESCRIPTIVE, "met"} - OF_CASES
    assert {field.name for field in fields(Record)} == known


def test_what_was_left_out_is_not_in_the_record():
    assert Record(colour="blue", sg="4,00").entries() == {"colour": "blue", "sg": "4,00"}


def test_a_record_does_not_change_once_made():
    record = Record(colour="blue")
    with pytest.raises(AttributeError):
        record.colour = "red"  # type: ignore[misc]


def test_a_record_and_a_mapping_are_answered_alike():
    record = Record(colour="blue", magnification=("silk",), ri_spot=1.76)
    mapping = {"colour": "blue", "magnification": ["silk"], "ri_spot": 1.76}
    assert identify(record) == identify(mapping)


@pytest.mark.parametrize("option", [{"kit": "suitcase"}, {"settle": "price"}])
def test_an_unknown_kit_or_question_is_refused_by_name(option):
    with pytest.raises(UnknownWordError, match=next(iter(option))):
        identify(Record(colour="blue"), **option)
