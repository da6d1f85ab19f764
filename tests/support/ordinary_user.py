"""Lets a test run by the system's administrator meet the permissions that everyone else meets."""

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

_NOBODY = 65534


@contextmanager
def folder_of_an_ordinary_user() -> Iterator[Path]:
    """Yield a new folder of a user for whom permissions count, as whom the block is run.

    Everything the block needs must have been imported before: that user may not be able to.
    """
    folder = Path(tempfile.mkdtemp())
    administrator = os.geteuid() == 0
    if administrator:
        os.chown(folder, _NOBODY, _NOBODY)
        os.seteuid(_NOBODY)
    try:
        yield folder
    finally:
        if administrator:
            os.seteuid(0)
        folder.chmod(0o700)
        shutil.rmtree(folder)
