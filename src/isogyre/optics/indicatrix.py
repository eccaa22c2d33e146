"""Birefringence, optic axial angle and optic sign of three principal indices."""

from math import atan2, degrees, sqrt
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from isogyre.optics.errors import IndexOrderError, IsotropicError

FloatArray = NDArray[np.float64]
OpticSign = Literal["+", "-", "±"]


def birefringence(n_alpha: float, n_beta: float, n_gamma: float) -> float:
    """Return the full birefringence n_gamma - n_alpha, which no single position need show.

    Raises IndexOrderError if the indices are not in ascending order.
    """
    _refuse_disorder(n_alpha, n_beta, n_gamma)
    return n_gamma - n_alpha


def two_v(n_alpha: float, n_beta: float, n_gamma: float) -> float:
    """Return the optic axial angle 2V measured across Z, the n_gamma direction.

    Parameters
    ----------
    n_alpha, n_beta, n_gamma
        Principal refractive indices at one wavelength, smallest first. Scalars.

    Returns
    -------
    angle
        2V_Z in degrees, 0 to 180. Below 90 the stone is biaxial positive, above 90
        negative; 0 and 180 are the uniaxial limits.

    Raises
    ------
    IndexOrderError
        If the indices are not in ascending order.
    IsotropicError
        If all three are equal: there is no optic axis to measure.

    Notes
    -----
    An optic axis is normal to a circular section of the indicatrix, whose radius is
    n_beta; its tilt from Z then obeys
    tan^2 V = (n_alpha^-2 - n_beta^-2) / (n_beta^-2 - n_gamma^-2).
    Near n = 1.74 with birefringence 0.008, moving n_beta by 0.001 moves 2V by 15 to 20
    degrees: hand readings give a sign, rarely an angle.
    """
    _refuse_disorder(n_alpha, n_beta, n_gamma)
    if n_alpha == n_gamma:
        raise IsotropicError(n_alpha)
    towards_x = n_alpha**-2 - n_beta**-2
    towards_z = n_beta**-2 - n_gamma**-2
    return 2 * degrees(atan2(sqrt(towards_x), sqrt(towards_z)))


def two_v_range(
    n_alpha: float, n_beta: float, n_gamma: float, reading_error: float
) -> tuple[float, float]:
    """Return the smallest and largest 2V_Z, in degrees, if each index may be off by an error.

    The angle grows with n_beta and shrinks with n_alpha and n_gamma, so two corners bound
    it. A corner where the middle index passes an outer one is the uniaxial limit. Where the
    error could hide all birefringence every angle is possible: 0 to 180.
    Raises as `two_v`.
    """
    two_v(n_alpha, n_beta, n_gamma)
    if n_gamma - n_alpha <= 2 * reading_error:
        return 0.0, 180.0
    smallest = _clipped(n_alpha + reading_error, n_beta - reading_error, n_gamma + reading_error)
    largest = _clipped(n_alpha - reading_error, n_beta + reading_error, n_gamma - reading_error)
    return two_v(*smallest), two_v(*largest)


def optic_sign(n_alpha: float, n_beta: float, n_gamma: float) -> OpticSign:
    """Return "+" if 2V_Z is below 90 degrees, "-" if above, "±" if exactly 90.

    The shortcut that compares n_gamma - n_beta with n_beta - n_alpha disagrees with this
    near 2V = 90, where no hand reading decides. Raises as `two_v`.
    """
    angle_deg = two_v(n_alpha, n_beta, n_gamma)
    if angle_deg == 90:
        return "±"
    return "+" if angle_deg < 90 else "-"


def two_v_of_stones(n_alpha: FloatArray, n_beta: FloatArray, n_gamma: FloatArray) -> FloatArray:
    """Return 2V_Z in degrees for many stones at once; NaN where a stone is isotropic.

    Indices must ascend in every stone: this is the array form of `two_v`, for stones that
    were drawn in order, and it does not check.
    """
    towards_x = np.sqrt(n_alpha**-2 - n_beta**-2)
    towards_z = np.sqrt(n_beta**-2 - n_gamma**-2)
    angle_deg = 2 * np.degrees(np.arctan2(towards_x, towards_z))
    return np.where(n_alpha == n_gamma, np.nan, angle_deg)


def _refuse_disorder(n_alpha: float, n_beta: float, n_gamma: float) -> None:
    if not n_alpha <= n_beta <= n_gamma:
        raise IndexOrderError(n_alpha, n_beta, n_gamma)


def _clipped(n_alpha: float, n_beta: float, n_gamma: float) -> tuple[float, float, float]:
    return n_alpha, min(max(n_beta, n_alpha), n_gamma), n_gamma
