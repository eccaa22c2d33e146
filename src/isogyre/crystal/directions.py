"""Angles between lattice directions and planes of any cell, from its metric tensor."""

import itertools
from math import acos, degrees

import numpy as np
from numpy.typing import NDArray

from isogyre.crystal.cell import Cell
from isogyre.crystal.errors import FourIndexError, NoDirectionError

FloatArray = NDArray[np.float64]
Indices = tuple[int, int, int]


def direction_angle(cell: Cell, first: Indices, second: Indices) -> float:
    """Return the angle between directions [uvw] in degrees, 0 to 180.

    Raises NoDirectionError if one of them is [000].
    """
    return _angle(cell.metric(), first, second)


def plane_angle(cell: Cell, first: Indices, second: Indices) -> float:
    """Return the angle between the normals of planes (hkl) in degrees, 0 to 180.

    This is the interfacial angle as a goniometer reads it. Raises as `direction_angle`.
    """
    return _angle(np.asarray(np.linalg.inv(cell.metric()), float), first, second)


def three_index_direction(u: int, v: int, t: int, w: int) -> Indices:
    """Return [UVW] of a hexagonal or trigonal direction written with four indices [uvtw].

    Raises FourIndexError unless u + v + t = 0. For planes it is enough to leave out the third
    index; for directions it is not.
    """
    if u + v + t:
        raise FourIndexError(u, v, t, w)
    return 2 * u + v, u + 2 * v, w


def cubic_family(indices: Indices) -> list[Indices]:
    """Return the lines <uvw> of a cubic crystal, each once and not again reversed."""
    signs = itertools.product((1, -1), repeat=3)
    signed = [(s * indices[0], t * indices[1], r * indices[2]) for s, t, r in signs]
    lines = {(x, y, z) for one in signed for x, y, z in itertools.permutations(one)}
    return sorted(line for line in lines if line > (0, 0, 0))


def line_angles(cell: Cell, first: list[Indices], second: list[Indices]) -> set[float]:
    """Return the angles between two sets of lines, in degrees to 0.01, both ways round.

    A needle has no head: two lines at 70.53 degrees are also at 109.47, so both are given.
    A line is not paired with itself. Raises as `direction_angle`.
    """
    pairs = ((one, other) for one in first for other in second if one != other)
    angles = [direction_angle(cell, one, other) for one, other in pairs]
    return {round(way, 2) for angle in angles for way in (angle, 180 - angle)}


def _angle(metric: FloatArray, first: Indices, second: Indices) -> float:
    if not any(first) or not any(second):
        raise NoDirectionError
    one, other = np.array(first, float), np.array(second, float)
    product = one @ metric @ other
    lengths = np.sqrt((one @ metric @ one) * (other @ metric @ other))
    return degrees(acos(np.clip(product / lengths, -1, 1)))
