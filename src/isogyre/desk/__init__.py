"""The use cases: the only room that joins the ledger with the pure rooms."""

from isogyre.desk.answers import IdentifyAnswer, NextAnswer
from isogyre.desk.errors import RecordTroubleError, UnknownWordError
from isogyre.desk.identify import identify, next_tests
from isogyre.desk.workbench import Workbench, open_workbench

__all__ = [
    "IdentifyAnswer",
    "NextAnswer",
    "RecordTroubleError",
    "UnknownWordError",
    "Workbench",
    "identify",
    "next_tests",
    "open_workbench",
]
