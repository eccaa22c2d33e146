"""What may be chosen in a question: the kit at hand and what is to be settled."""

from isogyre.evidence.grouping import SETTLE
from isogyre.instruments.kits import DEFAULT_KIT, KITS

__all__ = ["DEFAULT_KIT", "DEFAULT_SETTLE", "KIT_NAMES", "SETTLE_NAMES"]

KIT_NAMES = tuple(KITS)
SETTLE_NAMES = tuple(SETTLE)
DEFAULT_SETTLE = SETTLE_NAMES[0]
