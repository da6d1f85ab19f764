"""The choices before an instrument check: who plays what, how thoroughly, and how warm it is."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from intonation.app import check_words
from intonation.app.choices import Choice, neighbour
from intonation.app.instrument_shelf import InstrumentShelf
from intonation.app.instrument_words import instrument_in_words
from intonation.app.practice_choices import practice_choices
from intonation.diagnosis.check import PASSES, Form, check_of, notes_of
from intonation.errors import SettingsError
from intonation.language import say
from intonation.pitch.notes import midi_of_note, note_name
from intonation.practice.checking import CheckSettings
from intonation.practice.settings import PracticeSettings
from intonation.store.checks import CheckRecord
from intonation.words.check import ABOUT_FORMS, FORMS, minutes_in_words

WARM_MINUTES = 10.0
"""How long someone has blown who says that the instrument is warm (common practice, no source)."""
CHOSEN_NOTES, FEWEST_CHOSEN = 8, 3


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckChoices:
    """What the player chooses before a check.

    Parameters
    ----------
    practice
        Player, instrument, concert pitch and room temperature, as for practice.
    form
        How thorough.
    warm
        Whether it is played in.
    notes
        Notes of a check off and on; empty takes some all over the compass.
    """

    practice: PracticeSettings
    form: Form = "short"
    warm: bool = True
    notes: tuple[int, ...] = ()

    @property
    def chosen_notes(self) -> tuple[int, ...]:
        """Notes of a check off and on."""
        compass = self.practice.recorder.notes_midi
        natural = notes_of("short", compass)
        spread = np.linspace(0, len(natural) - 1, CHOSEN_NOTES).round().astype(int)
        return self.notes or tuple(natural[place] for place in spread)

    @property
    def settings(self) -> CheckSettings:
        """The check that is chosen."""
        return CheckSettings(
            player=self.practice.player,
            instrument=self.practice.instrument,
            size=self.practice.recorder.size,
            fingering_system=self.practice.fingering_system,
            form=self.form,
            a4_hz=self.practice.a4_hz,
            temperature_c=self.practice.temperature_c,
            warm_minutes=WARM_MINUTES if self.warm else 0.0,
        )

    @property
    def minutes(self) -> float:
        """How long the check takes."""
        order, compass = np.random.default_rng(0), self.practice.recorder.notes_midi
        return check_of(self.form, compass, order, notes=self.chosen_notes).minutes_left


def last_form(known: Iterable[CheckRecord], practice: PracticeSettings) -> Form | None:
    """Return the form of a pair's last check, for only the same notes can be compared."""
    pair = practice.player, practice.instrument
    forms = [one.form for one in known if (one.player, one.instrument) == pair]
    return next((form for form in reversed(forms) if form in PASSES), None)


def practice_of(settings: CheckSettings) -> PracticeSettings:
    """Return what the sound needs to know of a check."""
    return PracticeSettings(
        player=settings.player,
        instrument=settings.instrument,
        size=settings.size,
        fingering_system=settings.fingering_system,
        a4_hz=settings.a4_hz,
    )


def check_choices(
    known: Sequence[CheckRecord], shelf: InstrumentShelf
) -> tuple[Choice[CheckChoices], ...]:
    """Return the lines of choices.

    Parameters
    ----------
    known
        Checks on file: their players and instruments can be stepped through.
    shelf
        The player's instruments.
    """
    players = tuple(dict.fromkeys(record.player for record in known))
    checked = {record.instrument for record in known}
    as_in_practice = {choice.name: _as_in_practice(choice) for choice in practice_choices(shelf)}

    def player_stepped(choices: CheckChoices, steps: int) -> CheckChoices:
        everyone = tuple(dict.fromkeys((*players, choices.practice.player)))
        player = neighbour(everyone, choices.practice.player, steps)
        return replace(choices, practice=replace(choices.practice, player=player))

    def instrument_stepped(choices: CheckChoices, steps: int) -> CheckChoices:
        return _with(choices, shelf.stepped(choices.practice, steps, also=checked))

    return (
        replace(
            as_in_practice["player"],
            explained=lambda _: check_words.PLAYER,
            stepped=player_stepped,
        ),
        replace(
            as_in_practice["instrument"],
            explained=_instrument_explained,
            stepped=instrument_stepped,
        ),
        Choice(
            name="form",
            label=check_words.FORM,
            shown=lambda choices: FORMS[choices.form],
            explained=_form_explained,
            stepped=lambda choices, steps: replace(
                choices, form=neighbour(tuple(FORMS), choices.form, steps)
            ),
        ),
        Choice(
            name="notes",
            label=check_words.NOTES,
            shown=_notes_shown,
            explained=_notes_explained,
            entered=_notes_entered,
        ),
        replace(as_in_practice["concert pitch"], explained=lambda _: check_words.TARGETS),
        as_in_practice["room"],
        Choice(
            name="warm",
            label=check_words.WARM,
            shown=lambda choices: check_words.IS_WARM[choices.warm],
            explained=lambda choices: check_words.WARM_EXPLAINED[choices.warm],
            stepped=lambda choices, _: replace(choices, warm=not choices.warm),
        ),
    )


def _as_in_practice(usual: Choice[PracticeSettings]) -> Choice[CheckChoices]:
    """Return a choice of practice as one of a check."""
    stepped, entered = usual.stepped, usual.entered
    return Choice(
        name=usual.name,
        label=usual.label,
        shown=lambda choices: usual.shown(choices.practice),
        explained=lambda choices: usual.explained(choices.practice),
        stepped=stepped
        and (lambda choices, steps: _with(choices, stepped(choices.practice, steps))),
        entered=entered and (lambda choices, text: _with(choices, entered(choices.practice, text))),
    )


def _with(choices: CheckChoices, practice: PracticeSettings) -> CheckChoices:
    """Return the choices with others of practice; on another instrument notes are chosen anew."""
    same = practice.instrument == choices.practice.instrument
    return replace(choices, practice=practice, notes=choices.notes if same else ())


def _instrument_explained(choices: CheckChoices) -> str:
    return f"{instrument_in_words(choices.practice)} {check_words.INSTRUMENT_EXPLAINED}"


def _form_explained(choices: CheckChoices) -> str:
    minutes = minutes_in_words(choices.minutes)
    return say(
        "{about_forms} It takes {minutes}.", about_forms=ABOUT_FORMS[choices.form], minutes=minutes
    )


def _notes_shown(choices: CheckChoices) -> str:
    if choices.form != "off and on":
        return check_words.BY_THE_FORM
    return " ".join(map(note_name, choices.chosen_notes))


def _notes_explained(choices: CheckChoices) -> str:
    if choices.form != "off and on":
        return check_words.NOTES_OF_FORM
    return f"{check_words.CHOOSE_NOTES} {_notes_shown(choices)}."


def _notes_entered(choices: CheckChoices, text: str) -> CheckChoices:
    notes = tuple(dict.fromkeys(map(midi_of_note, text.replace(",", " ").split())))
    compass = choices.practice.recorder.notes_midi
    for midi in notes:
        if midi not in compass:
            lowest, highest = note_name(compass[0]), note_name(compass[-1])
            raise SettingsError(*check_words.not_on_instrument(note_name(midi), lowest, highest))
    if notes and len(notes) < FEWEST_CHOSEN:
        raise SettingsError(*check_words.TOO_FEW_CHOSEN)
    return replace(choices, notes=notes, form="off and on")
