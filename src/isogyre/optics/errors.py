"""What the optics refuse, and what to do about it."""


class IndexOrderError(ValueError):
    """Principal refractive indices are not in ascending order."""

    def __init__(self, *indices: float) -> None:
        shown = ", ".join(f"{n:.4f}" for n in indices)
        super().__init__(
            f"expected n_alpha <= n_beta <= n_gamma, got {shown}; a source may label crystal "
            "axes a, b, c instead: sort the values first"
        )


class IsotropicError(ValueError):
    """An optic axis or sign was asked of a singly refracting stone."""

    def __init__(self, index: float) -> None:
        super().__init__(
            f"all three indices are {index:.4f}: a singly refracting stone has no optic axis; "
            "ask only for its index"
        )


class NoTotalReflectionError(ValueError):
    """Light does not come from the denser side, so it is never totally reflected."""

    def __init__(self, index_inside: float, index_outside: float) -> None:
        super().__init__(
            f"no critical angle from index {index_inside:.4f} towards {index_outside:.4f}: the "
            "light must come from the side of the higher index"
        )


class ReflectanceRangeError(ValueError):
    """A reflectance is not a fraction from 0 up to, not including, 1."""

    def __init__(self, reflectance: float) -> None:
        super().__init__(
            f"reflectance {reflectance:g} is outside 0 to 1; divide a percentage by 100"
        )


class TemperatureRangeError(ValueError):
    """A liquid's density was asked outside the temperatures its formula covers."""

    def __init__(self, liquid: str, temperature_c: float, lowest_c: float, highest_c: float):
        super().__init__(
            f"the density of {liquid} is known from {lowest_c:g} to {highest_c:g} °C, not at "
            f"{temperature_c:g} °C; let the liquid come to room temperature and weigh again"
        )


class UnknownLiquidError(KeyError):
    """No density formula is known for a liquid of this name."""

    def __init__(self, liquid: str, known: list[str]) -> None:
        self.liquid = liquid
        super().__init__(
            f"no density is known for '{liquid}', only for {', '.join(known)}; for any other "
            "liquid enter its density"
        )

    def __str__(self) -> str:
        return str(self.args[0])


class WeighingError(ValueError):
    """The weights or densities of a hydrostatic weighing make no sense together."""
