"""The rules and the catalogue, loaded once, and every stone the catalogue holds."""

import pytest

from isogyre.catalogue import load_catalogue
from isogyre.population.hypotheses import looks_of
from isogyre.trade import load_rules
from tests.trade.stone import Stone


@pytest.fixture(scope="session")
def rules():
    return load_rules()


@pytest.fixture(scope="session")
def catalogue():
    return load_catalogue()


@pytest.fixture(scope="session")
def every_stone(catalogue):
    """Return every kind of stone of the catalogue: look x growth x treatment, and none."""
    return [
        Stone(
            m.species, look.variety, treatment, catalogue.growths[b.growth].origin, b.growth, m.name
        )
        for m in catalogue.materials.values()
        for b in m.bodies
        for look in looks_of(m, b)
        for treatment in ("", *{t.name for t in m.treatments})
    ]
