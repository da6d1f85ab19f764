"""A trial in words: what was done, and what it did."""

from collections.abc import Sequence

from intonation.diagnosis.parts import Interval
from intonation.language import name_in_words, say
from intonation.pitch.notes import note_name
from intonation.words.diagnosis import give_or_take
from intonation.words.numbers import cents_word, rounded
from intonation.words.workshop import work_in_words
from intonation.workshop.proof import PROVEN, NoteProof, Proof
from intonation.workshop.trial import Trial
from intonation.workshop.window_change import WindowChange

NOTHING_TO_COMPARE = say(
    "Nothing to compare yet. Leave the microphone where it is, warm up, and play the same notes "
    "as before the trial; three at least, better all."
)
NO_WINDOW = say(
    "Whether the window became narrower cannot be told: hold at least five notes on both sides."
)


def trial_line(trial: Trial) -> str:
    """Return a trial with its number, date, work and state."""
    date = trial.made_at.astimezone().strftime("%Y-%m-%d %H:%M")
    line = f"{trial.number}  {date}  {trial.instrument}: {work_in_words(trial.alterations)}"
    if trial.note:
        line = f"{line} “{trial.note}”"
    if trial.undone_at is not None:
        undone = trial.undone_at.astimezone().strftime("%Y-%m-%d %H:%M")
        why = f" “{trial.undo_note}”" if trial.undo_note else ""
        line = say("{line} Undone {undone}.{why}", line=line, undone=undone, why=why)
    return line


def proof_in_words(proof: Proof) -> tuple[str, ...]:
    """Return what a trial did, side effects first."""
    if not proof.notes:
        return (NOTHING_TO_COMPARE,)
    return (
        _side_effects_found(proof.side_effects),
        window_change_in_words(proof.window),
        strength_in_words(proof.strength),
        _counted(proof.notes),
        _as_predicted(proof.notes),
    )


def window_change_in_words(window: WindowChange | None) -> str:
    """Return whether all notes together lie closer than before, with both widths."""
    if window is None:
        return NO_WINDOW
    verdict = {
        "narrower": say("The window became narrower"),
        "wider": say("The window became WIDER"),
        "cannot tell": say("Whether the window became narrower cannot be told yet"),
    }[window.verdict]
    before, after = (_width(side) for side in (window.before, window.after))
    return say(
        "{verdict}: the {notes} notes that were held on both sides lay within {before} "
        "before, and within {after} after.",
        verdict=verdict,
        notes=window.notes,
        before=before,
        after=after,
    )


def _width(width: Interval) -> str:
    return say(
        "{mean} ({low} to {high})",
        mean=cents_word(width.mean),
        low=rounded(width.low),
        high=rounded(width.high),
    )


def strength_in_words(strength: Interval | None) -> str:
    """Return whether all notes together moved as the prediction says."""
    if strength is None:
        return say(
            "The prediction moves all notes alike, which a day's pitch can do too: no proof."
        )
    share = say(
        "all notes together moved {mean} times as far as predicted ({low} to {high})",
        mean=rounded(strength.mean, 1),
        low=rounded(strength.low, 1),
        high=rounded(strength.high, 1),
    )
    if strength.low > PROVEN:
        return say("Proven: {share}.", share=share)
    if strength.high < PROVEN:
        return say("It did not do what was predicted: {share}.", share=share)
    return say("Not proven yet: {share}. Play the same notes again.", share=share)


def _as_predicted(notes: Sequence[NoteProof]) -> str:
    compared = [note for note in notes if note.as_predicted is not None]
    agreeing = sum(bool(note.as_predicted) for note in compared)
    return say(
        "{agreeing} of {compared} notes lie within the error of their prediction.",
        agreeing=agreeing,
        compared=len(compared),
    )


def _side_effects_found(notes: Sequence[NoteProof]) -> str:
    if not notes:
        return say("No side effect was found.")
    named = ", ".join(
        f"{note_name(note.measured.midi)} {give_or_take(note.measured.change)}" for note in notes
    )
    return say("Side effects: {named} cents, which was not predicted.", named=named)


def _counted(notes: Sequence[NoteProof]) -> str:
    verdicts = [note.measured.verdict for note in notes]
    return ", ".join(
        f"{verdicts.count(verdict)} {name_in_words(verdict)}"
        for verdict in ("changed", "unchanged", "cannot tell")
    ) + say("; all relative to what every note did together.")
