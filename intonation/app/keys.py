"""What a key is, and the keys that many pages or every page have; `key_table` lists them all."""

from dataclasses import dataclass

from textual.binding import Binding

from intonation.language import say


@dataclass(frozen=True, slots=True, kw_only=True)
class Key:
    """One thing that a key does.

    Parameters
    ----------
    name
        Unique name, by which a player's own key file will know it.
    keys
        Textual's names of the keys that do it.
    shown
        The keys as a player reads them.
    action
        Textual action that is run.
    label
        A word or two for the key line.
    explanation
        A sentence for the help page.
    in_key_line
        Whether it is one of the few that the key line shows.
    shown_with_pair
        The keys as the key line shows them, where one entry stands for this key and its opposite.
    """

    name: str
    keys: tuple[str, ...]
    shown: str
    action: str
    label: str
    explanation: str
    in_key_line: bool = False
    shown_with_pair: str | None = None

    @property
    def is_command(self) -> bool:
        """Whether it is something to look for by name, more than a step up, down or aside."""
        name = self.action.partition("(")[0]
        return name not in {"move", "step", "scroll", "app.command_palette"}

    @property
    def binding(self) -> Binding:
        """The same as Textual wants it."""
        return Binding(",".join(self.keys), self.action, self.label, id=self.name, show=False)


def back(name: str, *also: str, explanation: str = say("Go back.")) -> Key:
    """Return the row that leads back from a page: Escape, and perhaps other keys too."""
    return Key(
        name=name,
        keys=("escape", *also),
        shown=say("Esc"),
        action="back",
        label=say("Back"),
        explanation=explanation,
        in_key_line=True,
    )


def marking(page: str) -> tuple[Key, Key]:
    """Return the rows of a page on which a line is marked."""
    up = Key(
        name=f"{page}.up",
        keys=("up",),
        shown="↑",
        action="move(-1)",
        label=say("Line above"),
        explanation=say("Mark the line above."),
    )
    down = Key(
        name=f"{page}.down",
        keys=("down",),
        shown="↓",
        action="move(1)",
        label=say("Mark"),
        explanation=say("Mark the line below."),
        in_key_line=True,
        shown_with_pair="↑↓",
    )
    return up, down


def through_a_long_list(page: str) -> tuple[Key, Key]:
    """Return the rows of a page whose list may be longer than the screen."""
    up = Key(
        name=f"{page}.up",
        keys=("up",),
        shown="↑",
        action="scroll(-1)",
        label=say("Up"),
        explanation=say("Go up a long list."),
    )
    down = Key(
        name=f"{page}.down",
        keys=("down",),
        shown="↓",
        action="scroll(1)",
        label=say("Down"),
        explanation=say("Go down a long list."),
    )
    return up, down


_UP = Key(
    name="choices.up",
    keys=("up",),
    shown="↑",
    action="move(-1)",
    label=say("Line above"),
    explanation=say("Go to the line above."),
)
_DOWN = Key(
    name="choices.down",
    keys=("down",),
    shown="↓",
    action="move(1)",
    label=say("Choose"),
    explanation=say("Go to the line below."),
    in_key_line=True,
    shown_with_pair="↑↓←→",
)
_LESS = Key(
    name="choices.previous",
    keys=("left", "minus"),
    shown="←",
    action="step(-1)",
    label=say("Change back"),
    explanation=say("The value before, or less of it."),
)
_MORE = Key(
    name="choices.next",
    keys=("right", "plus", "equals_sign"),
    shown="→",
    action="step(1)",
    label=say("Change"),
    explanation=say("The next value, or more of it."),
)
_TYPE = Key(
    name="choices.type",
    keys=("enter",),
    shown=say("Enter"),
    action="type",
    label=say("Type"),
    explanation=say("Type the value: a name, a note such as Bb4, or hertz."),
)
CHOOSING = (_UP, _DOWN, _LESS, _MORE, _TYPE)

HELP = (back("help.back", "question_mark", "f1", "space", explanation=say("Close the help page.")),)

EVERYWHERE = (
    Key(
        name="help",
        keys=("question_mark", "f1"),
        shown="?",
        action="app.help",
        label=say("Help"),
        explanation=say("Every key of the screen you are on."),
        in_key_line=True,
    ),
    Key(
        name="light",
        keys=("f2",),
        shown="F2",
        action="app.light",
        label=say("Light"),
        explanation=say("Change between daylight paper and evening paper."),
    ),
    Key(
        name="commands",
        keys=("ctrl+p",),
        shown="Ctrl+P",
        action="app.command_palette",
        label=say("Commands"),
        explanation=say("Find anything that the program can do by typing a word of it."),
    ),
    Key(
        name="quit",
        keys=("q", "ctrl+q"),
        shown="Q",
        action="app.quit",
        label=say("Quit"),
        explanation=say("Fade the sound out and leave. Every note is on disk already."),
        in_key_line=True,
    ),
)


def bindings(keys: tuple[Key, ...]) -> list[Binding]:
    """Return Textual's bindings of some rows of the table."""
    return [key.binding for key in keys]
