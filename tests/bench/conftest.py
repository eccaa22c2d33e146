"""The world of the bench, opened once for all of its tests."""

import pytest

from bench.world import World, open_world


@pytest.fixture(scope="session")
def world() -> World:
    return open_world()
