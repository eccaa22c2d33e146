"""`isogyre demo`: an invented bench to look at, in a folder that holds no stone yet."""

from argparse import ArgumentParser, Namespace
from dataclasses import asdict

from isogyre import desk
from isogyre.cli.faults import BadInputError, Exit, say
from isogyre.cli.options import add_data, add_json, made_folder, print_json
from isogyre.desk.demo import BenchNotEmptyError, DemoCount, load_demo

HELP = "load an invented bench to look at"
ABOUT = """\
Load the demo bench: invented stones and pieces with their readings, some weeks of work. It goes
only into a bench that holds no stone, so that it never mixes with stones that are real.
"""
EXAMPLE = """\
example:
  isogyre demo --data a-new-folder
"""


def add_options(parser: ArgumentParser) -> None:
    """Add what the command takes."""
    add_data(parser)
    parser.add_argument(
        "--if-empty",
        action="store_true",
        help="leave a bench that holds stones as it is, without a word",
    )
    add_json(parser)


def run(options: Namespace) -> int:
    """Load the demo bench and say how much of it there is."""
    house = desk.open_house(made_folder(options), options.database_url)
    try:
        count = load_demo(house, house.now())
    except BenchNotEmptyError as error:
        if options.if_empty:
            return Exit.DONE
        raise BadInputError(str(error)) from None
    except desk.LedgerError as error:
        raise BadInputError(str(error)) from None
    finally:
        house.close()
    _tell(options, house, count)
    return Exit.DONE


def _tell(options: Namespace, house: desk.House, count: DemoCount) -> None:
    if options.json:
        print_json(asdict(count))
        return
    print(
        f"{count.stones} stones and pieces, {count.readings} readings, {count.parties} parties, "
        f"{count.take_ins} piece taken in, all invented"
    )
    say("isogyre demo", f"loaded into {house.folder}")
