"""Walk a row of the catalogue and name everything it refers to."""

from collections.abc import Iterator
from typing import Any

from pydantic import BaseModel

from isogyre.catalogue.model import Body, Feature, Look, Material, Seen, TreatmentPractice

Reference = tuple[str, str, str]  # place, table, name

# Which table the name of a Seen row points to, by the field it stands in.
SEEN_TABLE = {
    "features": "feature",
    "hides": "feature",
    "phenomena": "feature",
    "spectrum": "spectrum",
}


def references(table: str, row: Any) -> Iterator[Reference]:
    """Yield (place, table, name) for each name in ``row`` that another table must define."""
    place = f"{table} '{row.key if table == 'source' else row.name}'"
    if table != "source":
        yield from _sources(place, row)
    if isinstance(row, Material):
        yield from _material(place, row)
    if isinstance(row, Feature):
        yield from ((f"{place}, confused_with", "feature", name) for name in row.confused_with)


def _sources(place: str, row: BaseModel) -> Iterator[Reference]:
    for name in type(row).model_fields:
        value = getattr(row, name)
        if name == "source":
            yield from ((place, "source", key) for key in value.split(";"))
        for item in value if isinstance(value, tuple) else (value,):
            if isinstance(item, BaseModel):
                yield from _sources(f"{place}, {name}", item)


def _material(place: str, material: Material) -> Iterator[Reference]:
    yield from ((place, "material", name) for name in material.lookalikes)
    for body in material.bodies:
        yield from _body(f"{place}, {body.growth}", body)
    for treatment in material.treatments:
        yield (place, "treatment", treatment.name)
        yield from ((place, "growth", growth) for growth in treatment.growths)
        yield from _seen(f"{place}, {treatment.name}", treatment)


def _body(place: str, body: Body) -> Iterator[Reference]:
    yield (place, "growth", body.growth)
    yield from _seen(place, body)
    for look in body.looks:
        yield from _seen(f"{place}, {look.variety}", look)


def _seen(place: str, row: Body | Look | TreatmentPractice) -> Iterator[Reference]:
    for field, table in SEEN_TABLE.items():
        rows: tuple[Seen, ...] = getattr(row, field, ())
        yield from ((place, table, seen.name) for seen in rows)
