"""What the crystal room refuses, and what to do about it."""


class ImpossibleCellError(ValueError):
    """Edges and angles that no parallelepiped has."""

    def __init__(self, edges: tuple[float, float, float], angles: tuple[float, float, float]):
        shown_edges = ", ".join(f"{edge:g}" for edge in edges)
        shown_angles = ", ".join(f"{angle:g}" for angle in angles)
        super().__init__(
            f"no cell has edges {shown_edges} Å and angles {shown_angles}°: edges must be above "
            "0, angles between 0 and 180, and each angle less than the sum of the other two; "
            "check the order alpha, beta, gamma"
        )


class FormulaError(ValueError):
    """A chemical formula that cannot be read as one fixed composition."""

    def __init__(self, formula: str, reason: str) -> None:
        self.formula = formula
        super().__init__(f"cannot read formula '{formula}': {reason}")


class UnknownElementError(KeyError):
    """A formula names an element that the table of masses does not hold."""

    def __init__(self, symbol: str) -> None:
        self.symbol = symbol
        super().__init__(
            f"no atomic mass for '{symbol}'; check its capitals, or add it to the table"
        )

    def __str__(self) -> str:
        return str(self.args[0])


class NoDirectionError(ValueError):
    """An angle was asked of a direction or plane whose indices are all zero."""

    def __init__(self) -> None:
        super().__init__("indices 0, 0, 0 name no direction; at least one must differ from 0")


class FourIndexError(ValueError):
    """The first three of four hexagonal indices do not add up to 0."""

    def __init__(self, u: int, v: int, t: int, w: int) -> None:
        super().__init__(
            f"four-index direction [{u} {v} {t} {w}] needs u + v + t = 0; the third index here "
            f"should be {-(u + v)}"
        )
