"""What holds for every test: one thread for mathematics, no deadline, how many run at once."""

import os

import pytest
from hypothesis import HealthCheck, settings

from intonation.cli.main import ONE_THREAD

# before numpy is imported for the first time, by whichever test comes first
for name in ONE_THREAD:
    os.environ.setdefault(name, "1")

# whether an invented example holds does not depend on how busy the machine is
settings.register_profile("untimed", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("untimed")


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers() -> int:
    """Let ``-n auto`` use two more than the cores: tests of the interface mostly wait."""
    return (os.cpu_count() or 1) + 2
