"""The one table of keys: what each screen listens to, what its key line and its help page show."""

from dataclasses import dataclass

from textual.binding import Binding


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


_UP = Key(
    name="choices.up",
    keys=("up",),
    shown="↑",
    action="move(-1)",
    label="Line above",
    explanation="Go to the line above.",
)
_DOWN = Key(
    name="choices.down",
    keys=("down",),
    shown="↓",
    action="move(1)",
    label="Choose",
    explanation="Go to the line below.",
    in_key_line=True,
    shown_with_pair="↑↓←→",
)
_LESS = Key(
    name="choices.previous",
    keys=("left", "minus"),
    shown="←",
    action="step(-1)",
    label="Change back",
    explanation="The value before, or less of it.",
)
_MORE = Key(
    name="choices.next",
    keys=("right", "plus", "equals_sign"),
    shown="→",
    action="step(1)",
    label="Change",
    explanation="The next value, or more of it.",
)
_TYPE = Key(
    name="choices.type",
    keys=("enter",),
    shown="Enter",
    action="type",
    label="Type",
    explanation="Type the value: a name, a note such as Bb4, or hertz.",
)
CHOOSING = (_UP, _DOWN, _LESS, _MORE, _TYPE)

PRACTICE = (
    Key(
        name="practice.start",
        keys=("space", "pagedown"),
        shown="Space",
        action="start",
        label="Start",
        explanation="Start a take: the drone sounds. A page-turn pedal does the same.",
        in_key_line=True,
    ),
    *CHOOSING,
    Key(
        name="practice.hear",
        keys=("h",),
        shown="H",
        action="hear_drone",
        label="Hear",
        explanation="Hear the drone as you choose it, or quiet it again. Nothing is scored.",
        in_key_line=True,
    ),
    Key(
        name="practice.today",
        keys=("y",),
        shown="Y",
        action="app.open('today')",
        label="Today",
        explanation="A plan of 10, 20 or 30 minutes from your own record, step by step.",
        in_key_line=True,
    ),
    Key(
        name="practice.exercises",
        keys=("e",),
        shown="E",
        action="app.open('exercises')",
        label="Exercises",
        explanation="Long tones, intervals, chords and slow melodies with backing.",
    ),
    Key(
        name="practice.habits",
        keys=("b",),
        shown="B",
        action="app.open('habits')",
        label="Habits",
        explanation="Where each of your notes usually lies, and what that goes with.",
    ),
    Key(
        name="practice.ear",
        keys=("l",),
        shown="L",
        action="app.open('ear')",
        label="Train the ear",
        explanation="Listening drills without an instrument: how small a deviation do you hear?",
    ),
    Key(
        name="practice.temperaments",
        keys=("t",),
        shown="T",
        action="app.open('temperaments')",
        label="Temperaments",
        explanation="Every temperament as a table of cents and hertz.",
    ),
    Key(
        name="practice.fingerings",
        keys=("f",),
        shown="F",
        action="app.open('fingerings')",
        label="Fingerings",
        explanation="The fingering chart of the instrument, with other fingerings.",
    ),
    Key(
        name="practice.check",
        keys=("c",),
        shown="C",
        action="app.open('check')",
        label="Check",
        explanation="Is it you or the instrument? The guided check, its verdict, before and after.",
    ),
    Key(
        name="practice.workshop",
        keys=("w",),
        shown="W",
        action="app.open('workshop')",
        label="Workshop",
        explanation="What is wrong with the instrument, what to try, and what a trial did.",
    ),
    Key(
        name="practice.traces",
        keys=("v",),
        shown="V",
        action="app.open('traces')",
        label="Look back",
        explanation="Each held note of the latest takes over time, with the breath beneath.",
    ),
    Key(
        name="practice.players",
        keys=("p",),
        shown="P",
        action="app.open('players')",
        label="Players",
        explanation="Every player and instrument: compare, take in a pupil's file, print a page.",
    ),
    Key(
        name="practice.sound",
        keys=("s",),
        shown="S",
        action="app.open('sound')",
        label="Sound",
        explanation="Microphone, output, level and faults.",
    ),
    Key(
        name="practice.set_up",
        keys=("u",),
        shown="U",
        action="app.open('set_up')",
        label="Set-up",
        explanation="Who plays, pitch, microphone and output, and a check of the sound.",
    ),
    Key(
        name="practice.contents",
        keys=("m",),
        shown="M",
        action="app.open('contents')",
        label="All pages",
        explanation="Everything that there is, page by page, to choose from.",
        in_key_line=True,
    ),
)

TAKE = (
    Key(
        name="take.end",
        keys=("space", "pagedown", "escape"),
        shown="Space",
        action="end",
        label="End",
        explanation="End the take and see every note of it. A page-turn pedal does the same.",
        in_key_line=True,
    ),
    Key(
        name="take.reveal",
        keys=("r", "pageup"),
        shown="R",
        action="reveal",
        label="Show pitch",
        explanation="Show the pitch while a note sounds, or hide it again. Hidden trains the ear.",
        in_key_line=True,
    ),
    Key(
        name="take.softer",
        keys=("minus", "left", "down"),
        shown="−",
        action="app.loudness(-3)",
        label="Softer",
        explanation="Make the drone softer by 3 dB.",
    ),
    Key(
        name="take.louder",
        keys=("plus", "equals_sign", "right", "up"),
        shown="+",
        action="app.loudness(3)",
        label="Loudness",
        explanation="Make the drone louder by 3 dB.",
        in_key_line=True,
        shown_with_pair="−+",
    ),
)

SUMMARY = (
    Key(
        name="summary.up",
        keys=("up",),
        shown="↑",
        action="scroll(-1)",
        label="Up",
        explanation="Go up a long list.",
    ),
    Key(
        name="summary.down",
        keys=("down",),
        shown="↓",
        action="scroll(1)",
        label="Down",
        explanation="Go down a long list.",
    ),
    Key(
        name="summary.again",
        keys=("space", "pagedown"),
        shown="Space",
        action="again",
        label="Play again",
        explanation="Start another take with the same choices.",
        in_key_line=True,
    ),
    Key(
        name="summary.back",
        keys=("escape", "b", "pageup"),
        shown="Esc",
        action="back",
        label="Back",
        explanation="Go back to where the take was chosen.",
        in_key_line=True,
    ),
    Key(
        name="summary.traces",
        keys=("v",),
        shown="V",
        action="app.open('traces')",
        label="Look back",
        explanation="Each held note of the take over time, with the breath beneath.",
        in_key_line=True,
    ),
    Key(
        name="summary.workshop",
        keys=("w",),
        shown="W",
        action="app.open('workshop')",
        label="Workshop",
        explanation="What is wrong with the instrument, what to try, and what a trial did.",
        in_key_line=True,
    ),
)

SOUND = (
    Key(
        name="sound.back",
        keys=("escape", "space", "s"),
        shown="Esc",
        action="back",
        label="Back",
        explanation="Use these devices and go back.",
        in_key_line=True,
    ),
    *CHOOSING,
    Key(
        name="sound.search",
        keys=("d",),
        shown="D",
        action="search",
        label="Search",
        explanation="Look for devices again, after plugging one in.",
        in_key_line=True,
    ),
)

HELP = (
    Key(
        name="help.back",
        keys=("escape", "question_mark", "f1", "space"),
        shown="Esc",
        action="back",
        label="Back",
        explanation="Close the help page.",
        in_key_line=True,
    ),
)

EVERYWHERE = (
    Key(
        name="help",
        keys=("question_mark", "f1"),
        shown="?",
        action="app.help",
        label="Help",
        explanation="Every key of the screen you are on.",
        in_key_line=True,
    ),
    Key(
        name="light",
        keys=("f2",),
        shown="F2",
        action="app.light",
        label="Light",
        explanation="Change between daylight paper and evening paper.",
    ),
    Key(
        name="commands",
        keys=("ctrl+p",),
        shown="Ctrl+P",
        action="app.command_palette",
        label="Commands",
        explanation="Find anything that the program can do by typing a word of it.",
    ),
    Key(
        name="quit",
        keys=("q", "ctrl+q"),
        shown="Q",
        action="app.quit",
        label="Quit",
        explanation="Fade the sound out and leave. Every note is on disk already.",
        in_key_line=True,
    ),
)


def bindings(keys: tuple[Key, ...]) -> list[Binding]:
    """Return Textual's bindings of some rows of the table."""
    return [key.binding for key in keys]
