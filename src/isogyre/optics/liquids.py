"""Densities of immersion liquids, and the relative density that a hydrostatic weighing gives."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from isogyre.optics.errors import TemperatureRangeError, UnknownLiquidError, WeighingError

FloatArray = NDArray[np.float64]

# Ordinary air at about 20 °C and sea level; it moves with weather by some 3 per cent.
AIR_DENSITY_G_CM3 = 0.0012


class _Liquid(NamedTuple):
    """Density in kg/m3 as at_20 + slope x + curvature x^2, x in °C above 20 °C."""

    at_20: float
    slope: float
    curvature: float


# Parabolas through reference equations of state at 101.325 kPa, 10 to 30 °C, as the CoolProp
# library computes them. A bottle of the trade is less pure than this.
LIQUIDS = {
    "toluene": _Liquid(866.892, -0.9298, -0.00020),
    "ethanol": _Liquid(789.421, -0.8560, -0.00041),
    "acetone": _Liquid(790.270, -1.1101, -0.00080),
}
LIQUID_RANGE_C = (10.0, 30.0)


def water_density_tanaka_2001(temperature_c: float) -> float:
    """Return the density of pure, air-free water at 101.325 kPa, in g/cm3.

    Parameters
    ----------
    temperature_c
        0 to 40 °C; outside it TemperatureRangeError is raised.

    Notes
    -----
    Formula of Tanaka, Girard, Davis, Peuto and Bignell, Metrologia 38 (2001) 301, good to
    1e-6 g/cm3; coefficients from memory, held to printed values. Air dissolved in the water
    lowers it by at most 3e-6, the salts of tap water raise it by some 1e-4 (memory): all far
    below the error of a hydrostatic weighing.
    """
    _refuse_temperature("water", temperature_c, 0.0, 40.0)
    t = temperature_c
    departure = (t - 3.983035) ** 2 * (t + 301.797) / (522528.9 * (t + 69.34881))
    return 0.999974950 * (1 - departure)


def liquid_density(liquid: str, temperature_c: float) -> float:
    """Return the density of water, toluene, ethanol or acetone, in g/cm3.

    Water from 0 to 40 °C, the others from 10 to 30 °C, each pure. Raises UnknownLiquidError
    for another name and TemperatureRangeError outside the range.
    """
    if liquid == "water":
        return water_density_tanaka_2001(temperature_c)
    if liquid not in LIQUIDS:
        raise UnknownLiquidError(liquid, ["water", *LIQUIDS])
    _refuse_temperature(liquid, temperature_c, *LIQUID_RANGE_C)
    at_20, slope, curvature = LIQUIDS[liquid]
    warmer = temperature_c - 20
    return (at_20 + warmer * (slope + warmer * curvature)) / 1000


def relative_density(
    weight_air_ct: float,
    weight_liquid_ct: float,
    liquid_density_g_cm3: float,
    air_density_g_cm3: float = 0.0,
) -> float:
    """Return the relative density (SG) of a stone from its weights in air and in a liquid.

    Parameters
    ----------
    weight_air_ct
        Weight on the pan, above 0. Any unit of weight serves if both weights share it.
    weight_liquid_ct
        Weight hanging in the liquid with the wire's own weight taken off. Negative for a
        stone that floats, weighed with a sinker whose weight has been taken off.
    liquid_density_g_cm3
        Density of the liquid at its temperature, as of `liquid_density`; above 0.
    air_density_g_cm3
        0 by the trade's custom. With AIR_DENSITY_G_CM3 the lift of the air is corrected,
        which lowers an SG of 4.00 by 0.0036: well within `relative_density_sd`.

    Raises
    ------
    WeighingError
        If the stone lost no weight, has none, or the liquid is not denser than the air.

    Notes
    -----
    SG = W_air (d_liquid - d_air) / (W_air - W_liquid) + d_air, numerically in g/cm3; the
    density of water at 4 °C, to which SG refers by definition, is 1 within 0.00003.
    """
    loss_ct = weight_air_ct - weight_liquid_ct
    if weight_air_ct <= 0 or loss_ct <= 0:
        raise WeighingError(
            f"weight in air {weight_air_ct:g} and in liquid {weight_liquid_ct:g} leave no loss "
            "of weight; check that the two are not exchanged and that the wire was tared"
        )
    lift_g_cm3 = liquid_density_g_cm3 - air_density_g_cm3
    if lift_g_cm3 <= 0:
        raise WeighingError(
            f"liquid density {liquid_density_g_cm3:g} g/cm3 must exceed that of the air, "
            f"{air_density_g_cm3:g} g/cm3; enter it in g/cm3, near 1 for water"
        )
    return weight_air_ct * lift_g_cm3 / loss_ct + air_density_g_cm3


def weight_in_liquid(
    weight_air_ct: float | FloatArray,
    relative_density: float | FloatArray,
    liquid_density_g_cm3: float,
) -> float | FloatArray:
    """Return what a stone weighs in a liquid, in carats: W_air (1 - d_liquid / SG)."""
    return weight_air_ct * (1 - liquid_density_g_cm3 / relative_density)


def loss_sd(readability_ct: float) -> float:
    """Return the standard deviation of the loss of weight, in carats, on a given balance.

    Linear between two judged figures, 0.007 ct at a readability of 0.01 ct and 0.002 ct at
    0.001 ct: the wire and the meniscus leave 0.0014 ct however fine the balance is. Source of
    both figures: memory. Raises WeighingError unless the readability is above 0.
    """
    if readability_ct <= 0:
        raise WeighingError(
            f"readability {readability_ct:g} ct must be above 0: it is the last step the "
            "balance shows, such as 0.01 ct"
        )
    return 0.002 + (readability_ct - 0.001) * (0.007 - 0.002) / (0.01 - 0.001)


def relative_density_sd(
    relative_density: float | FloatArray, weight_air_ct: float, readability_ct: float
) -> float | FloatArray:
    """Return the standard error of a hydrostatic SG: SG^2 sd(loss) / weight + 0.003 SG.

    The first part is the balance, the second bubbles, grease and temperature (source:
    memory). At 0.4 ct on a 0.01 ct balance it is 0.29 for corundum: weak, but not nothing.
    """
    balance = relative_density**2 * loss_sd(readability_ct) / weight_air_ct
    return balance + 0.003 * relative_density


def _refuse_temperature(liquid: str, temperature_c: float, low_c: float, high_c: float) -> None:
    if not low_c <= temperature_c <= high_c:
        raise TemperatureRangeError(liquid, temperature_c, low_c, high_c)
