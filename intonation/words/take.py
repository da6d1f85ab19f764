"""A take as a whole in words: every note, and what to practise next."""

from intonation.assessment.bands import EXCELLENT_CENTS, IN_TUNE_WINDOW_CENTS
from intonation.assessment.summary import NoteSummary, TakeSummary
from intonation.pitch.notes import note_name
from intonation.words.numbers import cents_word, sharp_or_flat, times

NOTHING_HELD = "No note was held. Play a note for a second or more while the drone sounds."

_UNSTEADY_CENTS = 5.0


def note_line(note: NoteSummary) -> str:
    """Return one note of a summary: mean, spread and count."""
    spread = f", spread {cents_word(note.spread_cents, 1)}" if note.count > 1 else ""
    name = note_name(note.midi)
    return f"{name}: {sharp_or_flat(note.mean_cents, 1)}{spread}, played {times(note.count)}"


def summary_lines(summary: TakeSummary) -> tuple[str, ...]:
    """Return a take in words: each note worst first, then the whole, then what comes next."""
    if not summary.notes:
        return (NOTHING_HELD,)
    return (*map(note_line, summary.notes), whole_in_words(summary), practise_next(summary))


def whole_in_words(summary: TakeSummary) -> str:
    """Return how the take's notes lie together: within one window of 20 cents or not."""
    means = [note.mean_cents for note in summary.notes]
    width_cents = max(means) - min(means)
    if len(means) == 1:
        return "One note only: play others to hear how they lie together."
    if width_cents <= IN_TUNE_WINDOW_CENTS:
        return f"All notes lie within {cents_word(width_cents)}, which breath can cover."
    width, window = cents_word(width_cents), cents_word(IN_TUNE_WINDOW_CENTS)
    return f"The notes lie {width} apart, more than the {window} that breath can cover."


def practise_next(summary: TakeSummary) -> str:
    """Return the next thing to practise."""
    if summary.practise_next_midi is None:
        return NOTHING_HELD
    note = next(n for n in summary.notes if n.midi == summary.practise_next_midi)
    name = note_name(note.midi)
    if note.count > 1 and note.spread_cents > max(_UNSTEADY_CENTS, abs(note.mean_cents)):
        return f"Next: {name}, until it comes out the same every time. Eyes closed, slow breath."
    if abs(note.mean_cents) <= EXCELLENT_CENTS:
        return f"Next: all of these are close. Try another drone, or hold {name} more softly."
    direction = "sharp" if note.mean_cents > 0 else "flat"
    return f"Next: {name}, which was {direction}. Hold it until the wave stands still."
