"""Kits of one's own, and what their figures do to a record."""

from collections.abc import Mapping
from typing import Any

from isogyre.desk.workbench import Workbench
from isogyre.evidence import fields_of
from isogyre.instruments import Field
from isogyre.instruments.kits import Kit


def with_kit_errors(workbench: Workbench, record: Mapping[str, Any], kit: Kit) -> dict[str, Any]:
    """Return a record whose readings were taken with ``kit``, with the kit's errors beside them.

    What the record says itself stays, and nothing is added beside a reading that was not taken.
    """
    added = {
        key: kit.errors[key]
        for field in fields_of(workbench.instruments).values()
        if is_given(record, field.key)
        for key in figures_of(field)
        if key in kit.errors and not is_given(record, key)
    }
    return {**record, **added}


def figures_of(field: Field) -> tuple[str, ...]:
    """Return the keys of the instrument's own figures that a reading of ``field`` is read by."""
    return tuple(filter(None, (field.error_key, field.needs_key)))


def is_given(record: Mapping[str, Any], key: str) -> bool:
    """Return whether the record has an entry there; a blank one is none."""
    value = record.get(key)
    return value is not None and bool(str(value).strip())
