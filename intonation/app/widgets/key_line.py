"""The key line at the foot of every page: the few keys that matter, from the key table."""

from textual.content import Content
from textual.style import Style
from textual.widgets import Static

from intonation.app.keys import Key
from intonation.app.printing.inks import SOFT, STRONG


class KeyLine(Static):
    """One line that names keys; a click on one does what the key does."""

    def __init__(self, keys: tuple[Key, ...]) -> None:
        shown = [key for key in keys if key.in_key_line]
        super().__init__(Content("   ").join(map(_entry, shown)))


def _entry(key: Key) -> Content:
    action = key.action if "." in key.action else f"screen.{key.action}"
    entry = Content.assemble((key.shown_with_pair or key.shown, STRONG), " ", (key.label, SOFT))
    return entry.stylize(Style.from_meta({"@click": action}))
