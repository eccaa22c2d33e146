"""One file an instrument: its fields, its error, its likelihood, its cautions."""

from isogyre.catalogue import Catalogue
from isogyre.instruments.balance import BALANCE, HEAVY_LIQUIDS
from isogyre.instruments.crossed_polars import CROSSED_POLARS
from isogyre.instruments.dichroscope import DICHROSCOPE
from isogyre.instruments.instrument import (
    Field,
    Ignored,
    Instrument,
    PlannedTest,
    Reading,
    Readings,
    Trouble,
)
from isogyre.instruments.lamps import LAMPS
from isogyre.instruments.loupe import loupe
from isogyre.instruments.naked_eye import NAKED_EYE
from isogyre.instruments.refractometer import REFRACTOMETER
from isogyre.instruments.small_tests import (
    COLOUR_FILTER,
    ELECTRICAL_PROBE,
    HARDNESS_RECORD,
    MAGNET_TEST,
    REFLECTIVITY_METER,
    THERMAL_PROBE,
)
from isogyre.instruments.spectroscope import SPECTROSCOPE
from isogyre.instruments.term import Term, tail_probability
from isogyre.instruments.testimony import testimony

__all__ = [
    "Field",
    "Ignored",
    "Instrument",
    "PlannedTest",
    "Reading",
    "Readings",
    "Term",
    "Trouble",
    "bench",
    "tail_probability",
]


def bench(catalogue: Catalogue) -> tuple[Instrument, ...]:
    """Return every instrument, ready for the words of ``catalogue``, in the order of a bench."""
    return (
        NAKED_EYE,
        loupe(catalogue.features),
        REFRACTOMETER,
        CROSSED_POLARS,
        BALANCE,
        HEAVY_LIQUIDS,
        DICHROSCOPE,
        SPECTROSCOPE,
        LAMPS,
        COLOUR_FILTER,
        MAGNET_TEST,
        THERMAL_PROBE,
        ELECTRICAL_PROBE,
        REFLECTIVITY_METER,
        HARDNESS_RECORD,
        testimony(catalogue),
    )
