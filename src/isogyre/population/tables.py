"""What is true of each hypothesis, as probability tables: one row a hypothesis.

These are the stone's own properties. What an instrument makes of them, with its errors, is the
instrument's business.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from isogyre.catalogue import Catalogue
from isogyre.catalogue.model import STEP_PROBABILITY, Glow, Seen, Spectrum, Step
from isogyre.population.hypotheses import Hypothesis
from isogyre.population.words import (
    CHARACTERS,
    GLOW_HUES,
    GLOW_STRENGTHS,
    GLOWS,
    HUES,
    LUSTRES,
    MAGNET_STRENGTHS,
    PLEOCHROISM_STRENGTHS,
    POLARISCOPE_WORDS,
    SPECTRUM_CAUSES,
    THERMAL_CLASSES,
    TRANSPARENCIES,
)

Array = NDArray[np.float64]

LINE_SEEN = {"strong": 0.85, "medium": 0.55, "weak": 0.25}
CHROMATIC = tuple(
    HUES.index(hue) for hue in HUES if hue not in ("colourless", "white", "grey", "black", "brown")
)


# single, double, aggregate, anomalous: what a polariscope shows by kind and optic character
# (judgement). Strain imitates double refraction in everything that has been melted or squeezed.
POLARISCOPE_HABITS = {
    ("crystal", "isotropic"): (0.66, 0.04, 0.02, 0.28),
    ("crystal", "uniaxial"): (0.03, 0.90, 0.03, 0.04),
    ("crystal", "biaxial"): (0.03, 0.90, 0.03, 0.04),
    ("glass", "isotropic"): (0.80, 0.02, 0.03, 0.15),
    ("amorphous", "isotropic"): (0.58, 0.02, 0.10, 0.30),
    ("organic", "isotropic"): (0.42, 0.03, 0.10, 0.45),
    ("plastic", "isotropic"): (0.44, 0.03, 0.06, 0.47),
    ("assembled", "isotropic"): (0.60, 0.10, 0.05, 0.25),
    ("assembled", "uniaxial"): (0.12, 0.68, 0.08, 0.12),
    ("assembled", "biaxial"): (0.12, 0.68, 0.08, 0.12),
}
AGGREGATE_HABIT = (0.05, 0.06, 0.84, 0.05)
OPAQUE_HABIT = (0.25, 0.25, 0.25, 0.25)
STATED_HABIT_WEIGHT = 0.92


@dataclass(frozen=True, eq=False)
class Tables:
    """Probability tables of shape (hypotheses, words), in the word order of ``words.py``.

    ``features`` are not distributions: each column is the chance that this one is there and
    noticed. ``line_nm``, ``line_width_nm`` and ``line_seen`` are padded with NaN, 1 and 0.
    """

    hue: Array
    hue_incandescent: Array
    transparency: Array
    lustre: Array
    character: NDArray[np.intp]
    features: Array
    glow_long: Array
    glow_short: Array
    filter_red: Array
    pleochroism: Array
    pleochroism_hues: Array
    line_nm: Array
    line_width_nm: Array
    line_seen: Array
    spectrum_cause: Array
    magnet: Array
    thermal: Array
    conducts: Array
    polariscope: Array

    @cached_property
    def log_absent(self) -> Array:
        """Return the logarithm of the chance that a feature is not there, or not noticed."""
        log: Array = np.log1p(-np.clip(self.features, 0, 0.97))
        return log


def build_tables(rows: Sequence[Hypothesis], catalogue: Catalogue, birefringence: Array) -> Tables:
    """Build the tables; ``birefringence`` is the mean of each hypothesis's stones."""
    line_nm, line_width_nm, line_seen = _lines(rows, catalogue.spectra)
    return Tables(
        hue=np.stack([_steps(row.look.colours, HUES) for row in rows]),
        hue_incandescent=np.stack(
            [_steps(row.look.incandescent or row.look.colours, HUES) for row in rows]
        ),
        transparency=np.stack([_transparency(row) for row in rows]),
        lustre=np.stack([_evenly(row.material.lustre, LUSTRES) for row in rows]),
        character=np.array([CHARACTERS.index(row.material.optic.character) for row in rows]),
        features=_features(rows, catalogue, birefringence),
        glow_long=_glows(rows, "long_wave"),
        glow_short=_glows(rows, "short_wave"),
        filter_red=np.array([_filter_red(row) for row in rows]),
        pleochroism=np.stack([_pleochroism(row) for row in rows]),
        pleochroism_hues=np.stack([_pleochroism_hues(row) for row in rows]),
        line_nm=line_nm,
        line_width_nm=line_width_nm,
        line_seen=line_seen,
        spectrum_cause=np.stack([_causes(row, catalogue.spectra) for row in rows]),
        magnet=np.stack([_magnet(row) for row in rows]),
        thermal=np.stack([_thermal(row) for row in rows]),
        conducts=np.array([float(row.material.conducts) for row in rows]),
        polariscope=np.stack([_polariscope(row) for row in rows]),
    )


def _steps(steps: Mapping[Any, Step], words: Sequence[str]) -> Array:
    """Turn steps into shares that sum to 1; nothing said is flat."""
    weights = np.array([STEP_PROBABILITY[steps[w]] if w in steps else 0.0 for w in words])
    return weights / weights.sum() if weights.any() else np.full(len(words), 1 / len(words))


def _evenly(said: Iterable[str], words: Sequence[str]) -> Array:
    return _steps(dict.fromkeys(said, "often"), words)


def _transparency(row: Hypothesis) -> Array:
    return _steps(row.look.transparency or row.material.transparency, TRANSPARENCIES)


def _features(rows: Sequence[Hypothesis], catalogue: Catalogue, birefringence: Array) -> Array:
    columns = {name: column for column, name in enumerate(catalogue.features)}
    elsewhere = np.array([feature.elsewhere for feature in catalogue.features.values()])
    table = np.stack([_feature_row(row, columns, elsewhere) for row in rows])
    # Doubling is optics, not habit: it follows from the birefringence of clear stones.
    clear = np.array([_transparency(row)[0] for row in rows])
    doubling = _doubling(birefringence)
    table[:, columns["doubling of back facets"]] = np.clip(doubling * clear, 0.004, 0.97)
    table[:, columns["no doubling"]] = np.clip((1 - doubling) * clear * 0.3, 0.004, 0.97)
    return table


def _feature_row(row: Hypothesis, columns: Mapping[str, int], elsewhere: Array) -> Array:
    absent = 1 - elsewhere.copy()
    # A look that names a feature of its body says how often this look has it: the later word holds.
    stated = (*row.body.features, *row.look.features, *row.look.phenomena)
    for name, step in {seen.name: seen.seen for seen in stated}.items():
        absent[columns[name]] *= 1 - STEP_PROBABILITY[step]
    if row.treatment is None:
        return 1 - absent
    present = 1 - absent
    for seen in row.treatment.hides:
        present[columns[seen.name]] *= 1 - STEP_PROBABILITY[seen.seen]
    for seen in row.treatment.features:
        column = columns[seen.name]
        present[column] = 1 - (1 - present[column]) * (1 - STEP_PROBABILITY[seen.seen])
    return np.maximum(present, elsewhere / 4)


def _doubling(birefringence: Array) -> Array:
    """Chance that doubling of back facets is noticed at ten-power (judgement).

    Half of the observers see it at a birefringence of 0.020, nearly all above 0.035.
    """
    return 0.92 / (1 + np.exp(-(np.nan_to_num(birefringence) - 0.020) / 0.004))


def _glows(rows: Sequence[Hypothesis], lamp: str) -> Array:
    """Return the true glow of each hypothesis; where nothing is said, the average of the rest."""
    said = [_glow_row(row, lamp) for row in rows]
    known = [row for row in said if row is not None]
    average = np.mean(known, axis=0) if known else np.full(len(GLOWS), 1 / len(GLOWS))
    return np.stack([average if row is None else row for row in said])


def _glow_row(row: Hypothesis, lamp: str) -> Array | None:
    treatment: tuple[Glow, ...] = getattr(row.treatment, lamp) if row.treatment else ()
    glows: tuple[Glow, ...] = treatment or getattr(row.look, lamp)
    if not glows:
        return None
    shares = np.zeros(len(GLOWS))
    for glow in glows:
        shares[glow_index(glow.look)] += STEP_PROBABILITY[glow.seen]
    normalised: Array = shares / shares.sum()
    return normalised


def glow_index(look: str) -> int:
    """Return the column of a glow such as ``weak red``; a strength alone is taken as white.

    Raises
    ------
    ValueError
        If the words are not in the vocabulary.
    """
    if look in GLOWS:
        return GLOWS.index(look)
    strength = next((s for s in reversed(GLOW_STRENGTHS) if look.startswith(s)), "")
    hue = next((h for h in GLOW_HUES if h in look), "white")
    if not strength or strength == "inert":
        raise ValueError(f"'{look}' is no glow; write 'inert' or for instance 'weak red'")
    return GLOWS.index(f"{strength} {hue}")


def _filter_red(row: Hypothesis) -> float:
    reaction = (row.treatment and row.treatment.filter) or row.look.filter
    if reaction:
        return STEP_PROBABILITY[reaction.red]
    # Red, pink and purple stones pass red light whatever colours them.
    reddish = _steps(row.look.colours, HUES)[[HUES.index(h) for h in ("red", "pink", "purple")]]
    return float(0.05 + 0.6 * reddish.sum())


def _pleochroism(row: Hypothesis) -> Array:
    shares = np.zeros(len(PLEOCHROISM_STRENGTHS))
    if row.material.optic.character in ("isotropic", "aggregate", "opaque"):
        shares[0] = 1.0
    elif row.look.pleochroism:
        shares[PLEOCHROISM_STRENGTHS.index(row.look.pleochroism.strength)] = 1.0
    else:
        coloured = _steps(row.look.colours, HUES)[list(CHROMATIC)].sum()
        shares[:] = (1 - coloured) * np.array([1, 0, 0, 0]) + coloured * np.array(
            [0.35, 0.4, 0.2, 0.05]
        )
    return shares


def _pleochroism_hues(row: Hypothesis) -> Array:
    """Return which hues the dichroscope can show; the last word of a colour is its hue."""
    said = row.look.pleochroism.colours if row.look.pleochroism else ()
    hues = {hue for colour in said for hue in HUES if colour.split()[-1] == hue}
    return _evenly(hues, HUES) if hues else _steps(row.look.colours, HUES)


def _spectra_of(row: Hypothesis) -> tuple[Seen, ...]:
    return (*row.look.spectrum, *(row.treatment.spectrum if row.treatment else ()))


def _lines(
    rows: Sequence[Hypothesis], spectra: Mapping[str, Spectrum]
) -> tuple[Array, Array, Array]:
    listed = [
        [
            (line.nm, line.width_nm, STEP_PROBABILITY[seen.seen] * LINE_SEEN[line.strength])
            for seen in _spectra_of(row)
            for line in spectra[seen.name].lines
        ]
        for row in rows
    ]
    longest = max(1, *(len(lines) for lines in listed))
    padded = np.array([lines + [(np.nan, 1.0, 0.0)] * (longest - len(lines)) for lines in listed])
    return padded[:, :, 0], padded[:, :, 1], padded[:, :, 2]


def _causes(row: Hypothesis, spectra: Mapping[str, Spectrum]) -> Array:
    """Return the chance that the lines of each cause are recognised as such."""
    unseen = np.ones(len(SPECTRUM_CAUSES))
    for seen in _spectra_of(row):
        cause = spectra[seen.name].cause
        column = SPECTRUM_CAUSES.index(cause if cause in SPECTRUM_CAUSES else "other")
        unseen[column] *= 1 - 0.85 * STEP_PROBABILITY[seen.seen]
    return np.clip(1 - unseen, 0.01, 0.95)


def _magnet(row: Hypothesis) -> Array:
    shares = {"": (0.9, 0.08, 0.02), "none": (0.97, 0.03, 0.0)}
    stated = row.look.magnet
    if stated in ("weak", "strong"):
        return _evenly([stated], MAGNET_STRENGTHS) * 0.8 + 0.2 * np.array([0.5, 0.4, 0.1])
    return np.array(shares[stated])


def _thermal(row: Hypothesis) -> Array:
    return _evenly([row.material.thermal or "low"], THERMAL_CLASSES)


def _polariscope(row: Hypothesis) -> Array:
    character = row.material.optic.character
    general = {"aggregate": AGGREGATE_HABIT, "opaque": OPAQUE_HABIT}.get(character)
    if general is None:
        general = POLARISCOPE_HABITS.get((row.material.kind, character), (0.2, 0.4, 0.2, 0.2))
    habit = row.body.polariscope or row.material.polariscope
    if habit is None:
        return np.array(general)
    stated = _steps(habit.shares, POLARISCOPE_WORDS)
    return STATED_HABIT_WEIGHT * stated + (1 - STATED_HABIT_WEIGHT) * np.array(general)
