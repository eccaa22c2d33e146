"""`isogyre material`: the card of one material."""

from argparse import ArgumentParser, Namespace

from isogyre import desk
from isogyre.cli.card_text import card_text
from isogyre.cli.faults import Exit
from isogyre.cli.options import add_json, print_json

HELP = "show the card of a material, every value with its source"
ABOUT = """\
Show what the catalogue holds on one material: its constants with every source that makes a claim,
its growths, looks, features and treatments, what is taken for it and what parts the two, care and
cautions. A variety, another name or a species will do, and one slip of spelling.
"""
EXAMPLE = """\
example:
  isogyre material spinel
"""


def add_options(parser: ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument("name", metavar="NAME", nargs="+", help="what the material is called")
    add_json(parser)


def run(options: Namespace) -> int:
    """Show one card."""
    card = desk.material_card(desk.open_workbench(), " ".join(options.name))
    print_json(card) if options.json else print(card_text(card))
    return Exit.DONE
