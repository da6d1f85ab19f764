"""The screens, key tables and pictures in the documents are those of the program."""

import re
from pathlib import Path

import pytest

from tests.app.guide_screens import DOCUMENTS, DRAWN, with_drawings
from tests.app.readme_pictures import PICTURES, SOURCES, picture


@pytest.mark.parametrize(
    "guide",
    [path for path in DOCUMENTS if DRAWN.search(path.read_text("utf-8"))],
    ids=lambda guide: guide.stem,
)
async def test_screens_and_keys_in_the_documents_are_those_of_the_program(guide: Path) -> None:
    text = guide.read_text("utf-8")
    assert text == await with_drawings(text), "run: python -m tests.app.guide_screens"


@pytest.mark.parametrize("name", SOURCES)
def test_the_pictures_of_the_readme_are_those_that_were_approved(name: str) -> None:
    drawn = (PICTURES / name).read_text("utf-8")
    assert drawn == picture(name), "run: python -m tests.app.guide_screens"
    assert "http" not in re.sub(r'xmlns="[^"]*"|<!--.*?-->', "", drawn)
