"""The demonstration told as a short story: who plays, what they are told, and how true it was."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from statistics import median

from intonation.assessment.summary import TakeSummary
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.practice.events import NoteScored
from intonation.practice.settings import PracticeSettings
from intonation.report.paragraphs import paragraph
from intonation.words.advice import what_to_do
from intonation.words.cautions import LONG_TONES
from intonation.words.note_card import card_lines, headline
from intonation.words.numbers import cents_word
from intonation.words.simulated import player_in_words
from intonation.words.take import summary_lines
from intonation.words.targets import tuning_in_words

_INDENT = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Demonstration:
    """One take of a simulated player.

    Parameters
    ----------
    settings, player
        What it was practised with, and by whom.
    notes, summary
        What the player was told.
    played
        How many notes truly were played.
    kept
        How many notes the practice record gave back.
    errors_cents
        For each note, how far its measured pitch lies from the true one.
    """

    settings: PracticeSettings
    player: str
    notes: tuple[NoteScored, ...]
    summary: TakeSummary
    played: int
    kept: int
    errors_cents: tuple[float, ...]


def demonstration_lines(demonstration: Demonstration) -> Iterator[str]:
    """Yield the story line by line, at most 80 columns wide."""
    yield from _opening(demonstration)
    for note in demonstration.notes:
        yield ""
        lines = card_lines(note) if note.number == 1 else _short_card(note)
        yield f"{note.number:2}  {lines[0]}"
        yield from _indented(lines[1:])
    yield from ("", say("The whole take, worst note first:"), "")
    yield from _indented(summary_lines(demonstration.summary))
    yield from ("", *_truth(demonstration), "", *_now_you())


def _indented(lines: Iterable[str]) -> Iterator[str]:
    for line in lines:
        yield from paragraph(line, indent=_INDENT)


def _short_card(note: NoteScored) -> tuple[str, ...]:
    return (headline(note.scored), what_to_do(note.advice))


def _opening(demonstration: Demonstration) -> Iterator[str]:
    settings = demonstration.settings
    title = settings.recorder.title
    yield player_in_words(demonstration.player)
    yield say(
        "Instrument: an invented {title} with faults of its own; A4 = {a4_hz:g} Hz.",
        title=title,
        a4_hz=settings.a4_hz,
    )
    yield say(
        "The drone: {note}, rendered but not played aloud. Tuning: {tuning}.",
        note=note_name(settings.drone_midi),
        tuning=tuning_in_words(settings.tuning_name),
    )
    yield say("Nothing is shown while a note sounds. After each note the player reads:")


def _truth(demonstration: Demonstration) -> Iterator[str]:
    scored = len(demonstration.notes)
    told = say(
        "Of {played} notes played, {scored} were scored and {kept} kept in a practice record.",
        played=demonstration.played,
        scored=scored,
        kept=demonstration.kept,
    )
    errors = sorted(abs(error) for error in demonstration.errors_cents)
    if errors:
        told += say(
            " A simulated player's true pitch is known: the listening was off by "
            "{median} as a rule (median), and by {errors} at worst.",
            median=cents_word(median(errors), 2),
            errors=cents_word(errors[-1], 2),
        )
    return iter(paragraph(told))


def _now_you() -> Iterator[str]:
    yield say("Now you: `intonation` opens the interface; `intonation doctor` checks it all.")
    yield from paragraph(LONG_TONES)
