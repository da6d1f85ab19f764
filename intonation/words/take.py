"""A take as a whole in words: every note, and what to practise next."""

from intonation.assessment.bands import EXCELLENT_CENTS, IN_TUNE_WINDOW_CENTS
from intonation.assessment.summary import NoteSummary, TakeSummary
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.words.numbers import cents_word, sharp_or_flat, times

NOTHING_HELD = say("No note was held. Play a note for a second or more while the drone sounds.")

_UNSTEADY_CENTS = 5.0


def note_line(note: NoteSummary) -> str:
    """Return one note of a summary: mean, spread and count."""
    spread = (
        say(", spread {spread_cents}", spread_cents=cents_word(note.spread_cents, 1))
        if note.count > 1
        else ""
    )
    name = note_name(note.midi)
    return say(
        "{name}: {mean_cents}{spread}, played {count}",
        name=name,
        mean_cents=sharp_or_flat(note.mean_cents, 1),
        spread=spread,
        count=times(note.count),
    )


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
        return say("One note only: play others to hear how they lie together.")
    if width_cents <= IN_TUNE_WINDOW_CENTS:
        return say(
            "All notes lie within {width_cents}, which breath can cover.",
            width_cents=cents_word(width_cents),
        )
    width, window = cents_word(width_cents), cents_word(IN_TUNE_WINDOW_CENTS)
    return say(
        "The notes lie {width} apart, more than the {window} that breath can cover.",
        width=width,
        window=window,
    )


def practise_next(summary: TakeSummary) -> str:
    """Return the next thing to practise."""
    if summary.practise_next_midi is None:
        return NOTHING_HELD
    note = next(n for n in summary.notes if n.midi == summary.practise_next_midi)
    name = note_name(note.midi)
    if note.count > 1 and note.spread_cents > max(_UNSTEADY_CENTS, abs(note.mean_cents)):
        return say(
            "Next: {name}, until it comes out the same every time. Eyes closed, slow breath.",
            name=name,
        )
    if abs(note.mean_cents) <= EXCELLENT_CENTS:
        return say(
            "Next: all of these are close. Try another drone, or hold {name} more softly.",
            name=name,
        )
    direction = say("sharp") if note.mean_cents > 0 else say("flat")
    return say(
        "Next: {name}, which was {direction}. Hold it until the wave stands still.",
        name=name,
        direction=direction,
    )
