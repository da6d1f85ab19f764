"""An exercise described: what to listen for, and how it is to be played."""

from textual.content import Content

from intonation.app import exercise_words, words
from intonation.app.exercise_plan import ExercisePlan
from intonation.app.printing.inks import SOFT, STRONG, TEXT
from intonation.app.printing.wrapping import beside
from intonation.errors import IntonationError
from intonation.language import name_in_words
from intonation.pitch.notes import note_name
from intonation.practice.settings import PURE, PracticeSettings

_LABEL_WIDTH = 12


def exercise_description(
    plan: ExercisePlan, settings: PracticeSettings, *, headphones: bool, width: int
) -> Content:
    """Return an exercise in words.

    Parameters
    ----------
    plan
        What is to be played, and how.
    settings
        On which instrument, in which tuning.
    headphones
        Whether the player wears them; a word is said where not.
    width
        Width of the column in characters.
    """
    exercise = plan.exercise
    listen = beside([], name_in_words(exercise.listen), indent=0, width=width, ink=TEXT)
    chords = exercise_words.chords(plan.harmony, is_pure=settings.temperament == PURE)
    counted = exercise_words.count_in(plan.count_in, is_written=plan.count_in_bars is None)
    facts = [
        ("", words.COMPASS, _compass(plan, settings)),
        ("←→", words.TEMPO, words.tempo(plan.tempo)),
        ("P", words.PHRASES, words.phrases(plan.phrase, len(exercise.phrases))),
        ("R", words.ROUNDS, words.rounds(plan.rounds)),
        ("M", words.MELODY, words.sounds_too(plan.with_melody)),
        ("C", exercise_words.CHORDS, chords),
        ("N", exercise_words.COUNT_IN, counted),
    ]
    if exercise.provenance:
        facts.append(("", words.MUSIC_BY, exercise.provenance))
    indent = max(_LABEL_WIDTH, *(len(f"{key:<3}{label} ") for key, label, _ in facts))
    rows = [
        line
        for key, label, value in facts
        for line in beside(
            [Content.assemble((f"{key:<3}", STRONG), (label, SOFT))],
            value,
            indent=indent,
            width=width,
            ink=TEXT,
        )
    ]
    title = Content.styled(name_in_words(exercise.title), STRONG)
    advice = [] if headphones else beside([], words.WEAR_THEM, indent=0, width=width, ink=SOFT)
    return Content("\n").join(
        [title, Content(""), *listen, Content(""), *rows, Content(""), *advice]
    )


def _compass(plan: ExercisePlan, settings: PracticeSettings) -> str:
    """Return lowest and highest note on the player's instrument, or why it cannot be played."""
    try:
        played = [note.target.midi for note in plan.score(settings, seed=0).notes]
    except IntonationError as error:
        return str(error)
    return words.from_to(note_name(min(played)), note_name(max(played)))
