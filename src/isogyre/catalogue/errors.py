"""Faults of the catalogue itself."""

from collections.abc import Sequence


class CatalogueError(ValueError):
    """The data files do not fit together; the message lists every fault found."""

    def __init__(self, faults: Sequence[str]) -> None:
        self.faults = tuple(faults)
        shown = "\n  ".join(self.faults[:50])
        more = f"\n  and {len(self.faults) - 50} more" if len(self.faults) > 50 else ""
        super().__init__(f"{len(self.faults)} faults in the catalogue:\n  {shown}{more}")


class UnknownMaterialError(KeyError):
    """No material of this name is in the catalogue."""

    def __init__(self, name: str, near: Sequence[str]) -> None:
        self.name = name
        self.near = tuple(near)
        hint = f"; near it: {', '.join(near)}" if near else ""
        super().__init__(f"no material is called '{name}'{hint}")

    def __str__(self) -> str:
        return str(self.args[0])
