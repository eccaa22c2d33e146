"""The command line itself: commands, help, and the code each of them ends with."""

import io
import os
import sys
from argparse import ArgumentParser, Namespace, RawDescriptionHelpFormatter
from collections.abc import Callable, Sequence
from types import ModuleType
from typing import NoReturn

from isogyre import __version__, desk
from isogyre.cli import demo, identify, material, next, serve
from isogyre.cli.faults import BadInputError, Exit, fault_in_words, say
from isogyre.cli.records import place_of

COMMANDS: dict[str, ModuleType] = {
    "identify": identify,
    "next": next,
    "material": material,
    "serve": serve,
    "demo": demo,
}
ABOUT = """\
From bench readings of a gemstone to an identification one can defend.
"""
AFTER = """\
Answers go to standard output, everything else to standard error.
Ends with 0 when done, 2 if what was given cannot be used, 1 for a fault of the program.
'isogyre COMMAND --help' says more about a command.
"""


class Parser(ArgumentParser):
    """A parser that refuses in one line, as everything else here does."""

    def error(self, message: str) -> NoReturn:
        """Say what is wrong and end."""
        say(self.prog, message, f"see {self.prog} --help")
        sys.exit(Exit.BAD_INPUT)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command that ``arguments`` name and return the code to end with."""
    _print_anything()
    options = _parser().parse_args(arguments)
    try:
        return int(options.run(options))
    except desk.RecordTroubleError as error:
        for trouble in error.troubles:
            say(_place(options), trouble.field, trouble.message)
    except (BadInputError, desk.UnknownMaterialError) as error:
        say(_place(options), str(error))
    except BrokenPipeError:
        # Whoever reads the answers has enough; what is still buffered must not complain at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return Exit.DONE
    except KeyboardInterrupt:
        return Exit.STOPPED
    except Exception as error:
        say("isogyre", fault_in_words(error))
        return Exit.FAULT
    return Exit.BAD_INPUT


def _place(options: Namespace) -> str:
    """Return what a message is about: the file, or the command."""
    return place_of(options.file) if "file" in options else f"isogyre {options.command}"


def _print_anything() -> None:
    """Let a letter that the terminal cannot show be shown by its number, never stop the answer."""
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(errors="backslashreplace")


def _parser() -> ArgumentParser:
    parser = Parser(
        "isogyre",
        description=ABOUT,
        epilog=AFTER,
        formatter_class=RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"isogyre {__version__}")
    commands = parser.add_subparsers(metavar="COMMAND", dest="command", required=True)
    for name, command in COMMANDS.items():
        _add(commands.add_parser, name, command)
    return parser


def _add(add_parser: Callable[..., ArgumentParser], name: str, command: ModuleType) -> None:
    parser = add_parser(
        name,
        help=command.HELP,
        description=command.ABOUT,
        epilog=command.EXAMPLE,
        formatter_class=RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    command.add_options(parser)
    parser.set_defaults(run=command.run)
