"""The features that a control of phrases understands, under what brings them about."""

from collections.abc import Sequence
from dataclasses import dataclass

from isogyre.catalogue.model import Feature
from isogyre.desk.page.feature_drawing import drawing_address
from isogyre.desk.workbench import Workbench

TELLING = "would tell most now"
# So many are looked for in one go; beyond that the list is no shorter way than the search.
MOST_TELLING = 12


@dataclass(frozen=True)
class FeatureRow:
    """A feature by name, the other words for it, what it is, and where its drawing is kept."""

    name: str
    words: tuple[str, ...]
    what: str
    drawing: str


@dataclass(frozen=True)
class FeatureGroup:
    """Features of one cause, or those that would tell most now."""

    cause: str
    features: tuple[FeatureRow, ...]
    is_telling: bool = False


def vocabulary(workbench: Workbench, telling: Sequence[str] = ()) -> tuple[FeatureGroup, ...]:
    """Return the loupe's features by cause, each once.

    Parameters
    ----------
    workbench
        Its catalogue holds the features.
    telling
        Names of features that would tell most now, best first; they stand in a group of their
        own before all others. Names that the loupe does not look for are passed over.
    """
    seen = {f.name: f for f in workbench.catalogue.features.values() if f.where in ("loupe", "eye")}
    first = [seen.pop(name) for name in dict.fromkeys(telling) if name in seen]
    causes: dict[str, list[Feature]] = {}
    for feature in seen.values():
        causes.setdefault(feature.cause, []).append(feature)

    def row(feature: Feature) -> FeatureRow:
        drawing = drawing_address(workbench, feature.name)
        return FeatureRow(feature.name, feature.words, feature.what, drawing)

    groups = {TELLING: first} if first else {}
    return tuple(
        FeatureGroup(cause, tuple(row(feature) for feature in features), cause == TELLING)
        for cause, features in {**groups, **causes}.items()
    )


def telling_features(workbench: Workbench, proposed: Sequence[str]) -> tuple[str, ...]:
    """Return the features that the tests proposed next look for, best test first.

    Parameters
    ----------
    workbench
        Its instruments make the tests.
    proposed
        Names of planned tests in the order of the planner; those that look for no feature are
        passed over.
    """
    tests = {test.name: test for i in workbench.instruments for test in i.tests}
    outcomes = (o for name in proposed if name in tests for o in tests[name].outcome_names)
    known = [outcome for outcome in outcomes if outcome in workbench.catalogue.features]
    return tuple(dict.fromkeys(known))[:MOST_TELLING]
