"""A private PostgreSQL: its own cluster in a temporary folder, reached by a socket alone."""

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote

import psycopg

PROGRAMS = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"))
OWNER = "isogyre"


@dataclass(frozen=True)
class Cluster:
    """A running server, by the folder of its socket."""

    folder: Path

    def address(self, database: str = "postgres", **settings: str) -> str:
        """Return the address of a database, opened with settings of the server."""
        options = quote(" ".join(f"-c {name}={value}" for name, value in settings.items()))
        return f"postgresql://{OWNER}@/{database}?host={self.folder}&options={options}"

    def run(self, statement: str) -> None:
        """Run a statement in the database that is always there."""
        with psycopg.connect(self.address(), autocommit=True) as connection:
            connection.execute(statement)


@contextmanager
def private_cluster() -> Iterator[Cluster]:
    """Start a server for as long as the block lasts. Debian's package has to be there."""
    folder = Path(tempfile.mkdtemp(prefix="isogyre-"))
    # The server refuses to run as root.
    user = "postgres" if os.geteuid() == 0 else None
    if user:
        shutil.chown(folder, user, user)

    def run(program: str, *arguments: str) -> None:
        command = [PROGRAMS[-1].with_name(program), "-D", folder / "data", *arguments]
        with (folder / "log").open("a") as log:
            subprocess.run(
                command, user=user, group=user, cwd=folder, stdout=log, stderr=log, check=True
            )

    # The data live for a minute: nothing is gained by waiting for the disk.
    options = f"-c listen_addresses='' -c unix_socket_directories={folder} -c fsync=off"
    try:
        run("initdb", "-U", OWNER, "-A", "trust", "-E", "UTF8", "--locale=C.UTF-8", "--no-sync")
        run("pg_ctl", "-w", "-t", "60", "-l", str(folder / "server.log"), "-o", options, "start")
        yield Cluster(folder)
        run("pg_ctl", "-m", "immediate", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)
