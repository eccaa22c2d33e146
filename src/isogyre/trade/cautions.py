"""The usual cautions that go with an instrument, a liquid, a lamp or a dust."""

from dataclasses import dataclass

from isogyre.trade.errors import UnknownSubjectError
from isogyre.trade.rules import TradeRules

DEFERS = "Local codes and the maker's own instructions come first."


@dataclass(frozen=True)
class Caution:
    """One caution. It informs; ``defers`` names what it gives way to."""

    caution: str
    source: str
    defers: str = DEFERS


def cautions_for(subject: str, rules: TradeRules) -> tuple[Caution, ...]:
    """Return the cautions of a subject such as ``contact liquid`` or ``ultraviolet lamp``.

    Raises
    ------
    UnknownSubjectError
        If no caution is about ``subject``: silence would read as 'harmless'.
    """
    found = tuple(
        Caution(rule.caution, rule.source) for rule in rules.caution if subject in rule.subjects
    )
    if not found:
        known = (word for rule in rules.caution for word in rule.subjects)
        raise UnknownSubjectError("subject of a caution", subject, known)
    return found
