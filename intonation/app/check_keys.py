"""The keys of the instrument check, its verdict and the comparison."""

from dataclasses import replace

from intonation.app.keys import CHOOSING, Key, back, marking

_BACK = back("check.back")
_MARK_UP, _MARK_DOWN = marking("check")

CHECK = (
    Key(
        name="check.start",
        keys=("space", "pagedown"),
        shown="Space",
        action="start",
        label="Start",
        explanation="Begin the check, or go on with one that was broken off. So does a pedal.",
        in_key_line=True,
    ),
    *CHOOSING,
    Key(
        name="check.anew",
        keys=("n",),
        shown="N",
        action="anew",
        label="Begin anew",
        explanation="Begin a new check; one that was broken off keeps its notes.",
    ),
    Key(
        name="check.verdict",
        keys=("v",),
        shown="V",
        action="verdict",
        label="Verdict",
        explanation="What the checks on file say about this player on this instrument.",
        in_key_line=True,
    ),
    Key(
        name="check.compare",
        keys=("b",),
        shown="B",
        action="compare",
        label="Compare",
        explanation="Before and after: compare two or more sittings on this instrument.",
        in_key_line=True,
    ),
    replace(_BACK, in_key_line=False),
)

CHECKING = (
    Key(
        name="checking.go_on",
        keys=("space", "pagedown"),
        shown="Space",
        action="go_on",
        label="Go on/pause",
        explanation="Begin the pass, pause, or go on. The first key of a pedal does the same.",
        in_key_line=True,
    ),
    Key(
        name="checking.skip",
        keys=("n", "pageup"),
        shown="N",
        action="skip",
        label="Leave note out",
        explanation="Leave this note out and go on to the next. So does a pedal's second key.",
        in_key_line=True,
    ),
    Key(
        name="checking.stop",
        keys=("escape",),
        shown="Esc",
        action="stop",
        label="Stop",
        explanation="Stop. Everything is kept, and you can go on at any time.",
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
        label="Numbers",
        explanation="The same as numbers, or as a chart again.",
        in_key_line=True,
    ),
    Key(
        name="verdict.whole",
        keys=("i", "pageup"),
        shown="I",
        action="whole",
        label="Whole",
        explanation="The instrument as a whole: pitch, window, octaves; and ear against breath.",
        in_key_line=True,
    ),
    Key(
        name="verdict.again",
        keys=("m",),
        shown="M",
        action="again",
        label="Again",
        explanation="Measure again the notes that this would settle best: about a minute.",
        in_key_line=True,
    ),
    Key(
        name="verdict.compare",
        keys=("b",),
        shown="B",
        action="compare",
        label="Before and after",
        explanation="Compare two or more sittings on this instrument.",
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
        label="Before",
        explanation="The marked sitting was before the change.",
        in_key_line=True,
    ),
    Key(
        name="comparison.after",
        keys=("a",),
        shown="A",
        action="side('after')",
        label="After",
        explanation="The marked sitting was after the change.",
        in_key_line=True,
    ),
    Key(
        name="comparison.neither",
        keys=("n",),
        shown="N",
        action="side('')",
        label="Neither",
        explanation="Leave the marked sitting out of the comparison.",
    ),
    Key(
        name="comparison.compare",
        keys=("space", "enter", "pagedown"),
        shown="Space",
        action="compare",
        label="Compare",
        explanation="Work out what changed.",
        in_key_line=True,
    ),
    Key(
        name="comparison.further",
        keys=("right",),
        shown="→",
        action="scroll(5)",
        label="Further down",
        explanation="Scroll down to the other notes.",
    ),
    Key(
        name="comparison.nearer",
        keys=("left",),
        shown="←",
        action="scroll(-5)",
        label="Further up",
        explanation="Scroll up again.",
    ),
    _BACK,
)
