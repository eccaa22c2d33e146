"""How a polished surface reflects: Fresnel at normal incidence, critical and Brewster angle."""

from math import asin, atan, degrees, sqrt

import numpy as np
from numpy.typing import NDArray

from isogyre.optics.errors import NoTotalReflectionError, ReflectanceRangeError

FloatArray = NDArray[np.float64]


def normal_reflectance(
    index: float | FloatArray, surrounding_index: float = 1.0
) -> float | FloatArray:
    """Return the fraction of light that one surface throws straight back, 0 to 1.

    Fresnel's formula for normal incidence on a transparent stone, ((n - m) / (n + m))^2 in a
    surrounding of index m (1 for air). A reading also holds scratches, tarnish and the light
    of the pavilion, so an instrument's figure may be off by several per cent of its value.
    """
    return ((index - surrounding_index) / (index + surrounding_index)) ** 2


def index_from_reflectance(reflectance: float, surrounding_index: float = 1.0) -> float:
    """Return the index of a stone, denser than its surrounding, from its normal reflectance.

    The inverse of `normal_reflectance` for a fraction from 0 up to, not including, 1; else
    ReflectanceRangeError. Near 0.17 (diamond in air) an error of 0.01 moves the index by 0.07.
    """
    if not 0 <= reflectance < 1:
        raise ReflectanceRangeError(reflectance)
    amplitude = sqrt(reflectance)
    return surrounding_index * (1 + amplitude) / (1 - amplitude)


def critical_angle(index_inside: float, index_outside: float = 1.0) -> float:
    """Return the angle of incidence, in degrees, beyond which light is totally reflected.

    Parameters
    ----------
    index_inside
        Index of the medium the light comes from: the stone, or the refractometer's glass.
    index_outside
        Index beyond the surface: air by default, or the stone on the refractometer.

    Raises NoTotalReflectionError unless the light comes from the higher index.
    """
    if not 0 < index_outside < index_inside:
        raise NoTotalReflectionError(index_inside, index_outside)
    return degrees(asin(index_outside / index_inside))


def brewster_angle(index: float, surrounding_index: float = 1.0) -> float:
    """Return the angle of incidence, in degrees, at which reflected light is fully polarised.

    Brewster's law, tan(angle) = n / m, for light falling from a surrounding of index m.
    """
    return degrees(atan(index / surrounding_index))
