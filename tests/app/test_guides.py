from pathlib import Path

import pytest

from tests.app.guide_screens import DRAWN, GUIDES, with_drawings


@pytest.mark.parametrize(
    "guide",
    [path for path in sorted(GUIDES.glob("*.md")) if DRAWN.search(path.read_text("utf-8"))],
    ids=lambda guide: guide.stem,
)
async def test_screens_and_keys_in_the_guides_are_those_of_the_program(guide: Path) -> None:
    text = guide.read_text("utf-8")
    assert text == await with_drawings(text), "run: python -m tests.app.guide_screens"
