"""A diagnosis in words: whose a note's deviation is, what is open, and what to play next."""

from collections.abc import Iterable

from intonation.diagnosis.comparison import NoteChange
from intonation.diagnosis.overall import BREATH_WINDOW_CENTS
from intonation.diagnosis.parts import Interval
from intonation.diagnosis.results import (
    Experiment,
    Lack,
    NextExperiment,
    NoteDiagnosis,
    Overall,
    PairDiagnosis,
)
from intonation.diagnosis.verdict import ANSWERS, Probabilities, Verdict
from intonation.language import name_in_words, say
from intonation.pitch.notes import note_name
from intonation.words.numbers import cents_word, rounded, sharp_or_flat

MODEL_ESTIMATE = say(
    "Probabilities are a model estimate: the model's assumptions await recordings of real players."
)
NOT_KNOWABLE = say(
    "What no check can tell: a habit that every player of the instrument shares counts as the "
    "instrument's, and overall pitch is instrument and general breath together. What exact fingers "
    "leave of a habit counts as the instrument's too, until a second player or instrument shows it."
)
NOTHING_TO_DIAGNOSE = say(
    "There is nothing to diagnose yet. Play the instrument check: hold notes without a reference, "
    "and swell them with exact fingers."
)

_EXPERIMENTS: dict[Experiment, str] = {
    "natural": say("play it twice more as you always do"),
    "careful-swell": say("fingers exact: hold it, then swell from soft to loud"),
    "natural and careful-swell": say("play it as always, then fingers exact: hold and swell"),
    "another day": say("repeat the whole check on another day"),
    "second instrument": say("play the check on a second instrument"),
    "second player": say("let a second player do the check on this instrument"),
}


_WHY_OPEN: dict[Lack, str] = {
    "other notes": say(
        "every note is judged by its place among the others, and at least five are needed."
    ),
    "tone without reference": say("only held against a reference, which tells of the ear."),
    "swell": say("no swell with its level is on file, so nothing tells breath from instrument."),
    "agreeing days": say(
        "the days contradict each other, so the interval is wide and nobody is blamed."
    ),
}
_WHAT_HELPS: dict[Lack, str] = {
    "other notes": say("Play the short check (about 4½ minutes)."),
    "tone without reference": say("Play it without one, as you always do (7 s a note)."),
    "swell": say("Fingers exact: hold the note, then swell it from soft to loud (11 s a note)."),
    "agreeing days": say(
        "Compare fingering, warm-up and microphone of those days, then repeat the check on another "
        "day (about 8 minutes)."
    ),
}
_NOTHING_WEIGHED = say("nothing that was weighed is expected to settle it soon.")


def why_open_in_words(note: NoteDiagnosis) -> str:
    """Return what an open note lacks and, if nothing was planned for it, what would help.

    A note that lacks nothing is open because not even its best answer is probable enough.
    """
    if note.lacks is not None:
        helps = "" if note.next else f" {_WHAT_HELPS[note.lacks]}"
        return f"{_WHY_OPEN[note.lacks]}{helps}"
    best = max(ANSWERS, key=note.probabilities.of)
    return say(
        "{answer} is most probable, with {percent} % (a model estimate).",
        answer=name_in_words(best),
        percent=min(99, round(100 * note.probabilities.of(best))),
    )


def chance_in_words(verdict: Verdict, chances: Probabilities) -> str:
    """Return a verdict with the probability of what it says: ``"instrument 82 %"``."""
    if verdict in ANSWERS:
        share = chances.of(verdict)
    elif verdict == "at least partly the instrument":
        share = chances.instrument + chances.both
    elif verdict == "at least partly the player":
        share = chances.player + chances.both
    else:
        return name_in_words(verdict)
    return f"{name_in_words(verdict)} {min(99, round(100 * share))} %"


def give_or_take(value: Interval | None) -> str:
    """Return an estimate and half of its 90 % interval: ``"+10 ±5"``; a dash for none."""
    if value is None:
        return "–"
    sign = "+" if round(value.mean) > 0 else ""
    return f"{sign}{rounded(value.mean)} ±{rounded((value.high - value.low) / 2.0)}"


def experiment_in_words(option: NextExperiment) -> str:
    """Return what to play and how long that takes."""
    minutes = option.seconds / 60.0
    length = (
        f"{option.seconds:.0f} s" if minutes < 1.5 else say("{minutes:.0f} min", minutes=minutes)
    )
    return f"{_EXPERIMENTS[option.experiment]} ({length})"


def overall_in_words(overall: Overall) -> tuple[str, ...]:
    """Return pitch, window and octaves, a sentence each."""
    pitch = overall.pitch
    spoken = say("in tune") if abs(pitch.mean) < 0.5 else sharp_or_flat(pitch.mean)
    lines = [
        say(
            "Overall {spoken}, warm and at 20 °C (90 % within {range} cents): instrument "
            "and general breath together.",
            spoken=spoken,
            range=_range(pitch),
        )
    ]
    if overall.window is not None:
        lines.append(_window_in_words(overall.window))
    worst = max(overall.octaves, key=lambda octave: abs(octave.width.mean), default=None)
    if worst is not None and abs(worst.width.mean) >= 1.0:
        kind = say("wide") if worst.width.mean > 0 else say("narrow")
        lines.append(
            say(
                "The octave {note}–{high_note} is the most uneven: {mean} too {kind} on the "
                "instrument ({range}).",
                note=note_name(worst.low),
                high_note=note_name(worst.high),
                mean=cents_word(worst.width.mean),
                kind=kind,
                range=_range(worst.width),
            )
        )
    return tuple(lines)


def _window_in_words(window: Interval) -> str:
    limit = say(
        "the {breath_window_cents:.0f} cents that breath can cover",
        breath_window_cents=BREATH_WINDOW_CENTS,
    )
    if window.high <= BREATH_WINDOW_CENTS:
        fits = say("within {limit}", limit=limit)
    elif window.low > BREATH_WINDOW_CENTS:
        fits = say("more than {limit}", limit=limit)
    else:
        fits = say("about {limit}: which side of it, this check cannot tell", limit=limit)
    return say(
        "The instrument's notes lie within {mean} ({range}), {fits} (common practice).",
        mean=cents_word(window.mean),
        range=_range(window),
        fits=fits,
    )


def _range(value: Interval) -> str:
    return say("{low} to {high}", low=rounded(value.low), high=rounded(value.high))


def open_notes_in_words(pair: PairDiagnosis) -> tuple[str, ...]:
    """Return what would settle the open notes; notes that lack the same share a sentence."""
    lines = [
        f"{_names(note for note in pair.notes if note.lacks == lack)}: {why} {_WHAT_HELPS[lack]}"
        for lack, why in _WHY_OPEN.items()
        if any(note.lacks == lack for note in pair.notes)
    ]
    for note in pair.notes:
        if note.next and note.lacks is None:
            options = say("; or ").join(experiment_in_words(option) for option in note.next[:2])
            lines.append(f"{note_name(note.midi)}: {options}.")
    hopeless = [note for note in pair.notes if _is_hopeless(note)]
    # Of a large store no experiments are weighed at all.
    if hopeless and any(note.next for note in pair.notes):
        lines.append(f"{_names(hopeless)}: {_NOTHING_WEIGHED}")
    return tuple(lines)


def _names(notes: Iterable[NoteDiagnosis]) -> str:
    return ", ".join(note_name(note.midi) for note in notes)


def _is_hopeless(note: NoteDiagnosis) -> bool:
    settled = note.verdict in ANSWERS
    return not settled and note.lacks is None and not note.next


def change_in_words(note: NoteChange) -> str:
    """Return what an adjustment did to a note."""
    size = note.change
    moved = say("raised") if size.mean > 0 else say("lowered")
    if note.verdict == "changed":
        return say("changed: {moved} by {mean}", moved=moved, mean=cents_word(size.mean))
    return str(note.verdict)
