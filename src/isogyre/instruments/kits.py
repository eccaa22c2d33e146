"""Kits: which tests are at hand. A kit is a set of record keys its instruments can fill.

A kit of one's own also says how long its tests take and what figures its instruments have of
their own: the error of this refractometer, the end of its scale, the last step of this balance.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from math import inf

from isogyre.instruments.instrument import PlannedTest

EYE_AND_LOUPE = frozenset(
    ("colour", "colour_incandescent", "transparency", "lustre", "magnification")
)
POCKET = EYE_AND_LOUPE | {"pleochroism", "chelsea", "magnet"}
BENCH = POCKET | {
    "ri_low",
    "ri_spot",
    "polariscope",
    "optic_character",
    "sg",
    "spectrum_text",
    "uv_lw",
    "uv_sw",
}
LABORATORY = BENCH | {"thermal", "electrical", "reflectivity_index"}


class KitFigureError(ValueError):
    """Minutes or an error of a kit that no instrument can have."""

    def __init__(self, kit: str, key: str, figure: float) -> None:
        super().__init__(
            f"the kit '{kit}' holds {figure:g} for {key}, which must be above 0: leave it out, "
            "and the usual figure counts"
        )


@dataclass(frozen=True)
class Kit:
    """What instruments are at hand, as the record keys they fill.

    ``minutes`` holds, by the key a test fills, how long it takes with this kit; ``errors``, by
    the key under which a record holds it, a figure of the kit's own instruments in the unit of
    that field: one standard deviation, the end of a scale, the last step of a balance. What is
    left out is as usual.

    Raises
    ------
    KitFigureError
        If minutes or an error are not above 0.
    """

    name: str
    about: str
    fields: frozenset[str]
    minutes: Mapping[str, float] = field(default_factory=dict)
    errors: Mapping[str, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for key, figure in (*self.minutes.items(), *self.errors.items()):
            if not 0 < figure < inf:
                raise KitFigureError(self.name, key, figure)

    def holds(self, test: PlannedTest) -> bool:
        """Return whether the test can be made with this kit."""
        return test.field in self.fields

    def makes(self, test: PlannedTest) -> PlannedTest:
        """Return a test as this kit makes it: in its minutes, with its instrument's figures."""
        minutes = self.minutes.get(test.field, test.minutes)
        return replace(test.made_with(self.errors), minutes=minutes)


# Heavy liquids are in no kit: the user adds them, knowing what they are.
KITS = {
    kit.name: kit
    for kit in (
        Kit("pocket", "loupe, torch, dichroscope, colour filter, magnet", POCKET),
        Kit("bench", "the pocket kit and a full gemmological bench", BENCH),
        Kit("full", "the bench and its electrical probes", LABORATORY),
    )
}
DEFAULT_KIT = "bench"
