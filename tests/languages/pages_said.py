"""Prints what pages say, as JSON, in the language that INTONATION_LANGUAGE names.

``python -m tests.languages.pages_said practice_page …``; with ``--pictures FOLDER`` it draws them.
"""

# the language must be chosen before anything that speaks is imported
from intonation.languages.choice import speak_as_chosen

COMPLAINT = speak_as_chosen()

import asyncio  # noqa: E402
import json  # noqa: E402
import sys  # noqa: E402
from pathlib import Path  # noqa: E402

from tests.app.conftest import screen_text  # noqa: E402
from tests.app.guide_screens import way_to  # noqa: E402


async def said(names: list[str], pictures: Path | None) -> dict[str, str]:
    """Return the text of every page."""
    texts = {}
    for name in names:
        app, go = way_to(name)
        async with app.run_test(size=(80, 24)) as pilot:
            await go(pilot)
            texts[name] = screen_text(pilot)
            if pictures is not None:
                app.save_screenshot(str(pictures / f"{name}.svg"))
    return texts


if __name__ == "__main__":
    assert COMPLAINT is None, COMPLAINT
    *pages, folder = (
        sys.argv[1:] if sys.argv[-2] != "--pictures" else (*sys.argv[1:-2], sys.argv[-1])
    )
    drawn = Path(folder) if sys.argv[-2] == "--pictures" else None
    print(json.dumps(asyncio.run(said(pages if drawn else sys.argv[1:], drawn))))
