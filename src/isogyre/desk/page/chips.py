"""Colour words as chips: a round of about the colour that the words name.

A chip helps to find a stone again and is no colour grade.
"""

import re

from isogyre.desk.tints import tint

MOST_CHIPS = 3


def chips(text: str) -> tuple[str, ...]:
    """Return a colour, as #rrggbb, for each colour that the words name; none if they name none."""
    shown = [chip for part in re.split(r"[/,;]", text) if (chip := tint(part))]
    return tuple(dict.fromkeys(shown))[:MOST_CHIPS]
