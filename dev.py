#!/usr/bin/env python3
"""Set up, run, test and measure isogyre, with the standard library alone.

Give it one of these:

    python3 dev.py setup                  make .venv from requirements.lock
    python3 dev.py run [SERVE OPTION...]  open the program on this machine, on a demo bench
    python3 dev.py test                   everything that CI checks
    python3 dev.py test PATH -k NAME      only pytest, with these arguments
    python3 dev.py bench [NAME...] [--json]

All of them set up first, which takes no time once it is done.
"""

from __future__ import annotations

import argparse
import contextlib
import glob
import hashlib
import http.client
import importlib.util
import os
import shutil
import signal
import socket
import subprocess
import sys
import time
import webbrowser
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
BIN = VENV / ("Scripts" if os.name == "nt" else "bin")
STAMP = VENV / "isogyre.stamp"
HOST, PORT = "127.0.0.1", 8000
DEMO = ROOT / ".bench"

# What the tests need from the system: (Debian package, a file that shows it is there, what for).
SYSTEM_PACKAGES = (
    ("chromium", "/usr/bin/chromium", "browser tests"),
    ("postgresql", "/usr/lib/postgresql/*/bin/initdb", "ledger tests on PostgreSQL"),
)

CHECKS = {
    "ruff check": ["ruff", "check"],
    "ruff format": ["ruff", "format", "--check"],
    "mypy": ["mypy"],
    "lint-imports": ["lint-imports", "--no-logo"],
    "pytest": ["pytest", "--cov", "--cov-report=term:skip-covered"],
}


def call(name: str, *arguments: str) -> int:
    """Run a program of the environment, in the project's folder; return its exit code."""
    return subprocess.run([BIN / name, *arguments]).returncode


# ---- set-up ----------------------------------------------------------------------------------


def require_python() -> None:
    """Stop with a way out if this Python cannot make the environment."""
    if sys.version_info < (3, 11):  # noqa: UP036 - this file is started by whatever Python is there
        sys.exit(f"isogyre needs Python 3.11 or newer; this is {sys.version.split()[0]}")
    if not all(map(importlib.util.find_spec, ("venv", "ensurepip"))):
        sys.exit("this Python has no venv module: apt-get install python3-venv, then try again")


def pip_environment() -> dict[str, str]:
    """Return the variables for pip: without a home that can be written, it keeps no cache."""
    home = os.path.expanduser("~")
    usable = home != "/" and os.access(home, os.W_OK)
    return dict(os.environ) | ({} if usable else {"PIP_NO_CACHE_DIR": "1"})


def pip_install(*arguments: str) -> None:
    """Install into the environment, or stop with pip's own words and exit code."""
    pip = [str(BIN / "python"), "-m", "pip", "--disable-pip-version-check", "-qq"]
    if code := subprocess.run([*pip, "install", *arguments], env=pip_environment()).returncode:
        sys.exit(code)


def setup() -> int:
    """Make .venv what the lock file says; at once if it already is."""
    require_python()
    lock = ROOT / "requirements.lock"
    made_by = hashlib.sha256(f"{sys.version} {ROOT}".encode()).hexdigest()
    holds = hashlib.sha256(lock.read_bytes() + (ROOT / "pyproject.toml").read_bytes()).hexdigest()
    stamp = STAMP.read_text().split() if STAMP.exists() else []
    if stamp == [made_by, holds]:
        return 0
    print("isogyre: setting up .venv", file=sys.stderr)
    # An environment is bound to its Python and its place: made by another, it starts afresh.
    fresh = ["--clear"] if stamp[:1] != [made_by] else []
    if code := subprocess.run([sys.executable, "-m", "venv", *fresh, VENV]).returncode:
        return code
    # Half a set-up must not pass for a whole one, so the second half of the stamp comes last.
    STAMP.write_text(made_by)
    pip_install("--require-hashes", "-r", str(lock))
    pip_install("--no-build-isolation", "--no-deps", "--editable", str(ROOT))
    STAMP.write_text(f"{made_by}\n{holds}\n")
    return 0


# ---- run -------------------------------------------------------------------------------------


def free_port(wanted: int) -> int:
    """Return the wanted port, or any free one if something already answers there."""
    with socket.socket() as probe:
        if probe.connect_ex((HOST, wanted)):
            return wanted
    with socket.socket() as probe:
        probe.bind((HOST, 0))
        return int(probe.getsockname()[1])


def answers(port: int) -> bool:
    """Tell whether a web server answers on the port; any status is an answer."""
    with contextlib.closing(http.client.HTTPConnection(HOST, port, timeout=5)) as connection:
        try:
            connection.request("GET", "/")
            connection.getresponse()
        except (OSError, http.client.HTTPException):
            return False
    return True


def has_screen() -> bool:
    """Tell whether a browser can open a window here."""
    windows = sys.platform in {"win32", "darwin"}
    return windows or bool({"DISPLAY", "WAYLAND_DISPLAY"} & os.environ.keys())


def show(address: str) -> None:
    """Print the address; open it where there is a screen to show it on."""
    print(f"isogyre is open at {address} (Ctrl-C closes it)", flush=True)
    # Without a screen the browser would be a text browser that takes over the terminal.
    if has_screen():
        webbrowser.open(address)


def names_a_bench(options: Sequence[str]) -> bool:
    """Tell whether the options or the variables say which bench to open."""
    named = {"ISOGYRE_DATA", "ISOGYRE_DATABASE_URL"} & os.environ.keys()
    # `--data` begins both options that do.
    return bool(named) or any(option.startswith("--data") for option in options)


def open_demo() -> None:
    """Open the demo bench in a folder of its own; what was entered into it stays."""
    DEMO.mkdir(exist_ok=True)
    (DEMO / ".gitignore").write_text("*\n")
    os.environ["ISOGYRE_DATA"] = str(DEMO)
    call("isogyre", "demo", "--if-empty")


def run(arguments: Sequence[str]) -> int:
    """Serve the program until it is told to stop."""
    parser = argparse.ArgumentParser(add_help=False, allow_abbrev=False)
    parser.add_argument("--port", type=int, default=PORT)
    chosen, others = parser.parse_known_args(arguments)
    port = free_port(chosen.port)
    options = ["--host", HOST, "--port", str(port), *others]
    if not names_a_bench(others):
        open_demo()
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))
    with subprocess.Popen([BIN / "isogyre", "serve", *options]) as server:
        try:
            while server.poll() is None and not answers(port):
                time.sleep(0.1)
            if server.poll() is None:
                show(f"http://{HOST}:{port}/")
            return server.wait()
        except KeyboardInterrupt:
            return 0
        finally:
            server.terminate()


# ---- test and bench --------------------------------------------------------------------------


def apt_get(*arguments: str) -> int:
    """Run apt-get without questions; return its exit code."""
    quiet = dict(os.environ) | {"DEBIAN_FRONTEND": "noninteractive"}
    return subprocess.run(["apt-get", "-qq", *arguments], env=quiet).returncode


def system_packages() -> int:
    """Install what the tests need on Debian as root; elsewhere name what is missing."""
    missing = [(package, use) for package, sign, use in SYSTEM_PACKAGES if not glob.glob(sign)]
    if missing and shutil.which("apt-get") and os.geteuid() == 0:
        return apt_get("update") or apt_get("install", "-y", *(package for package, _ in missing))
    for package, use in missing:
        print(f"{use} need {package}: sudo apt-get install {package}", file=sys.stderr)
    return 0


def test(arguments: Sequence[str]) -> int:
    """Run every check and name those that failed; with arguments, only pytest."""
    checks = {"pytest": ["pytest", *arguments]} if arguments else CHECKS
    steps: dict[str, Callable[[], int]] = {"system packages": system_packages}
    steps |= {name: partial(call, *command) for name, command in checks.items()}
    failed = []
    for name, step in steps.items():
        print(f"== {name}", flush=True)
        if step():
            failed.append(name)
    print(f"failed: {', '.join(failed)}" if failed else f"all {len(steps)} steps passed")
    return 1 if failed else 0


def bench(arguments: Sequence[str]) -> int:
    """Measure accuracy and speed."""
    return call("python", "-m", "bench", *arguments)


VERBS = {"run": run, "test": test, "bench": bench}


def main(arguments: Sequence[str]) -> int:
    """Do what the first argument says, after setting up."""
    verb = arguments[0] if arguments else ""
    if verb not in {"setup", *VERBS}:
        print(__doc__, file=sys.stderr)
        return 0 if verb in {"-h", "--help"} else 2
    os.chdir(ROOT)
    return setup() or (VERBS[verb](arguments[1:]) if verb in VERBS else 0)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
