"""Does the planner's order of tests settle a stone sooner than a fixed one."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from bench.figure import Figure
from bench.world import World, talk
from isogyre.evidence import Plan, Standing, plan, stand
from isogyre.evidence.planner import LEAST_GAIN_BITS, SETTLED_AT
from isogyre.evidence.posterior import Evidence
from isogyre.evidence.prior import SETTINGS, log_prior
from isogyre.instruments import PlannedTest
from isogyre.instruments.kits import KITS
from isogyre.instruments.simulate import LOOK_FOR, simulated_record
from isogyre.population.virtual import VirtualStone, draw_stone

Generator = np.random.Generator
Chosen = tuple[PlannedTest, Plan | None] | None
Choose = Callable[["Session"], Chosen]

STONES_BOTH_SETTLE = 200
MOST_STONES = 500
MOST_TESTS = 16
# Stones are cut with facets: the spot reading is for the others.
NOT_FOR_FACETS = "ri_spot"
FIXED_ORDER = (
    "refractometer, both edges over a full turn",
    "density, weighed in water",
    "polariscope",
    "conoscope: look for a figure",
    "hand spectroscope",
    "dichroscope",
    "long-wave ultraviolet",
    "short-wave ultraviolet",
    "colour filter",
    "colour in daylight",
    "transparency",
    "lustre",
    "magnet",
    "colour in incandescent light",
)


@dataclass
class Session:
    """One stone on the bench: tests made, what they showed, where the stone stands."""

    world: World
    tests: Sequence[PlannedTest]
    drawn: dict[str, dict[str, Any]]
    standing: Standing
    made: list[PlannedTest] = field(default_factory=list)
    evidence: Evidence | None = None
    said_hopeless: list[bool] = field(default_factory=list)

    @property
    def minutes(self) -> float:
        """Return how long the tests took."""
        return sum(test.minutes for test in self.made)

    @property
    def is_settled(self) -> bool:
        """Return whether one species stands above the mark."""
        return bool(self.world.shares(self.standing.posterior).max() >= SETTLED_AT)

    def open_tests(self) -> list[PlannedTest]:
        """Return the tests not made yet."""
        return [test for test in self.tests if test not in self.made]

    def make(self, test: PlannedTest) -> None:
        """Make a test and weigh what it showed together with the rest."""
        self.made.append(test)
        readings = self.world.read(self.drawn[test.name]).readings
        population = self.world.population
        old = self.evidence or Evidence(population, (), ())
        terms = tuple(reading.term(population) for reading in readings)
        self.evidence = Evidence(population, old.readings + readings, old.terms + terms)
        likelihood = self.evidence.likelihood()
        posterior = likelihood.posterior(log_prior(population, self.standing.setting))
        stones = likelihood.stone_posterior(posterior)
        self.standing = replace(self.standing, posterior=posterior, stone_weight=stones)


def by_gain(session: Session) -> Chosen:
    """Choose the test with the greatest expected gain."""
    return _first(plan(session.standing, session.open_tests()))


def by_gain_a_minute(session: Session) -> Chosen:
    """Choose the test with the greatest expected gain for its time."""
    return _first(plan(session.standing, session.open_tests(), per_minute=True))


def in_fixed_order(session: Session) -> Chosen:
    """Choose the next test of a fixed order: index, density, polariscope, and so on."""
    place = {name: number for number, name in enumerate(FIXED_ORDER)}
    left = sorted(session.open_tests(), key=lambda test: place.get(test.name, len(place)))
    return (left[0], None) if left else None


def _first(planned: Plan) -> Chosen:
    worth_making = [p for p in planned.proposals if p.gain_bits >= LEAST_GAIN_BITS]
    return (worth_making[0].test, planned) if worth_making else None


def _worked(session: Session, choose: Choose, opening: Chosen) -> Session:
    while not session.is_settled and len(session.made) < MOST_TESTS:
        # Of an unknown stone every order thinks the same: the first choice is made once for all.
        chosen = choose(session) if session.made else opening
        if chosen is None:
            session.said_hopeless.append(True)
            break
        test, planned = chosen
        if planned is not None:
            session.said_hopeless.append(not planned.settles)
        session.make(test)
    return session


def _all_drawn(
    world: World, tests: Sequence[PlannedTest], stone: VirtualStone, rng: Generator
) -> dict[str, dict[str, Any]]:
    """Return what each test shows on this stone, the same whenever it is made."""
    drawn = {}
    for test in tests:
        key = "conoscope" if test.field == "optic_character" else test.field
        key = test.name if test.name.startswith(LOOK_FOR) else key
        drawn[test.name] = simulated_record(world.population, world.instruments, stone, [key], rng)
    return drawn


def sessions(
    world: World, orders: Sequence[Choose], enough: int, seed: int = 21
) -> list[tuple[Session, ...]]:
    """Return the same stones worked in each order, until ``enough`` are settled by all."""
    fields = KITS["bench"].fields - {NOT_FOR_FACETS}
    tests = [test for test in world.tests.values() if test.field in fields]
    untested = stand(world.population, (), SETTINGS["bench"])
    rng, found = np.random.default_rng(seed), list[tuple[Session, ...]]()
    openings = [order(Session(world, tests, {}, untested)) for order in orders]
    settled = 0
    while settled < enough and len(found) < MOST_STONES:
        stone = draw_stone(world.dense, rng)
        if stone.row >= world.population.listed:
            continue
        drawn = _all_drawn(world, tests, stone, rng)
        worked = tuple(
            _worked(Session(world, tests, drawn, untested), order, opening)
            for order, opening in zip(orders, openings, strict=True)
        )
        found.append(worked)
        settled += all(session.is_settled for session in worked)
        if len(found) % 50 == 0:
            talk(f"  {len(found)} stones, {settled} settled in every order")
    return found


def measure(world: World) -> Iterator[Figure]:
    """Yield tests and minutes against a fixed order, and what is never settled."""
    talk("working stones in three orders")
    found = sessions(world, (by_gain, by_gain_a_minute, in_fixed_order), STONES_BOTH_SETTLE)
    yield from _against_fixed(found, 0, "tests", lambda s: len(s.made), "<= 0.8")
    yield from _against_fixed(found, 1, "minutes", lambda s: s.minutes, "<= 0.95")
    for number, name in enumerate(("by_gain", "by_gain_a_minute", "fixed")):
        share = float(np.mean([worked[number].is_settled for worked in found]))
        yield Figure(f"planner.settled_{name}", share, "share", len(found))
    planned = [worked[0] for worked in found]
    unsettled = [s for s in planned if not s.is_settled]
    said = [any(s.said_hopeless) for s in planned]
    yield Figure("planner.said_hopeless", float(np.mean(said)), "share", len(planned))
    if unsettled:
        told = float(np.mean([s.said_hopeless[-1] for s in unsettled]))
        note = "of the stones left unsettled, it said so at the end"
        yield Figure("planner.hopeless_and_said", told, "share", len(unsettled), "", note)
    wrongly = [any(s.said_hopeless) for s in planned if s.is_settled]
    note = "of the stones settled in the end, it once said nothing would"
    yield Figure("planner.said_in_vain", float(np.mean(wrongly)), "share", len(wrongly), "", note)


def _against_fixed(
    found: Sequence[tuple[Session, ...]],
    number: int,
    what: str,
    cost: Callable[[Session], float],
    goal: str,
) -> Iterator[Figure]:
    """Yield the mean cost as a share of the fixed order's, over stones that both settle."""
    both = [(w[number], w[-1]) for w in found if w[number].is_settled and w[-1].is_settled]
    planned = float(np.mean([cost(session) for session, _ in both]))
    fixed = float(np.mean([cost(session) for _, session in both]))
    note = f"{planned:.1f} against {fixed:.1f} {what}"
    yield Figure(f"planner.{what}_of_fixed", planned / fixed, "share", len(both), goal, note)
