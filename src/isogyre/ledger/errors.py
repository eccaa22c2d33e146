"""What can go wrong with the ledger: one class a cause, and the place where drivers' errors end.

Every message says what to do next. ``translate`` turns the errors of both database drivers into
these classes; nothing above the ledger meets a driver's own.
"""

from collections.abc import Iterable
from datetime import datetime
from typing import Any, ClassVar

from sqlalchemy import exc
from sqlalchemy.engine import ExceptionContext

from isogyre.ledger.append_only import DUPLICATE


class LedgerError(Exception):
    """The ledger could not do what was asked.

    ``place`` is the database's address without its password, ``words`` what the driver said.
    """

    says: ClassVar[str] = "did not do what was asked"

    def __init__(self, place: object, words: str = "") -> None:
        shown = f" ({words})" if words else ""
        super().__init__(f"the ledger at {place} {self.says}{shown}")


# ---- the database ----------------------------------------------------------------------------


class LedgerLockedError(LedgerError, TimeoutError):
    """Somebody else kept writing for longer than one waits."""

    says = (
        "is being written by another program and did not come free in time: close the other "
        "program if it hangs, then try again; nothing was kept of this entry"
    )


class LedgerConflictError(LedgerError):
    """Two writers changed the same row at the same moment; the other one was first."""

    says = (
        "was changed by somebody else at the same moment: look at it again, then repeat the entry"
    )


class LedgerReadOnlyError(LedgerError, PermissionError):
    """The ledger may be read but not written."""

    says = (
        "can be read but not written: give this user the right to write the file and its folder, "
        "or the database role the right to write; a view never writes"
    )


class LedgerFullError(LedgerError, OSError):
    """There is no room left on the disk."""

    says = (
        "has no room left on its disk: free some space, then repeat the entry; what was kept "
        "before is safe"
    )


class LedgerDamagedError(LedgerError, ValueError):
    """The file is not a ledger, or parts of it cannot be read."""

    says = (
        "is damaged or is no database: put it aside unchanged, restore the last backup, and keep "
        "the damaged file, from which rows may still be recovered"
    )


class LedgerUnreachableError(LedgerError, ConnectionError):
    """The database does not answer, or the file cannot be opened."""

    says = (
        "cannot be opened: check that the folder exists and may be entered, or that the database "
        "server runs and the address, user and password are right"
    )


class LedgerAddressError(LedgerError, ValueError):
    """The address names no database that a ledger can live in."""

    says = (
        "has an address of an unknown kind: write sqlite:///FILE for one bench, or "
        "postgresql://USER@HOST/NAME for a shared shop"
    )


class LedgerForeignError(LedgerError, ValueError):
    """The database belongs to something else."""

    says = (
        "already holds tables that are not a ledger's: name an empty database or a new file, so "
        "that nothing in this one is touched"
    )


class LedgerNewerError(LedgerError, ValueError):
    """The ledger was written by a newer version of the program."""

    says = (
        "was written by a newer version of this program: update the program, or open a backup "
        "made before the update; nothing was changed"
    )


class LedgerMigrationError(LedgerError, RuntimeError):
    """A step to this version went wrong."""

    says = (
        "could not be brought to this version of the program, and nothing was changed: open it "
        "with the version before, and report these words"
    )


# ---- the entries -----------------------------------------------------------------------------


class AlreadyKeptError(LedgerError, ValueError):
    """An entry of this id, number or name is in the ledger already."""

    says = (
        "already holds an entry of this id, number or name: if it was sent twice, all is well; "
        "if not, give the new one an id of its own"
    )


class UnknownReferenceError(LedgerError, LookupError):
    """An entry names a stone, a party, a photograph or a reading that is not in the ledger."""

    says = (
        "has nothing of the id that this entry names: enter the stone, party or photograph "
        "first; a correction names a reading of the same stone and field"
    )


class RefusedEntryError(LedgerError, ValueError):
    """A rule of the database refused the entry: an unknown word, or a figure out of range."""

    says = "refused the entry, nothing was kept: mend what the rule at the end of this line names"


class UnknownEntryError(LookupError):
    """Nothing of this id is in the ledger."""

    def __init__(self, kind: str, sought: str) -> None:
        super().__init__(f"no {kind} '{sought}' is in the ledger: look it up in the list")


class UnamendableError(ValueError):
    """An entry has no such field, or one that never changes."""

    def __init__(self, wrong: Iterable[str], amendable: Iterable[str]) -> None:
        super().__init__(
            f"{', '.join(sorted(wrong))} cannot be amended: amend {', '.join(sorted(amendable))}"
        )


class NaiveTimeError(ValueError):
    """A time without its time zone."""

    def __init__(self, moment: datetime) -> None:
        super().__init__(
            f"{moment.isoformat()} has no time zone, so nobody knows when it was: hand in an "
            "aware time, for instance datetime.now(UTC)"
        )


class UnkeepableError(ValueError):
    """A value that one of the databases would change or lose."""

    def __init__(self, value: Any, why: str) -> None:
        super().__init__(f"{str(value)[:60]!r} cannot be kept unchanged: {why}")


class CurrencyError(ValueError):
    """An amount of money that is not whole minor units of an ISO 4217 currency."""

    def __init__(self, minor: Any, currency: Any) -> None:
        super().__init__(
            f"{minor!r} {currency!r} is no amount: give whole minor units below 2^53 and a code "
            "of three capitals, for instance Money(48000, 'EUR') for 480 euros"
        )


class NoHashError(ValueError):
    """A photograph was asked for by something that is not its hash."""

    def __init__(self, name: str) -> None:
        super().__init__(
            f"{name[:70]!r} is not a SHA-256 in 64 small hexadecimal figures: ask for a photograph "
            "by the hash in its row"
        )


class PhotographMissingError(FileNotFoundError):
    """No file of this hash is in the photo store."""

    def __init__(self, name: str) -> None:
        super().__init__(f"the file of photograph {name} is missing: restore it from a backup")


class PhotographDamagedError(ValueError):
    """The bytes of a photograph are not those that were put in."""

    def __init__(self, name: str) -> None:
        super().__init__(f"the file of photograph {name} is damaged: restore it from a backup")


# ---- from the drivers' errors ----------------------------------------------------------------

# The beginning of SQLite's error names and of PostgreSQL's SQLSTATE codes, each followed by the
# driver's words; the longest that fits decides.
CAUSES: dict[str, type[LedgerError]] = {
    "SQLITE_BUSY": LedgerLockedError,
    "SQLITE_LOCKED": LedgerLockedError,
    "SQLITE_READONLY": LedgerReadOnlyError,
    "SQLITE_FULL": LedgerFullError,
    "SQLITE_CORRUPT": LedgerDamagedError,
    "SQLITE_NOTADB": LedgerDamagedError,
    "SQLITE_CANTOPEN": LedgerUnreachableError,
    "SQLITE_IOERR": LedgerUnreachableError,
    "SQLITE_PERM": LedgerUnreachableError,
    "SQLITE_CONSTRAINT": RefusedEntryError,
    "SQLITE_CONSTRAINT_PRIMARYKEY": AlreadyKeptError,
    "SQLITE_CONSTRAINT_UNIQUE": AlreadyKeptError,
    "SQLITE_CONSTRAINT_FOREIGNKEY": UnknownReferenceError,
    f"SQLITE_CONSTRAINT_TRIGGER {DUPLICATE}": AlreadyKeptError,
    "55P03": LedgerLockedError,
    "57014": LedgerLockedError,
    "40": LedgerConflictError,
    "25006": LedgerReadOnlyError,
    "42501": LedgerReadOnlyError,
    "53": LedgerUnreachableError,
    "53100": LedgerFullError,
    "08": LedgerUnreachableError,
    "28": LedgerUnreachableError,
    "3D": LedgerUnreachableError,
    "57P": LedgerUnreachableError,
    "58": LedgerUnreachableError,
    "XX00": LedgerDamagedError,
    "22": RefusedEntryError,
    "23": RefusedEntryError,
    "23503": UnknownReferenceError,
    "23505": AlreadyKeptError,
}


def cause_of(code: str) -> type[LedgerError] | None:
    """Return the error class of a code with the driver's words, or None for an unknown one."""
    fitting = [beginning for beginning in CAUSES if code.startswith(beginning)]
    return CAUSES[max(fitting, key=len)] if fitting else None


def translate(context: ExceptionContext) -> LedgerError | None:
    """Return the ledger's own error for a driver's, or None to leave the error as it is."""
    original = context.original_exception
    code = getattr(original, "sqlite_errorname", None) or getattr(original, "sqlstate", None)
    cause = cause_of(f"{code} {original}") if code else _cause_without_code(context)
    place = context.engine.url.render_as_string() if context.engine else "this address"
    return cause(place, str(original).strip()) if cause else None


def _cause_without_code(context: ExceptionContext) -> type[LedgerError] | None:
    """Return the cause of an error that the driver raised before it asked the database."""
    if isinstance(context.sqlalchemy_exception, exc.OperationalError):
        return LedgerUnreachableError
    unfit = isinstance(context.sqlalchemy_exception, exc.DataError)
    return RefusedEntryError if unfit else None
