"""One open workbench for every test of the use cases."""

import pytest

from isogyre.desk import Workbench, open_workbench


@pytest.fixture(scope="session")
def workbench() -> Workbench:
    return open_workbench()
