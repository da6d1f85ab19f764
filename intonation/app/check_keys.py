"""The keys of the instrument check, its verdict and the comparison."""

from intonation.app.keys import CHOOSING, Key, back, marking
from intonation.language import say

_BACK = back("check.back")
_MARK_UP, _MARK_DOWN = marking("check")

CHECK = (
    Key(
        name="check.start",
        keys=("space", "pagedown"),
        shown=say("Space"),
        action="start",
        label=say("Start"),
        explanation=say("Begin the check, or go on with one that was broken off. So does a pedal."),
        in_key_line=True,
    ),
    *CHOOSING,
    Key(
        name="check.anew",
        keys=("n",),
        shown="N",
        action="anew",
        label=say("Begin anew"),
        explanation=say("Begin a new check; one that was broken off keeps its notes."),
    ),
    Key(
        name="check.verdict",
        keys=("v",),
        shown="V",
        action="verdict",
        label=say("Verdict"),
        explanation=say("What the checks on file say about this player on this instrument."),
        in_key_line=True,
    ),
    Key(
        name="check.compare",
        keys=("b",),
        shown="B",
        action="compare",
        label=say("Compare"),
        explanation=say("Before and after: compare two or more sittings on this instrument."),
        in_key_line=True,
    ),
    _BACK,
)

CHECKING = (
    Key(
        name="checking.go_on",
        keys=("space", "pagedown"),
        shown=say("Space"),
        action="go_on",
        label=say("Go on/pause"),
        explanation=say("Begin the pass, pause, or go on. The first key of a pedal does the same."),
        in_key_line=True,
    ),
    Key(
        name="checking.skip",
        keys=("n", "pageup"),
        shown="N",
        action="skip",
        label=say("Leave note out"),
        explanation=say("Leave this note out and go on to the next. So does a pedal's second key."),
        in_key_line=True,
    ),
    Key(
        name="checking.stop",
        keys=("escape",),
        shown=say("Esc"),
        action="stop",
        label=say("Stop"),
        explanation=say("Stop. Everything is kept, and you can go on at any time."),
        in_key_line=True,
    ),
)

VERDICT = (
    _MARK_UP,
    _MARK_DOWN,
    Key(
        name="verdict.numbers",
        keys=("n", "pagedown"),
        shown="N",
        action="numbers",
        label=say("Numbers"),
        explanation=say("The same as numbers, or as a chart again."),
        in_key_line=True,
    ),
    Key(
        name="verdict.whole",
        keys=("i", "pageup"),
        shown="I",
        action="whole",
        label=say("Whole"),
        explanation=say(
            "The instrument as a whole: pitch, window, octaves; and ear against breath."
        ),
        in_key_line=True,
    ),
    Key(
        name="verdict.again",
        keys=("m",),
        shown="M",
        action="again",
        label=say("Again"),
        explanation=say("Measure again the notes that this would settle best: about a minute."),
        in_key_line=True,
    ),
    Key(
        name="verdict.compare",
        keys=("b",),
        shown="B",
        action="compare",
        label=say("Before and after"),
        explanation=say("Compare two or more sittings on this instrument."),
    ),
    Key(
        name="verdict.workshop",
        keys=("w",),
        shown="W",
        action="workshop",
        label=say("Workshop"),
        explanation=say("What is wrong with the instrument, and what could be tried."),
        in_key_line=True,
    ),
    _BACK,
)

COMPARISON = (
    _MARK_UP,
    _MARK_DOWN,
    Key(
        name="comparison.before",
        keys=("b",),
        shown="B",
        action="side('before')",
        label=say("Before"),
        explanation=say("The marked sitting was before the change."),
        in_key_line=True,
    ),
    Key(
        name="comparison.after",
        keys=("a",),
        shown="A",
        action="side('after')",
        label=say("After"),
        explanation=say("The marked sitting was after the change."),
        in_key_line=True,
    ),
    Key(
        name="comparison.neither",
        keys=("n",),
        shown="N",
        action="side('')",
        label=say("Neither"),
        explanation=say("Leave the marked sitting out of the comparison."),
    ),
    Key(
        name="comparison.compare",
        keys=("space", "enter", "pagedown"),
        shown=say("Space"),
        action="compare",
        label=say("Compare"),
        explanation=say("Work out what changed."),
        in_key_line=True,
    ),
    Key(
        name="comparison.further",
        keys=("right",),
        shown="→",
        action="scroll(5)",
        label=say("Further down"),
        explanation=say("Scroll down to the other notes."),
    ),
    Key(
        name="comparison.nearer",
        keys=("left",),
        shown="←",
        action="scroll(-5)",
        label=say("Further up"),
        explanation=say("Scroll up again."),
    ),
    _BACK,
)
