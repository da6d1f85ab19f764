"""The keys of the practice page, which lead to every other page."""

from intonation.app.keys import CHOOSING, Key
from intonation.language import say

PRACTICE = (
    Key(
        name="practice.start",
        keys=("space", "pagedown"),
        shown=say("Space"),
        action="start",
        label=say("Start"),
        explanation=say("Start a take: the drone sounds. A page-turn pedal does the same."),
        in_key_line=True,
    ),
    *CHOOSING,
    Key(
        name="practice.hear",
        keys=("h",),
        shown="H",
        action="hear_drone",
        label=say("Hear"),
        explanation=say("Hear the drone as you choose it, or quiet it again. Nothing is scored."),
        in_key_line=True,
    ),
    Key(
        name="practice.today",
        keys=("y",),
        shown="Y",
        action="app.open('today')",
        label=say("Today"),
        explanation=say("A plan of 10, 20 or 30 minutes from your own record, step by step."),
        in_key_line=True,
    ),
    Key(
        name="practice.exercises",
        keys=("e",),
        shown="E",
        action="app.open('exercises')",
        label=say("Exercises"),
        explanation=say("Long tones, intervals, chords and slow melodies with backing."),
    ),
    Key(
        name="practice.habits",
        keys=("b",),
        shown="B",
        action="app.open('habits')",
        label=say("Habits"),
        explanation=say("Where each of your notes usually lies, and what that goes with."),
    ),
    Key(
        name="practice.ear",
        keys=("l",),
        shown="L",
        action="app.open('ear')",
        label=say("Train the ear"),
        explanation=say(
            "Listening drills without an instrument: how small a deviation do you hear?"
        ),
    ),
    Key(
        name="practice.temperaments",
        keys=("t",),
        shown="T",
        action="app.open('temperaments')",
        label=say("Temperaments"),
        explanation=say("Every temperament as a table of cents and hertz."),
    ),
    Key(
        name="practice.fingerings",
        keys=("f",),
        shown="F",
        action="app.open('fingerings')",
        label=say("Fingerings"),
        explanation=say("The fingering chart of the instrument, with other fingerings."),
    ),
    Key(
        name="practice.check",
        keys=("c",),
        shown="C",
        action="app.open('check')",
        label=say("Check"),
        explanation=say(
            "Is it you or the instrument? The guided check, its verdict, before and after."
        ),
    ),
    Key(
        name="practice.workshop",
        keys=("w",),
        shown="W",
        action="app.open('workshop')",
        label=say("Workshop"),
        explanation=say("What is wrong with the instrument, what to try, and what a trial did."),
    ),
    Key(
        name="practice.traces",
        keys=("v",),
        shown="V",
        action="app.open('traces')",
        label=say("Look back"),
        explanation=say("Each held note of the latest takes over time, with the breath beneath."),
    ),
    Key(
        name="practice.instruments",
        keys=("i",),
        shown="I",
        action="app.open('instruments')",
        label=say("Instruments"),
        explanation=say("Your own instruments: take one in hand, name it, add another."),
    ),
    Key(
        name="practice.players",
        keys=("p",),
        shown="P",
        action="app.open('players')",
        label=say("Players"),
        explanation=say(
            "Every player and instrument: compare, take in a pupil's file, print a page."
        ),
    ),
    Key(
        name="practice.sound",
        keys=("s",),
        shown="S",
        action="app.open('sound')",
        label=say("Sound"),
        explanation=say("Microphone, output, level and faults."),
    ),
    Key(
        name="practice.set_up",
        keys=("u",),
        shown="U",
        action="app.open('set_up')",
        label="Set-up",
        explanation=say("Who plays, pitch, microphone and output, and a check of the sound."),
    ),
    Key(
        name="practice.contents",
        keys=("m",),
        shown="M",
        action="app.open('contents')",
        label=say("All pages"),
        explanation=say("Everything that there is, page by page, to choose from."),
        in_key_line=True,
    ),
)
