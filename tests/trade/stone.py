"""A kind of stone, to be named."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Stone:
    """A label as the population gives it, here made by hand."""

    species: str
    variety: str = ""
    treatment: str = ""
    origin: str = "natural"
    growth: str = "natural"
    material: str = ""
