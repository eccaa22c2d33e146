"""Kits: which tests are at hand. A kit is a set of record keys its instruments can fill."""

from dataclasses import dataclass

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


@dataclass(frozen=True)
class Kit:
    """What instruments are at hand, as the record keys they fill."""

    name: str
    about: str
    fields: frozenset[str]


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
