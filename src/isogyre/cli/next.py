"""`isogyre next`: which test to make next with what is at hand."""

from argparse import ArgumentParser, Namespace

from isogyre import desk
from isogyre.cli.faults import Exit
from isogyre.cli.next_text import next_text
from isogyre.cli.options import add_json, add_question, print_json
from isogyre.cli.records import read_record

HELP = "say which test to make next with what is at hand"
ABOUT = """\
Read the record of one stone and rank the tests of a kit by how much each is expected to settle,
with what it would show for the candidates left and what speaks against making it. An empty record,
{}, asks where to begin.
"""
EXAMPLE = """\
example:
  echo '{"colour": "red", "ri_spot": 1.76}' | isogyre next - --kit pocket --settle natural
"""


def add_options(parser: ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument("file", metavar="FILE", help="the record; - is standard input")
    add_json(parser)
    add_question(parser)
    parser.add_argument(
        "--per-minute", action="store_true", help="rank by what a minute of work is worth"
    )


def run(options: Namespace) -> int:
    """Rank the tests for one record."""
    record = read_record(options.file)
    answer = desk.next_tests(
        desk.open_workbench(), record, options.kit, options.settle, options.per_minute
    )
    print_json(answer) if options.json else print(next_text(answer))
    return Exit.DONE
