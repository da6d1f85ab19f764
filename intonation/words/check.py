"""The instrument check in words: what to do, what became of a tone, and what a verdict says."""

from collections import Counter

from intonation.diagnosis.check import PASSES, CheckStep, Form, Manner
from intonation.diagnosis.comparison import ChangeVerdict, NoteChange
from intonation.diagnosis.parts import Interval
from intonation.diagnosis.results import NoteDiagnosis, PairDiagnosis
from intonation.diagnosis.three_way import LEVERS, ThreeWay
from intonation.pitch.notes import note_name
from intonation.practice.checking import Checking
from intonation.words.diagnosis import chance_in_words, experiment_in_words
from intonation.words.numbers import cents_word, rounded

FORMS: dict[Form, str] = {
    "short": "short",
    "standard": "standard",
    "thorough": "thorough, on two days",
    "off and on": "off and on",
}
"""The forms that a player chooses from."""

ABOUT_FORMS: dict[Form, str] = {
    "short": (
        "Natural notes over two octaves: once as you always play, once with exact fingers and a "
        "swell on every note."
    ),
    "standard": "Every note: as you always play, with exact fingers and swells, and as always.",
    "thorough": (
        "Every note, as always and with exact fingers; and the same again on another day, which "
        "settles more than anything else that one player can do alone."
    ),
    "off and on": (
        "Proves a change that can be undone, such as paper in a hole: chosen notes without it, "
        "with it, without it and with it again. An earlier check tells how the notes bend."
    ),
}

# ten to fifteen minutes: common practice, no source; 20 to 30 cm: design judgement
WARM_UP = (
    "Warm up for ten to fifteen minutes first. Leave the microphone where it is, 20 to 30 cm from "
    "the window. No drone sounds, and nothing that moves with your pitch is shown."
)
LIGHT_HEADED = (
    "Breathe normally between the notes, rest whenever you like, and stop at once if you feel "
    "light-headed."
)

PASS_A = (
    "As you always play",
    "Breath and fingers as ever; correct nothing. Hold each note for about three seconds.",
)
PASS_B = (
    "With exact fingers",
    "Close every hole fully; pinch the thumb as the chart says. Hold each note evenly for three "
    "seconds. Then take a breath and let it grow once, from the softest to the loudest clean tone.",
)
PASS_AGAIN = (
    "Once more as you always play",
    "These notes differed between the passes; one tone cannot tell a habit from a slip. Breath "
    "and fingers as ever; correct nothing.",
)
PASS_OFF = ("Without the change", "Take it out, or leave it out. Then play as you always do.")
PASS_ON = ("With the change", "Put it in. Then play as you always do.")

TO_DO: dict[Manner, str] = {
    "as always": "Hold it for three seconds, as you always play.",
    "held": "Fingers exact. Hold it evenly for three seconds.",
    "swelled": (
        "The same fingers, one breath of about five seconds: begin as soft as it speaks cleanly, "
        "then louder, louder, to the loudest clean tone."
    ),
}

_SAID = {
    "kept": "Kept.",
    "held": "Good. Now let it grow.",
    "skipped": "Left out.",
    "too short": "That was too short to measure: hold it for about three seconds.",
    "squeak": "That overblew.",
    "too little swell": "It hardly grew louder: begin softer and end louder.",
}
_COMES_AGAIN = "The note comes again later."
_IS_LEFT_OUT = "After three tries the note is left out; the verdict will do without it."
_LOOK_AT_PITCH = (
    "If your fingers were right, look at instrument and concert pitch on the check's first page."
)

ANOTHER_DAY = (
    "This was the first of two days: play the same check again on another day. Nothing else that "
    "one player can do alone settles more."
)
ROOM_UNKNOWN = (
    "The room's temperature was not given, so the overall pitch is that of the day: about 3 cents "
    "higher for each degree."
)
TOO_FEW = (
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
        sentence = "That was another note." if heard is None else f"That was {note_name(heard)}."
    else:
        sentence = _SAID[said]
    again = _IS_LEFT_OUT if checking.left_out_now else _COMES_AGAIN
    hint = f" {_LOOK_AT_PITCH}" if said == "another note" and not checking.cents else ""
    return f"{sentence} {again}{hint}"


def minutes_in_words(minutes: float) -> str:
    """Return a length of time as one says it: ``"about 4½ minutes"``."""
    if minutes < 0.75:
        return "less than a minute" if minutes < 0.45 else "half a minute"
    halves = round(2.0 * minutes)
    text = f"{halves // 2 or ''}{'½' if halves % 2 else ''}"
    return f"about {text} minute{'' if halves <= 2 else 's'}"


def progress_in_words(checking: Checking) -> str:
    """Return how far a check is."""
    check = checking.check
    total = check.done + len(check.ahead)
    return f"{check.done} of {total} · {minutes_in_words(check.minutes_left)} left"


def whole_verdict_in_words(pair: PairDiagnosis) -> str:
    """Return in one sentence how many notes are in tune, whose the others are, and what is open."""
    counted = Counter(_OWNERS[note.verdict] for note in pair.notes)
    others = [f"{owner} {counted[owner]}" for owner in _OFF if counted[owner]]
    in_tune = f"{counted['in tune']} in tune"
    return f"Of {_notes(len(pair.notes))}: {', '.join([in_tune, *others])}."


def _notes(count: int) -> str:
    return f"{count} note{'' if count == 1 else 's'}"


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
        told = ", ".join(f"{name} {_sized(part)}" for name, part in parts.items())
    else:
        told = (
            f"instrument {_sized(note.instrument)}, player {_sized(note.player)}; without a swell "
            "breath and fingers stay one"
        )
    chance = chance_in_words(note.verdict, note.probabilities)
    verdict = f"{chance[0].upper()}{chance[1:]} (a model estimate)."
    following = f" Next: {experiment_in_words(note.next[0])}." if note.next else ""
    place = f"{note_name(note.midi)}: {_sized(note.total, first=True)} among the notes"
    return f"{place}: {told}.", f"{verdict}{following}"


def _sized(part: Interval, *, first: bool = False) -> str:
    """Return an estimate with its interval, ``"14 sharp (10 to 18)"``; units with the first."""
    size = round(abs(part.mean))
    unit, sure = (f" cent{'' if size == 1 else 's'}", "90 %: ") if first else ("", "")
    side = "" if size == 0 else " sharp" if part.mean > 0.0 else " flat"
    near, far = (part.low, part.high) if part.mean >= 0.0 else (-part.high, -part.low)
    return f"{size}{unit}{side} ({sure}{rounded(near)} to {rounded(far)})"


def levers_in_words(found: ThreeWay) -> str:
    """Return what keeps a player from a sounding reference, and which part is the largest."""
    sizes = [
        f"the {lever} by {cents_word(size.mean)} ({rounded(size.low)} to {rounded(size.high)})"
        for lever, size in zip(LEVERS, (found.ear, found.breath, found.instrument), strict=True)
    ]
    largest = max(LEVERS, key=lambda lever: found.largest[lever])
    chance = min(99, round(100 * found.largest[largest]))
    return (
        f"Against a sounding reference: {', '.join(sizes)}. The {largest} is probably what keeps "
        f"you from it most ({chance} %, a model estimate)."
    )


def missing_for_levers(*, ear: bool, matched: int, repeats: bool) -> str:
    """Return what is missing before ear, breath and instrument can be told apart."""
    wanted = [
        *(["a threshold of your ear (L on the first page, the drill `which way`)"] if ear else []),
        *([f"{matched} more notes held against the drone"] if matched else []),
        *(["notes played twice as always (the standard check)"] if repeats else []),
    ]
    return (
        "Ear, breath or instrument, which keeps you from a sounding reference? To tell, this is "
        f"missing: {'; '.join(wanted) or 'more notes'}."
    )


def changes_in_words(changes: tuple[NoteChange, ...]) -> str:
    """Return in one sentence how many notes changed."""
    if not changes:
        return (
            "Too few notes were played both before and after: at least three are needed, for a "
            "change of all notes together looks like a change of the day."
        )
    counted = Counter(note.verdict for note in changes)
    parts = [f"{counted[verdict]} {_CHANGED[verdict]}" for verdict in _CHANGED if counted[verdict]]
    sentence = f"Of {_notes(len(changes))}: {', '.join(parts)}."
    open_too_many = 2 * counted["cannot tell"] > len(changes)
    return f"{sentence} {_RATHER_OFF_AND_ON}" if open_too_many else sentence


_CHANGED: dict[ChangeVerdict, str] = {
    "changed": "changed",
    "unchanged": "unchanged",
    "cannot tell": "of which it cannot be told",
}
_RATHER_OFF_AND_ON = (
    "A check off and on of a few chosen notes tells more: eight notes take 7½ minutes."
)
