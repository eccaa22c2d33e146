"""Options and outputs that several commands share."""

import json
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from isogyre.cli.faults import BadInputError
from isogyre.desk.choices import DEFAULT_KIT, DEFAULT_SETTLE, KIT_NAMES, SETTLE_NAMES
from isogyre.desk.house import data_folder


def add_json(parser: ArgumentParser) -> None:
    """Add ``--json``."""
    parser.add_argument("--json", action="store_true", help="print JSON instead of plain text")


def add_data(parser: ArgumentParser) -> None:
    """Add where the stones are kept: ``--data`` and ``--database-url``."""
    parser.add_argument(
        "--data",
        type=Path,
        metavar="DIR",
        help="folder of the ledger and the photographs (ISOGYRE_DATA, or your own data folder)",
    )
    parser.add_argument(
        "--database-url",
        default="",
        metavar="URL",
        help="a ledger elsewhere, as postgresql://USER@HOST/NAME (one file in the folder)",
    )


def made_folder(options: Namespace) -> Path:
    """Return the folder that ``--data`` names, or the usual one; it is made if it is not there.

    Raises
    ------
    BadInputError
        If it cannot be made.
    """
    folder: Path = options.data or data_folder()
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise BadInputError(f"{folder} cannot be made a folder: {error.strerror}") from None
    return folder


def add_question(parser: ArgumentParser) -> None:
    """Add what the next test is chosen by: ``--kit`` and ``--settle``."""
    parser.add_argument(
        "--kit",
        choices=KIT_NAMES,
        default=DEFAULT_KIT,
        help="the instruments at hand for the next test (%(default)s)",
    )
    parser.add_argument(
        "--settle",
        choices=SETTLE_NAMES,
        default=DEFAULT_SETTLE,
        help="what the next test is to settle: its name, whether it is natural, or whether it "
        "was treated (%(default)s)",
    )


def print_json(answer: Mapping[str, Any], indent: int | None = 2) -> None:
    """Print an answer as JSON in plain ASCII; a figure that is none is a fault, never NaN."""
    print(json.dumps(answer, allow_nan=False, indent=indent))
    sys.stdout.flush()
