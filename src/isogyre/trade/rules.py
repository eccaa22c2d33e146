"""What the rule tables hold: rows of words, each with its source."""

from dataclasses import dataclass
from functools import cached_property
from typing import Literal, Self

from pydantic import Field, model_validator

from isogyre.catalogue.model import Entry

Verdict = Literal["never", "ask first"]
Question = Literal["name", "origin", "treatment"]


class HarmRule(Entry):
    """A test that hurts stones of one trait, or any stone in one state.

    A rule with ``until_named`` falls away once hardly any doubt about the name is left.
    """

    tests: tuple[str, ...] = Field(min_length=1)
    trait: str = ""
    state: str = ""
    verdict: Verdict
    why: str
    lifted_by: str
    until_named: bool = False
    source: str

    @model_validator(mode="after")
    def _one_subject(self) -> Self:
        if bool(self.trait) == bool(self.state):
            raise ValueError("a rule is about a trait or about a state, and about one of them")
        return self


class Condition(Entry):
    """The labels a naming rule is about. An empty list stands for any word."""

    species: tuple[str, ...] = ()
    material: tuple[str, ...] = ()
    variety: tuple[str, ...] = ()
    growth: tuple[str, ...] = ()
    origin: tuple[str, ...] = ()
    treatment: tuple[str, ...] = ()

    @property
    def is_met_by_all(self) -> bool:
        """Whether the rule makes no condition at all."""
        return not self.stated

    @cached_property
    def stated(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Return the words the rule makes a condition about, each with what it may be."""
        words = ((word, getattr(self, word)) for word in Condition.model_fields)
        return tuple((word, allowed) for word, allowed in words if allowed)


class NameRule(Condition):
    """What a stone is called; ``aside`` follows in brackets.

    ``unless_seen``: the rule holds only while none of these causes of colour has been seen.
    ``between_red_and_pink``: it holds only if the colour lies on that border.
    """

    name: str
    aside: str = ""
    unless_seen: tuple[str, ...] = ()
    between_red_and_pink: bool = False
    source: str


class FrameRule(Condition):
    """The form a name takes by the way the stone came about.

    ``{name}``, ``{species}``, ``{material}`` and ``{growth}`` are filled in. ``treatment_said``:
    always (none too), if there was one, or never, because the frame itself says it.
    """

    frame: str
    aside: str = ""
    treatment_said: Literal["always", "if treated", "by the frame"]
    source: str


class TreatedRule(Entry):
    """How a treatment is stated behind the name."""

    treatment: str
    stated: str
    source: str


class AssumedRule(Entry):
    """A treatment nearly all such stones had, which hand tests cannot see."""

    treatment: str
    variety: tuple[str, ...]
    origin: tuple[str, ...]
    source: str


class CautionRule(Entry):
    """A caution that goes with an instrument, a liquid, a lamp or a dust."""

    subjects: tuple[str, ...] = Field(min_length=1)
    caution: str
    source: str


class LaboratoryRule(Entry):
    """The method a laboratory settles a question with; an empty species stands for any."""

    question: Question
    species: tuple[str, ...] = ()
    treatment: str = ""
    method: str
    source: str


@dataclass(frozen=True)
class TradeRules:
    """All rules of the trade, loaded once and handed in."""

    harm: tuple[HarmRule, ...] = ()
    name: tuple[NameRule, ...] = ()
    frame: tuple[FrameRule, ...] = ()
    treated: tuple[TreatedRule, ...] = ()
    assumed: tuple[AssumedRule, ...] = ()
    caution: tuple[CautionRule, ...] = ()
    laboratory: tuple[LaboratoryRule, ...] = ()
    states_a_treatment: tuple[str, ...] = ()

    @cached_property
    def harm_by_test(self) -> dict[str, tuple[HarmRule, ...]]:
        """Return the harm rules of each test, in the order of the table."""
        tests = dict.fromkeys(test for rule in self.harm for test in rule.tests)
        return {test: tuple(rule for rule in self.harm if test in rule.tests) for test in tests}

    @property
    def has_a_frame_for_every_stone(self) -> bool:
        """Whether a name can be made for any label: the last frame makes no condition."""
        return bool(self.frame) and self.frame[-1].is_met_by_all
