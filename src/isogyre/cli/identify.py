"""`isogyre identify`: what the stone can be, how sure, why, and what to test next."""

from argparse import ArgumentParser, Namespace

from isogyre import desk
from isogyre.cli.faults import BadInputError, Exit, fault_in_words, one_line, say
from isogyre.cli.options import add_json, add_question, print_json
from isogyre.cli.records import parse_record, place_of, read_record, record_lines
from isogyre.cli.standing_text import standing_text

HELP = "say what a stone can be, how sure that is, and why"
ABOUT = """\
Read the record of one stone, a JSON object, and say what the stone can be: the odds, what speaks
for and against, what does not fit, what hand tests cannot settle, and what to test next.

With --batch the file holds a record a line (JSON Lines) and each is answered as it is read. A line
that cannot be used is told on standard error with its number; the others go on.
"""
EXAMPLE = """\
example:
  echo '{"colour": "blue", "ri_low": 1.762, "ri_high": 1.770}' | isogyre identify -
"""


def add_options(parser: ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument("file", metavar="FILE", help="the record; - is standard input")
    parser.add_argument("--batch", action="store_true", help="FILE holds a record a line")
    add_json(parser)
    add_question(parser)


def run(options: Namespace) -> int:
    """Answer one record, or each line of a batch."""
    if options.batch:
        return _batch(options)
    answer = _answer(options, desk.open_workbench(), read_record(options.file))
    print_json(answer) if options.json else print(standing_text(answer))
    return Exit.DONE


def _answer(
    options: Namespace, workbench: desk.Workbench, record: dict[str, object]
) -> desk.IdentifyAnswer:
    return desk.identify(workbench, record, options.kit, options.settle)


def _batch(options: Namespace) -> int:
    workbench = desk.open_workbench()
    code = Exit.DONE
    for number, line in record_lines(options.file):
        here = _line(options, workbench, number, line)
        # A fault of the program outranks bad input: it is the one to be reported.
        code = here if code is Exit.DONE or here is Exit.FAULT else code
    return code


def _line(options: Namespace, workbench: desk.Workbench, number: int, line: bytes) -> Exit:
    """Answer one line of a batch, or say why it cannot be answered."""
    place = f"{place_of(options.file)}, line {number}"
    try:
        answer = _answer(options, workbench, parse_record(line))
    except desk.RecordTroubleError as error:
        for trouble in error.troubles:
            say(place, trouble.field, trouble.message)
    except BadInputError as error:
        say(place, str(error))
    except Exception as error:
        say(place, fault_in_words(error))
        return Exit.FAULT
    else:
        _print(options, number, answer)
        return Exit.DONE
    return Exit.BAD_INPUT


def _print(options: Namespace, number: int, answer: desk.IdentifyAnswer) -> None:
    if options.json:
        print_json({"line": number, **answer}, indent=None)
    else:
        name = f"line {number}" + ("" if answer["id"] is None else f", {one_line(answer['id'])}")
        print(f"== {name}\n{standing_text(answer)}\n", flush=True)
