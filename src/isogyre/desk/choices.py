"""What may be chosen in a question: the kit at hand and what is to be settled."""

from isogyre.desk.errors import UnknownWordError
from isogyre.evidence.grouping import SETTLE
from isogyre.instruments.kits import DEFAULT_KIT, KITS, Kit

__all__ = ["DEFAULT_KIT", "DEFAULT_SETTLE", "KIT_NAMES", "SETTLE_NAMES", "Kit", "kit_of"]

KIT_NAMES = tuple(KITS)
SETTLE_NAMES = tuple(SETTLE)
DEFAULT_SETTLE = SETTLE_NAMES[0]


def kit_of(kit: str | Kit) -> Kit:
    """Return a kit as it is, or the built-in one of this name.

    Raises
    ------
    UnknownWordError
        If no built-in kit has this name.
    """
    if isinstance(kit, Kit):
        return kit
    if kit not in KITS:
        raise UnknownWordError("kit", kit, KIT_NAMES)
    return KITS[kit]
