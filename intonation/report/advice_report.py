"""What to do about every note of a recording, as running text."""

from collections.abc import Iterator, Sequence

from intonation.assessment.advising import advise
from intonation.assessment.leaks import leak_suspected
from intonation.assessment.neighbours import usual_level_db
from intonation.assessment.scoring import ScoredNote
from intonation.assessment.summing_up import summed_up
from intonation.instruments.instrument import Instrument
from intonation.report.paragraphs import paragraph
from intonation.words.advice import what_to_do, why
from intonation.words.leaks import LEAK_SUSPECTED
from intonation.words.note_card import headline


def advice_lines(notes: Sequence[ScoredNote], instrument: Instrument) -> Iterator[str]:
    """Yield for every note what to do and why, then a leak if the notes together suggest one.

    Parameters
    ----------
    notes
        Scored notes of one recording.
    instrument
        What was played.
    """
    for note in notes:
        others = [other for other in notes if other is not note]
        usual_db = usual_level_db(others, midi=note.target.midi)
        advice = advise(note, instrument=instrument, usual_level_db=usual_db)
        yield ""
        yield f"{headline(note)}."
        yield from paragraph(f"{what_to_do(advice)} {why(advice)}", indent=4)
    if leak_suspected(summed_up(notes).notes, instrument=instrument):
        yield ""
        yield from paragraph(LEAK_SUSPECTED)
