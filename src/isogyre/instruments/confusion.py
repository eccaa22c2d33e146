"""How words are mistaken for one another: matrices from what is there to what is written."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from isogyre.population.words import GLOW_HUES, GLOW_STRENGTHS, GLOWS, HUES

Array = NDArray[np.float64]

# All figures in this module are judgements of the trade, not counts.
COLOUR_RIGHT, COLOUR_NEIGHBOUR, COLOUR_FLOOR = 0.72, 0.21, 0.07
STRENGTH_RIGHT, STRENGTH_NEXT, WEAK_SEEN_AS_INERT = 0.60, 0.25, 0.30
GLOW_HUE_RIGHT, GLOW_HUE_NEIGHBOUR, GLOW_FLOOR = 0.68, 0.16, 0.08

# Which hues a tester may write for one another.
NEIGHBOURS: dict[str, tuple[str, ...]] = {
    "colourless": ("white", "grey", "yellow"),
    "white": ("colourless", "grey"),
    "grey": ("white", "black", "blue", "colourless"),
    "black": ("grey", "brown"),
    "brown": ("orange", "red", "yellow", "black"),
    "red": ("pink", "orange", "brown", "purple"),
    "pink": ("red", "purple", "orange"),
    "orange": ("red", "yellow", "brown", "pink"),
    "yellow": ("orange", "yellow-green", "colourless", "brown"),
    "yellow-green": ("yellow", "green"),
    "green": ("yellow-green", "blue-green"),
    "blue-green": ("green", "blue"),
    "blue": ("blue-green", "violet", "grey"),
    "violet": ("blue", "purple"),
    "purple": ("violet", "pink", "red"),
}
GLOW_NEIGHBOURS: dict[str, tuple[str, ...]] = {
    "red": ("pink", "orange"),
    "pink": ("red", "orange", "violet"),
    "orange": ("yellow", "red", "pink"),
    "yellow": ("orange", "green", "white"),
    "green": ("yellow", "blue", "white"),
    "blue": ("violet", "white", "green"),
    "violet": ("blue", "pink"),
    "white": ("blue", "yellow", "green"),
}


def spread_over_neighbours(
    words: Sequence[str], neighbours: dict[str, tuple[str, ...]], right: float, beside: float
) -> Array:
    """Return the matrix (there, written) of words that are taken for their neighbours."""
    matrix = np.eye(len(words)) * right
    for row, word in enumerate(words):
        for other in neighbours[word]:
            matrix[row, words.index(other)] += beside / len(neighbours[word])
    matrix += (1 - matrix.sum(axis=1, keepdims=True)) / len(words)
    return matrix


def neighbours_in_order(count: int, right: float, beside: float) -> Array:
    """Return the matrix of steps in order, each taken for the next one up or down."""
    steps = np.arange(count)
    matrix = np.where(np.abs(steps[:, None] - steps) == 1, beside, 0.0)
    matrix /= np.maximum(matrix.sum(axis=1, keepdims=True), 1e-9) / beside
    matrix += np.eye(count) * right
    matrix += (1 - matrix.sum(axis=1, keepdims=True)) / count
    return matrix


HUE_CONFUSION = spread_over_neighbours(HUES, NEIGHBOURS, COLOUR_RIGHT, COLOUR_NEIGHBOUR)


def _glow_confusion() -> Array:
    strength = neighbours_in_order(len(GLOW_STRENGTHS), STRENGTH_RIGHT, STRENGTH_NEXT)
    hue = spread_over_neighbours(GLOW_HUES, GLOW_NEIGHBOURS, GLOW_HUE_RIGHT, GLOW_HUE_NEIGHBOUR)
    matrix = np.zeros((len(GLOWS), len(GLOWS)))
    glowing = np.kron(strength[1:, 1:], hue)
    matrix[1:, 1:] = glowing
    # A weak glow is easily missed in a room that is not dark.
    missed = np.repeat((WEAK_SEEN_AS_INERT * 1.5, WEAK_SEEN_AS_INERT, 0.08, 0.03), len(GLOW_HUES))
    matrix[1:] *= ((1 - missed) / matrix[1:, 1:].sum(axis=1))[:, None]
    matrix[1:, 0] = missed
    matrix[0, 0] = 0.82
    faint = np.repeat((0.09, 0.06, 0.02, 0.01), len(GLOW_HUES)) / len(GLOW_HUES)
    matrix[0, 1:] = faint
    uniform = np.concatenate(([0.3], np.full(len(GLOWS) - 1, 0.7 / (len(GLOWS) - 1))))
    blurred: Array = (1 - GLOW_FLOOR) * matrix + GLOW_FLOOR * uniform
    return blurred


GLOW_CONFUSION = _glow_confusion()
