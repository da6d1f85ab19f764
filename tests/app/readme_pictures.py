"""Makes the pictures of the README from the approved snapshots of the pages.

``python -m tests.app.guide_screens`` writes them anew after a change of the interface.
"""

import re
from pathlib import Path

SNAPSHOTS = Path(__file__).parent / "__snapshots__"
PICTURES = Path(__file__).parents[2] / "docs" / "pictures"
APPROVED = "test_the_page_looks_as_it_was_approved[{}].svg"
SOURCES = {
    "take.svg": SNAPSHOTS / "test_pictures" / APPROVED.format("take_page-80x24"),
    "habits.svg": SNAPSHOTS / "test_habits_page" / APPROVED.format("picture-80x24"),
}
FONTS_FROM_THE_NETWORK = re.compile(r"@font-face \{.*?\}\s*", re.DOTALL)
WINDOW_AROUND_IT = re.compile(r'<rect fill="#292929".*?</g>', re.DOTALL)
SIZE = re.compile(r'viewBox="[^"]*"')
PAPER = re.compile(r'<rect fill="(#\w+)" x="0" y="1.5"')
ONLY_THE_PAGE = 'viewBox="0 30 994 606"'


def picture(name: str) -> str:
    """Return a snapshot without the window around it, and without anything from the network."""
    drawn = SOURCES[name].read_text("utf-8")
    paper = PAPER.search(drawn)
    assert paper, f"{name}: no page on this snapshot"
    sheet = f'<rect fill="{paper[1]}" x="0" y="30" width="994" height="606" rx="6"/>'
    drawn = FONTS_FROM_THE_NETWORK.sub("", drawn)
    drawn = drawn.replace("Fira Code, monospace", "DejaVu Sans Mono, Menlo, Consolas, monospace")
    return SIZE.sub(ONLY_THE_PAGE, WINDOW_AROUND_IT.sub(sheet, drawn), count=1)


def write_all() -> None:
    """Write every picture into the documents."""
    PICTURES.mkdir(exist_ok=True)
    for name in SOURCES:
        (PICTURES / name).write_text(picture(name), "utf-8")
