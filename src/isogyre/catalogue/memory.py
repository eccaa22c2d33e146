"""How much of what is said of a material was written from memory, and still wants a source."""

from collections.abc import Iterator

from pydantic import BaseModel

from isogyre.catalogue.model import Care, Material

MEMORY = "memory"
# How often a stone is met is a judgement by its nature: no source could be opened for it.
JUDGEMENT = "judgement"
OPERATIONS = ("torch", "pickle", "ultrasonic", "steam", "light")


def memory_share(material: Material) -> float:
    """Return the share, 0 to 1, of a material's statements that rest on memory alone.

    A statement is anything in the catalogue with a source of its own: a claim, a feature, a glow,
    a verdict of care. Judgements of how common something is are left out of the count.
    """
    answers = list(_from_memory(material))
    return sum(answers) / len(answers)


def _from_memory(row: BaseModel) -> Iterator[bool]:
    """Yield for each statement in ``row`` whether it is from memory alone."""
    if isinstance(row, Care):
        yield from (
            row.source == MEMORY or operation in row.from_memory for operation in OPERATIONS
        )
        return
    source = getattr(row, "source", JUDGEMENT)
    if source != JUDGEMENT:
        yield source == MEMORY
    for name in type(row).model_fields:
        value = getattr(row, name)
        for item in value if isinstance(value, tuple) else (value,):
            if isinstance(item, BaseModel):
                yield from _from_memory(item)
