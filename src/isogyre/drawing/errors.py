"""What the drawing room refuses, and what to do about it."""

from collections.abc import Iterable


class UnknownWordError(ValueError):
    """A word that no drawing knows stands where one of a closed list is needed."""

    def __init__(self, what: str, word: str, known: Iterable[str]) -> None:
        super().__init__(f"no {what} is called '{word}'; use one of: {', '.join(known)}")


class PrefixError(ValueError):
    """A prefix that cannot open the id of a part of a page."""

    def __init__(self, prefix: str) -> None:
        super().__init__(
            f"'{prefix}' cannot open an id; begin with a letter and go on with letters, digits, "
            "hyphens or underscores"
        )


class OutOfRangeError(ValueError):
    """A number lies where nothing can be drawn."""

    def __init__(self, what: str, value: float, low: float, high: float) -> None:
        super().__init__(f"{what} is {value:g}; it can be drawn from {low:g} to {high:g}")


class EdgeOrderError(ValueError):
    """The lower shadow edge is given above the upper one."""

    def __init__(self, low: float, high: float) -> None:
        super().__init__(
            f"the lower edge {low:.4f} lies above the upper edge {high:.4f}; swap them"
        )


class SpotAndEdgesError(ValueError):
    """A spot and shadow edges are asked of one view."""

    def __init__(self) -> None:
        super().__init__("a spot is seen on a curved surface, edges on a flat one; draw two scales")


class CountError(ValueError):
    """A figure is given more or fewer parts than it has room for."""

    def __init__(self, what: str, count: int, fewest: int, most: int) -> None:
        super().__init__(f"{count} {what} given; the figure has room for {fewest} to {most}")
