"""What holds for every test: one thread for mathematics, and how many tests run at once."""

import os

import pytest

from intonation.cli.main import ONE_THREAD

# before numpy is imported for the first time, by whichever test comes first
for name in ONE_THREAD:
    os.environ.setdefault(name, "1")


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers() -> int:
    """Let ``-n auto`` use two more than the cores: tests of the interface mostly wait."""
    return (os.cpu_count() or 1) + 2
