"""`isogyre serve`: the pages, on this machine."""

import os
from argparse import ArgumentParser, ArgumentTypeError, Namespace

from isogyre.cli.faults import Exit
from isogyre.cli.options import add_data, made_folder

HELP = "open the pages on this machine"
ABOUT = """\
Serve the pages and the programming interface until Ctrl-C. Only this machine reaches them, unless
--host says otherwise: there is no log-in yet, so think before opening them to a network.
"""
EXAMPLE = """\
examples:
  isogyre serve --port 8080
  isogyre serve --data ~/stones
  isogyre serve --data ~/stones --database-url postgresql://bench@localhost/shop
"""
# Named, not imported: the command line and the pages do not know each other.
PAGES = "isogyre.web:create_app"


def add_options(parser: ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument("--host", default="127.0.0.1", help="address to listen on (%(default)s)")
    parser.add_argument("--port", type=_port, default=8000, help="port to listen on (%(default)s)")
    add_data(parser)


def run(options: Namespace) -> int:
    """Serve until told to stop."""
    import uvicorn

    # The pages are loaded by name, so what was chosen reaches them through the environment.
    os.environ["ISOGYRE_DATA"] = str(made_folder(options))
    if options.database_url:
        os.environ["ISOGYRE_DATABASE_URL"] = options.database_url
    try:
        # The log of every request would go to standard output, which is for data.
        uvicorn.run(PAGES, factory=True, host=options.host, port=options.port, access_log=False)
    except SystemExit as stopped:
        # The server has said why: a port that is taken, pages that cannot be loaded.
        return Exit.FAULT if stopped.code else Exit.DONE
    return Exit.DONE


def _port(text: str) -> int:
    if text.isdecimal() and 0 <= int(text) <= 65535:
        return int(text)
    raise ArgumentTypeError(f"'{text}' is no port: write a number up to 65535")
