"""The instrument check in words: what to do, what became of a tone, and what a verdict says."""

from collections import Counter

from intonation.diagnosis.check import PASSES, CheckStep, Form, Manner
from intonation.diagnosis.comparison import ChangeVerdict, NoteChange
from intonation.diagnosis.parts import Interval
from intonation.diagnosis.results import NoteDiagnosis, PairDiagnosis
from intonation.language import name_in_words, say, say_many
from intonation.pitch.notes import note_name
from intonation.practice.checking import Checking
from intonation.words.diagnosis import chance_in_words, experiment_in_words, why_open_in_words
from intonation.words.numbers import rounded

FORMS: dict[Form, str] = {
    "short": say("short"),
    "standard": say("standard"),
    "thorough": say("thorough, on two days"),
    "off and on": say("off and on"),
}
"""The forms that a player chooses from."""

ABOUT_FORMS: dict[Form, str] = {
    "short": say(
        "Natural notes over two octaves: once as you always play, once with exact fingers and a "
        "swell on every note."
    ),
    "standard": say(
        "Every note: as you always play, with exact fingers and swells, and as always."
    ),
    "thorough": say(
        "Every note, as always and with exact fingers; and the same again on another day, which "
        "settles more than anything else that one player can do alone."
    ),
    "off and on": say(
        "Proves a change that can be undone, such as paper in a hole: chosen notes without it, "
        "with it, without it and with it again. An earlier check tells how the notes bend."
    ),
}

# ten to fifteen minutes: common practice, no source; 20 to 30 cm: design judgement
WARM_UP = say(
    "Warm up for ten to fifteen minutes first. Leave the microphone where it is, 20 to 30 cm from "
    "the window. No drone sounds, and nothing that moves with your pitch is shown."
)
LIGHT_HEADED = say(
    "Breathe normally between the notes, rest whenever you like, and stop at once if you feel "
    "light-headed."
)

PASS_A = (
    say("As you always play"),
    say("Breath and fingers as ever; correct nothing. Hold each note for about three seconds."),
)
PASS_B = (
    say("With exact fingers"),
    say(
        "Close every hole fully; pinch the thumb as the chart says. Hold each note evenly for "
        "three seconds. Then take a breath and let it grow once, from the softest to the loudest "
        "clean tone."
    ),
)
PASS_AGAIN = (
    say("Once more as you always play"),
    say(
        "These notes differed between the passes; one tone cannot tell a habit from a slip. Breath "
        "and fingers as ever; correct nothing."
    ),
)
PASS_OFF = (
    say("Without the change"),
    say("Take it out, or leave it out. Then play as you always do."),
)
PASS_ON = (say("With the change"), say("Put it in. Then play as you always do."))

TO_DO: dict[Manner, str] = {
    "as always": say("Hold it for three seconds, as you always play."),
    "held": say("Fingers exact. Hold it evenly for three seconds."),
    "swelled": say(
        "The same fingers, one breath of about five seconds: begin as soft as it speaks cleanly, "
        "then louder, louder, to the loudest clean tone."
    ),
}

_SAID = {
    "kept": say("Kept."),
    "held": say("Good. Now let it grow."),
    "skipped": say("Left out."),
    "too short": say("That was too short to measure: hold it for about three seconds."),
    "squeak": say("That overblew."),
    "too little swell": say("It hardly grew louder: begin softer and end louder."),
}
_COMES_AGAIN = say("The note comes again later.")
_IS_LEFT_OUT = say("After three tries the note is left out; the verdict will do without it.")
_LOOK_AT_PITCH = say(
    "If your fingers were right, look at instrument and concert pitch on the check's first page."
)

ANOTHER_DAY = say(
    "This was the first of two days: play the same check again on another day. Nothing else that "
    "one player can do alone settles more."
)
ROOM_UNKNOWN = say(
    "The room's temperature was not given, so the overall pitch is that of the day: about 3 cents "
    "higher for each degree."
)
TOO_FEW = say(
    "No check of this player on this instrument is on file yet, or it has too few notes. "
    "Play one: Space on the page before begins it."
)


def pass_in_words(step: CheckStep, form: Form) -> tuple[str, str]:
    """Return what a pass is called and how it is played."""
    if form == "off and on":
        return PASS_ON if step.pass_number % 2 else PASS_OFF
    if form != "again" and step.pass_number >= len(PASSES[form]):
        return PASS_AGAIN
    return PASS_A if step.pass_name == "A" else PASS_B


def said_in_words(checking: Checking) -> str:
    """Return what became of the last tone."""
    said = checking.said
    if said is None:
        return ""
    if said in ("kept", "held", "skipped", "too short"):
        return _SAID[said]
    if said == "another note":
        heard = checking.heard_midi
        sentence = (
            say("That was another note.")
            if heard is None
            else say("That was {note}.", note=note_name(heard))
        )
    else:
        sentence = _SAID[said]
    again = _IS_LEFT_OUT if checking.left_out_now else _COMES_AGAIN
    hint = f" {_LOOK_AT_PITCH}" if said == "another note" and not checking.cents else ""
    return f"{sentence} {again}{hint}"


def minutes_in_words(minutes: float) -> str:
    """Return a length of time as one says it: ``"about 4½ minutes"``."""
    if minutes < 0.75:
        return say("less than a minute") if minutes < 0.45 else say("half a minute")
    halves = round(2.0 * minutes)
    text = f"{halves // 2 or ''}{'½' if halves % 2 else ''}"
    return (
        say("about {text} minute", text=text)
        if halves <= 2
        else say("about {text} minutes", text=text)
    )


def progress_in_words(checking: Checking) -> str:
    """Return how far a check is."""
    check = checking.check
    total = check.done + len(check.ahead)
    return say(
        "{done} of {total} · {minutes_left} left",
        done=check.done,
        total=total,
        minutes_left=minutes_in_words(check.minutes_left),
    )


def whole_verdict_in_words(pair: PairDiagnosis) -> str:
    """Return in one sentence how many notes are in tune, whose the others are, and what is open."""
    counted = Counter(_OWNERS[note.verdict] for note in pair.notes)
    others = [f"{name_in_words(owner)} {counted[owner]}" for owner in _OFF if counted[owner]]
    in_tune = say("{count} in tune", count=counted["in tune"])
    return say(
        "Of {notes}: {parts}.",
        notes=_notes(len(pair.notes)),
        parts=", ".join([in_tune, *others]),
    )


def _notes(count: int) -> str:
    return say_many("{count} note", "{count} notes", count=count)


_OWNERS = {
    "in tune": "in tune",
    "instrument": "instrument",
    "at least partly the instrument": "instrument",
    "player": "player",
    "at least partly the player": "player",
    "both": "both",
    "not enough evidence": "open",
}
_OFF = ("instrument", "player", "both", "open")


def note_in_words(note: NoteDiagnosis) -> tuple[str, str]:
    """Return a note's place and its parts; then the verdict with its probability, and what next."""
    if note.breath is not None and note.habit is not None:
        parts = {"instrument": note.instrument, "breath": note.breath, "fingers": note.habit}
        told = ", ".join(f"{name_in_words(name)} {_sized(part)}" for name, part in parts.items())
    else:
        told = say(
            "instrument {instrument}, player {player}; without a swell breath and fingers stay one",
            instrument=_sized(note.instrument),
            player=_sized(note.player),
        )
    following = (
        say(" Next: {experiment}.", experiment=experiment_in_words(note.next[0]))
        if note.next
        else ""
    )
    place = say(
        "{note}: {total} among the notes",
        note=note_name(note.midi),
        total=_sized(note.total, first=True),
    )
    return f"{place}: {told}.", f"{_verdict_in_words(note)}{following}"


def _verdict_in_words(note: NoteDiagnosis) -> str:
    chance = chance_in_words(note.verdict, note.probabilities)
    chance = f"{chance[0].upper()}{chance[1:]}"
    if note.verdict == "not enough evidence":
        return say("{chance}: {why}", chance=chance, why=why_open_in_words(note))
    return say("{chance} (a model estimate).", chance=chance)


def _sized(part: Interval, *, first: bool = False) -> str:
    """Return an estimate with its interval, ``"14 sharp (10 to 18)"``; units with the first."""
    size = round(abs(part.mean))
    unit, sure = (say_many(" cent", " cents", count=size), "90 %: ") if first else ("", "")
    side = "" if size == 0 else say(" sharp") if part.mean > 0.0 else say(" flat")
    near, far = (part.low, part.high) if part.mean >= 0.0 else (-part.high, -part.low)
    return say(
        "{size}{unit}{side} ({sure}{near} to {far})",
        size=size,
        unit=unit,
        side=side,
        sure=sure,
        near=rounded(near),
        far=rounded(far),
    )


def changes_in_words(changes: tuple[NoteChange, ...]) -> str:
    """Return in one sentence how many notes changed."""
    if not changes:
        return say(
            "Too few notes were played both before and after: at least three are needed, for a "
            "change of all notes together looks like a change of the day."
        )
    counted = Counter(note.verdict for note in changes)
    parts = [f"{counted[verdict]} {_CHANGED[verdict]}" for verdict in _CHANGED if counted[verdict]]
    sentence = say("Of {notes}: {parts}.", notes=_notes(len(changes)), parts=", ".join(parts))
    open_too_many = 2 * counted["cannot tell"] > len(changes)
    return f"{sentence} {_RATHER_OFF_AND_ON}" if open_too_many else sentence


_CHANGED: dict[ChangeVerdict, str] = {
    "changed": say("changed"),
    "unchanged": say("unchanged"),
    "cannot tell": say("of which it cannot be told"),
}
_RATHER_OFF_AND_ON = say(
    "A check off and on of a few chosen notes tells more: eight notes take 7½ minutes."
)
