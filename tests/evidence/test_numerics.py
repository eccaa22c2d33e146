"""So many virtual stones are enough: the answer hardly moves with eight times as many."""

import numpy as np
import pytest

from isogyre.evidence import stand
from isogyre.population import build_population

# ENGINE goals for the distance to a dense run: mean and greatest total variation.
MEAN_DISTANCE, GREATEST_DISTANCE = 0.005, 0.02


@pytest.fixture(scope="module")
def dense(catalogue):
    return build_population(catalogue, stones=1024)


def test_eight_times_as_many_stones_give_the_same_species(population, dense, read, everyday):
    distances = []
    for record in everyday.values():
        found = read(**record)
        coarse, fine = (
            stand(stones, found.readings, found.setting).species for stones in (population, dense)
        )
        assert set(coarse) == set(fine)
        distances.append(sum(abs(coarse[name] - fine[name]) for name in fine) / 2)
    assert np.mean(distances) < MEAN_DISTANCE
    assert max(distances) < GREATEST_DISTANCE
