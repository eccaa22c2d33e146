"""The bytes of photographs, each in a file named by its SHA-256.

The same picture is kept once; a name says what the file must hold, so damage shows.
"""

import errno
import os
import re
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from hashlib import sha256
from pathlib import Path

from isogyre.ledger.errors import (
    LedgerFullError,
    LedgerReadOnlyError,
    NoHashError,
    PhotographDamagedError,
    PhotographMissingError,
)

HASH = re.compile("[0-9a-f]{64}")
CAUSES = {
    errno.ENOSPC: LedgerFullError,
    errno.EDQUOT: LedgerFullError,
    errno.EROFS: LedgerReadOnlyError,
    errno.EACCES: LedgerReadOnlyError,
    errno.EPERM: LedgerReadOnlyError,
}


class PhotoStore:
    """A folder of photographs; it is made when the first one is put in."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def put(self, picture: bytes) -> str:
        """Keep a picture and return its hash. Once this returns, the picture is on the disk.

        Raises
        ------
        LedgerFullError, LedgerReadOnlyError
            If the folder takes no more, or may not be written.
        """
        name = sha256(picture).hexdigest()
        path = self._path(name)
        with _causes_named(self._folder):
            path.parent.mkdir(parents=True, exist_ok=True)
            _write(path, picture)
        return name

    def get(self, name: str) -> bytes:
        """Return the picture of a hash.

        Raises
        ------
        NoHashError
            If the name is not a SHA-256 in small hexadecimal figures.
        PhotographMissingError, PhotographDamagedError
            If no file has this name, or its bytes are not those that were put in.
        """
        try:
            picture = self._path(name).read_bytes()
        except FileNotFoundError:
            raise PhotographMissingError(name) from None
        if sha256(picture).hexdigest() != name:
            raise PhotographDamagedError(name)
        return picture

    def __contains__(self, name: str) -> bool:
        return self._path(name).is_file()

    def __iter__(self) -> Iterator[str]:
        """Yield the hashes of all pictures, in order."""
        found = (path.name for path in self._folder.glob("??/*"))
        return iter(sorted(name for name in found if HASH.fullmatch(name)))

    def _path(self, name: str) -> Path:
        # Nothing but a hash becomes part of a path, so no name leads out of the folder.
        if not HASH.fullmatch(name):
            raise NoHashError(name)
        return self._folder / name[:2] / name


def _write(path: Path, picture: bytes) -> None:
    """Write beside the place, then rename: a file under its final name is whole."""
    handle, unfinished = tempfile.mkstemp(prefix="unfinished-", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(picture)
            file.flush()
            os.fsync(file.fileno())
        os.replace(unfinished, path)
    except BaseException:
        with suppress(FileNotFoundError):
            os.unlink(unfinished)
        raise
    _settle(path.parent)


def _settle(folder: Path) -> None:
    """See to it that a new name in a folder outlives a loss of power, where the system can."""
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


@contextmanager
def _causes_named(folder: Path) -> Iterator[None]:
    """Turn the system's errors into the ledger's, where the cause is known."""
    try:
        yield
    except OSError as error:
        cause = CAUSES.get(error.errno or 0)
        if cause is None:
            raise
        raise cause(folder, error.strerror or "") from error
