"""Which tests could hurt the stone, as far as it is known what the stone is.

The rule of the house: a test is blocked as long as one candidate above one per cent could be hurt
by it. The answer therefore says what to look for first to lift the block.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from isogyre.trade.errors import UnknownSubjectError
from isogyre.trade.rules import HarmRule, TradeRules, Verdict

Candidate = tuple[float, frozenset[str], str]  # probability, traits, name
Kinds = Mapping[tuple[str, frozenset[str]], float]

A_CANDIDATE_THAT_COUNTS = 0.01
# Many names of which none reaches one per cent can still be a real risk when they are taken
# together: before anything has been read that is how every stone stands. A judgement.
TOGETHER_THAT_COUNT = 0.05


@dataclass(frozen=True)
class Harm:
    """Why a test must not be made on a stone, or only with the owner's leave.

    ``probability`` is that of the named candidate, over all its rows that the test could hurt,
    and ``together`` that of all names hurt. Both are 1 where the harm follows from the state of
    the stone, which is seen and not inferred; ``candidate`` then names the state.
    """

    test: str
    verdict: Verdict
    reason: str
    candidate: str
    probability: float
    together: float
    lifted_by: str
    source: str


def harm(
    test: str, candidates: Iterable[Candidate], states: Collection[str], rules: TradeRules
) -> Harm | None:
    """Return why ``test`` could hurt the stone, or None if nothing that counts speaks against it.

    Parameters
    ----------
    test
        A test of the harm table, such as ``contact liquid`` or ``scratch``.
    candidates
        What the stone can be: (probability 0 to 1, traits, name). Rows of one name are summed.
    states
        What is known of the stone itself: ``finished``, ``opaque``, ``mounted``.

    Raises
    ------
    UnknownSubjectError
        If no rule is about ``test``: a misspelt test must not pass as harmless.
    """
    if test not in rules.harm_by_test:
        raise UnknownSubjectError("test", test, rules.harm_by_test)
    kinds = merged(candidates)
    verdicts: tuple[Verdict, ...] = ("never", "ask first")
    for verdict in verdicts:
        here = [rule for rule in rules.harm_by_test[test] if rule.verdict == verdict]
        found = _by_state(test, here, states, kinds) or _by_candidate(test, here, kinds)
        if found:
            return found
    return None


def merged(candidates: Iterable[Candidate]) -> Kinds:
    """Return the probability of each pair of name and traits."""
    kinds: dict[tuple[str, frozenset[str]], float] = defaultdict(float)
    for probability, traits, name in candidates:
        kinds[name, traits] += probability
    return kinds


def _by_state(
    test: str, rules: Iterable[HarmRule], states: Collection[str], kinds: Kinds
) -> Harm | None:
    for rule in rules:
        if rule.state in states and not (rule.until_named and _is_named(kinds)):
            return _answer(test, rule, f"any {rule.state} stone", 1.0, 1.0)
    return None


def _by_candidate(test: str, rules: Sequence[HarmRule], kinds: Kinds) -> Harm | None:
    """Return the harm to the likeliest name hurt, with the rule that most of it falls under."""
    hurt: dict[str, float] = defaultdict(float)
    shares: dict[tuple[str, int], float] = defaultdict(float)
    for (name, traits), probability in kinds.items():
        number = next((n for n, rule in enumerate(rules) if rule.trait in traits), None)
        if number is not None:
            hurt[name] += probability
            shares[name, number] += probability
    name = max(hurt, key=hurt.__getitem__, default="")
    together = sum(hurt.values())
    if hurt.get(name, 0.0) <= A_CANDIDATE_THAT_COUNTS and together <= TOGETHER_THAT_COUNT:
        return None
    _, number = max((pair for pair in shares if pair[0] == name), key=shares.__getitem__)
    return _answer(test, rules[number], name, hurt[name], together)


def _is_named(kinds: Kinds) -> bool:
    """Whether all that the stone could be besides its likeliest name is too little to count.

    Names that agree up to the first comma (``jet``, ``jet, wax``) are one stone here: how it was
    treated is asked by the rules about traits.
    """
    by_name: dict[str, float] = defaultdict(float)
    for (name, _), probability in kinds.items():
        by_name[name.partition(",")[0]] += probability
    others = sum(by_name.values()) - max(by_name.values(), default=0.0)
    return bool(by_name) and others <= A_CANDIDATE_THAT_COUNTS


def _answer(test: str, rule: HarmRule, candidate: str, probability: float, together: float) -> Harm:
    return Harm(
        test=test,
        verdict=rule.verdict,
        reason=rule.why,
        candidate=candidate,
        probability=min(1.0, probability),
        together=min(1.0, together),
        lifted_by=rule.lifted_by,
        source=rule.source,
    )
