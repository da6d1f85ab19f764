"""The choices about the instrument in hand: which, what it is called, and what it is."""

from intonation.app import instrument_words as words
from intonation.app.choices import Choice
from intonation.app.instrument_shelf import InstrumentShelf
from intonation.language import name_in_words
from intonation.practice.in_hand import STANDARD_A4_HZ
from intonation.practice.settings import PracticeSettings
from intonation.words.instruments import system_in_words

ANOTHER = "another instrument"


def instrument_choice(shelf: InstrumentShelf) -> Choice[PracticeSettings]:
    """Return the line on which an instrument is taken in hand."""
    return Choice(
        name="instrument",
        label=words.INSTRUMENT,
        shown=_name_shown,
        explained=words.instrument_explained,
        stepped=shelf.stepped,
        entered=shelf.entered,
    )


def instrument_choices(shelf: InstrumentShelf) -> tuple[Choice[PracticeSettings], ...]:
    """Return every line about the instrument in hand."""
    return (
        instrument_choice(shelf),
        Choice(
            name="its name",
            label=words.NAME,
            shown=_name_shown,
            explained=lambda _: words.NAME_EXPLAINED,
            entered=shelf.renamed,
        ),
        Choice(
            name="size",
            label=words.SIZE,
            shown=lambda settings: name_in_words(settings.recorder.size),
            explained=lambda _: words.SIZE_EXPLAINED,
            stepped=shelf.resized,
            entered=shelf.size_entered,
        ),
        Choice(
            name="fingering",
            label=words.FINGERING,
            shown=lambda settings: system_in_words(settings.fingering_system),
            explained=lambda _: words.FINGERING_EXPLAINED,
            stepped=shelf.refingered,
        ),
        Choice(
            name="its pitch",
            label=words.OWN_PITCH,
            shown=lambda settings: words.pitch_in_words(
                shelf.in_hand(settings).a4_hz, standard_hz=STANDARD_A4_HZ
            ),
            explained=lambda _: words.PITCH_EXPLAINED,
            stepped=shelf.repitched,
            entered=shelf.pitch_entered,
        ),
        Choice(
            name="remark",
            label=words.REMARK,
            shown=lambda settings: shelf.in_hand(settings).remark or words.NO_REMARK,
            explained=lambda _: words.REMARK_EXPLAINED,
            entered=shelf.remarked,
        ),
        Choice(
            name=ANOTHER,
            label=words.ANOTHER,
            shown=lambda _: words.TYPE_A_NAME,
            explained=lambda _: words.ANOTHER_EXPLAINED,
            entered=shelf.added,
        ),
    )


def _name_shown(settings: PracticeSettings) -> str:
    """Return the instrument's own name; the name of a size is said in the player's language."""
    return settings.instrument if settings.size else name_in_words(settings.instrument)
