"""What a stone may be called: variety, growth and treatment, as far as hand tests can say."""

from typing import Protocol

from isogyre.trade.rules import Condition, FrameRule, NameRule, TradeRules

NOT_LISTED = "not in the catalogue"
NONE_SHOWN = "no treatment shown (unproved)"
UNLISTED = "unlisted"
FRAME_WORDS = ("species", "material", "growth")


class Label(Protocol):
    """The words a kind of stone is known by, as the catalogue spells them; '' for none."""

    @property
    def species(self) -> str: ...
    @property
    def material(self) -> str: ...
    @property
    def variety(self) -> str: ...
    @property
    def growth(self) -> str: ...
    @property
    def origin(self) -> str: ...
    @property
    def treatment(self) -> str: ...


def trade_name(
    label: Label,
    rules: TradeRules,
    *,
    evidence: frozenset[str] = frozenset(),
    between_red_and_pink: bool = False,
) -> str:
    """Return the name the trade may give a stone of this kind, its treatment behind it.

    Parameters
    ----------
    evidence
        Causes of colour that were seen, such as ``chromium``: some names have to be earned.
    between_red_and_pink
        Whether the colour lies on the border of ruby and pink sapphire.
    """
    if label.species == UNLISTED:
        return NOT_LISTED
    variety = _variety(label, rules, evidence, between_red_and_pink)
    frame = next(rule for rule in rules.frame if fits(rule, label))
    words = {"name": variety.name} | {word: getattr(label, word) for word in FRAME_WORDS}
    name = frame.frame.format(**words)
    of_variety = variety.aside if "{name}" in frame.frame else ""
    asides = "; ".join(filter(None, (frame.aside.format(**words), of_variety)))
    bracket = f" ({asides})" if asides else ""
    return ", ".join(filter(None, (name + bracket, treatment_stated(label, frame, rules))))


def fits(rule: Condition, label: Label) -> bool:
    """Return whether a rule is about ``label``: an empty condition is met by any word."""
    return all(getattr(label, word) in allowed for word, allowed in rule.stated)


def treatment_stated(label: Label, frame: FrameRule, rules: TradeRules) -> str:
    """Return the clause about treatment, or '' where the name says it or it does not matter."""
    if frame.treatment_said == "by the frame":
        return ""
    assumed = _assumed(label, rules)
    if assumed and label.treatment in ("", assumed):
        return f"assume {_stated(assumed, rules)}"
    if label.treatment:
        return _stated(label.treatment, rules)
    return NONE_SHOWN if frame.treatment_said == "always" else ""


def _variety(
    label: Label, rules: TradeRules, evidence: frozenset[str], between_red_and_pink: bool
) -> NameRule:
    for rule in rules.name:
        earned = evidence.intersection(rule.unless_seen)
        border = between_red_and_pink or not rule.between_red_and_pink
        if fits(rule, label) and border and not earned:
            return rule
    return NameRule(name=_plain(label, rules), source="common")


def _plain(label: Label, rules: TradeRules) -> str:
    """Return the variety without the words that state its growth or treatment."""
    words = [word for word in label.variety.split() if word not in rules.states_a_treatment]
    return " ".join(words) or label.species


def _assumed(label: Label, rules: TradeRules) -> str:
    for rule in rules.assumed:
        if label.variety in rule.variety and label.origin in rule.origin:
            return rule.treatment
    return ""


def _stated(treatment: str, rules: TradeRules) -> str:
    """Return the words for a treatment; one without a row is stated by its own name."""
    return next((rule.stated for rule in rules.treated if rule.treatment == treatment), treatment)
