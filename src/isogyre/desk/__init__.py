"""The use cases: the only room that joins the ledger with the pure rooms."""

from isogyre.catalogue import UnknownMaterialError
from isogyre.desk.answers import IdentifyAnswer, NextAnswer
from isogyre.desk.cards import MaterialCard
from isogyre.desk.errors import RecordTroubleError, UnknownWordError
from isogyre.desk.house import House, open_house
from isogyre.desk.identify import identify, next_tests
from isogyre.desk.material import material_card
from isogyre.desk.workbench import Workbench, open_workbench
from isogyre.ledger import (
    LedgerConflictError,
    LedgerDamagedError,
    LedgerError,
    LedgerForeignError,
    LedgerFullError,
    LedgerLockedError,
    LedgerNewerError,
    LedgerReadOnlyError,
    LedgerUnreachableError,
    RefusedEntryError,
    UnknownEntryError,
)

__all__ = [
    "House",
    "IdentifyAnswer",
    "LedgerConflictError",
    "LedgerDamagedError",
    "LedgerError",
    "LedgerForeignError",
    "LedgerFullError",
    "LedgerLockedError",
    "LedgerNewerError",
    "LedgerReadOnlyError",
    "LedgerUnreachableError",
    "MaterialCard",
    "NextAnswer",
    "RecordTroubleError",
    "RefusedEntryError",
    "UnknownEntryError",
    "UnknownMaterialError",
    "UnknownWordError",
    "Workbench",
    "identify",
    "material_card",
    "next_tests",
    "open_house",
    "open_workbench",
]
