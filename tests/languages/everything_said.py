"""Prints what pages and commands say, as JSON, in the language that INTONATION_LANGUAGE names.

``python -m tests.languages.everything_said practice_page "habits --means" …``; whatever is no page
of the guides is typed as a command. With ``PICTURES=folder`` the pages are drawn there, too.
"""

# the language must be chosen before anything that speaks is imported
from intonation.languages.choice import speak_as_chosen

COMPLAINT = speak_as_chosen()

import asyncio  # noqa: E402
import contextlib  # noqa: E402
import io  # noqa: E402
import json  # noqa: E402
import os  # noqa: E402
import shlex  # noqa: E402
import sys  # noqa: E402
from pathlib import Path  # noqa: E402

from intonation.cli.main import main  # noqa: E402
from tests.app.conftest import screen_text  # noqa: E402
from tests.app.guide_screens import way_to  # noqa: E402


async def on_page(name: str) -> str:
    """Return the text of a page at 80 by 24, and draw it if pictures are wanted."""
    app, go = way_to(name)
    async with app.run_test(size=(80, 24)) as pilot:
        await go(pilot)
        if folder := os.environ.get("PICTURES"):
            app.save_screenshot(str(Path(folder) / f"{name}.svg"))
        return screen_text(pilot)


def printed(typed: str) -> str:
    """Return what a command prints, errors included."""
    said = io.StringIO()
    redirected = contextlib.redirect_stdout(said), contextlib.redirect_stderr(said)
    with redirected[0], redirected[1], contextlib.suppress(SystemExit):
        main(shlex.split(typed))
    return said.getvalue()


def said(what: str) -> str:
    """Return what a page or a command says."""
    return asyncio.run(on_page(what)) if what.isidentifier() and "_" in what else printed(what)


if __name__ == "__main__":
    assert COMPLAINT is None, COMPLAINT
    print(json.dumps({what: said(what) for what in sys.argv[1:]}))
