"""The key line at the foot of every page: the few keys that matter, from the key table."""

from collections.abc import Collection, Sequence

from textual.content import Content
from textual.style import Style
from textual.widgets import Static

from intonation.app.keys import EVERYWHERE, Key
from intonation.app.printing.inks import SOFT, STRONG

_ALWAYS = {key.name for key in EVERYWHERE}


class KeyLine(Static):
    """One line that names keys; a click on one does what the key does."""

    def __init__(self, keys: tuple[Key, ...]) -> None:
        super().__init__()
        self.shown = tuple(key for key in keys if key.in_key_line)
        self._left_out: Collection[str] = ()

    def leave_out(self, names: Collection[str]) -> None:
        """Show all but the keys of these names, which do nothing at present."""
        self._left_out = names
        self.refresh()

    def render(self) -> Content:
        """Return as many keys as there is room for."""
        shown = [key for key in self.shown if key.name not in self._left_out]
        return key_line(shown, width=self.content_size.width)


def key_line(keys: Sequence[Key], *, width: int) -> Content:
    """Return keys in one line: set closer, then left out from the end, until they fit.

    What leads back, to the help and out stays; the help names whatever is left out.
    """
    gap, kept = "   ", list(keys)
    while (line := Content(gap).join(map(_entry, kept))).cell_length > width:
        less = [key for key in kept if key.action != "back" and key.name not in _ALWAYS]
        if gap == "   ":
            gap = "  "
        elif less:
            kept.remove(less[-1])
        else:
            break
    return line


def _entry(key: Key) -> Content:
    action = key.action if "." in key.action else f"screen.{key.action}"
    entry = Content.assemble((key.shown_with_pair or key.shown, STRONG), " ", (key.label, SOFT))
    return entry.stylize(Style.from_meta({"@click": action}))
