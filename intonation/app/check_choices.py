"""The choices before an instrument check: who plays what, how thoroughly, and how warm it is."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from intonation.app import check_words
from intonation.app.choices import Choice, neighbour
from intonation.app.practice_choices import PRACTICE_CHOICES
from intonation.diagnosis.check import Form, check_of, notes_of
from intonation.errors import SettingsError
from intonation.instruments.library import INSTRUMENT_NAMES, instrument_named
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
        Player, size, concert pitch and room temperature, as for practice.
    name
        The player's own name for the instrument; empty if the size says enough.
    form
        How thorough.
    warm
        Whether it is played in.
    notes
        Notes of a check off and on; empty takes some all over the compass.
    """

    practice: PracticeSettings
    name: str = ""
    form: Form = "short"
    warm: bool = True
    notes: tuple[int, ...] = ()

    @property
    def instrument(self) -> str:
        """Name under which the notes are kept."""
        return self.name or self.practice.instrument

    @property
    def chosen_notes(self) -> tuple[int, ...]:
        """Notes of a check off and on."""
        compass = instrument_named(self.practice.instrument).notes_midi
        natural = notes_of("short", compass)
        spread = np.linspace(0, len(natural) - 1, CHOSEN_NOTES).round().astype(int)
        return self.notes or tuple(natural[place] for place in spread)

    @property
    def settings(self) -> CheckSettings:
        """The check that is chosen."""
        return CheckSettings(
            player=self.practice.player,
            instrument=self.instrument,
            size=self.practice.instrument,
            form=self.form,
            a4_hz=self.practice.a4_hz,
            temperature_c=self.practice.temperature_c,
            warm_minutes=WARM_MINUTES if self.warm else 0.0,
        )

    @property
    def minutes(self) -> float:
        """How long the check takes."""
        order, compass = np.random.default_rng(0), instrument_named(self.settings.size).notes_midi
        return check_of(self.form, compass, order, notes=self.chosen_notes).minutes_left


def check_choices(known: Sequence[CheckRecord]) -> tuple[Choice[CheckChoices], ...]:
    """Return the lines of choices.

    Parameters
    ----------
    known
        Checks on file: their players and instruments can be stepped through.
    """
    players = tuple(dict.fromkeys(record.player for record in known))
    sizes = {record.instrument: record.size for record in known}

    def player_stepped(choices: CheckChoices, steps: int) -> CheckChoices:
        everyone = tuple(dict.fromkeys((*players, choices.practice.player)))
        player = neighbour(everyone, choices.practice.player, steps)
        return replace(choices, practice=replace(choices.practice, player=player))

    def name_stepped(choices: CheckChoices, steps: int) -> CheckChoices:
        names = tuple(dict.fromkeys((*sizes, choices.instrument)))
        return _named(choices, neighbour(names, choices.instrument, steps), sizes)

    return (
        replace(
            _as_in_practice("player", check_words.PLAYER),
            stepped=player_stepped,
        ),
        replace(_as_in_practice("instrument"), label=check_words.SIZE),
        Choice(
            name="name",
            label=check_words.NAME,
            shown=lambda choices: choices.instrument,
            explained=lambda _: check_words.NAME_EXPLAINED,
            stepped=name_stepped,
            entered=lambda choices, text: _named(choices, " ".join(text.split()), sizes),
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
        _as_in_practice("concert pitch", check_words.TARGETS),
        _as_in_practice("room"),
        Choice(
            name="warm",
            label=check_words.WARM,
            shown=lambda choices: check_words.IS_WARM[choices.warm],
            explained=lambda choices: check_words.WARM_EXPLAINED[choices.warm],
            stepped=lambda choices, _: replace(choices, warm=not choices.warm),
        ),
    )


def _as_in_practice(name: str, about: str | None = None) -> Choice[CheckChoices]:
    """Return a choice of practice as one of a check."""
    (usual,) = (choice for choice in PRACTICE_CHOICES if choice.name == name)
    stepped, entered = usual.stepped, usual.entered

    def lifted(choices: CheckChoices, practice: PracticeSettings) -> CheckChoices:
        other_size = practice.instrument != choices.practice.instrument
        kept = replace(choices, practice=practice)
        return replace(kept, name="", notes=()) if other_size else kept

    return Choice(
        name=name,
        label=usual.label,
        shown=lambda choices: usual.shown(choices.practice),
        explained=lambda choices: about or usual.explained(choices.practice),
        stepped=None
        if stepped is None
        else lambda choices, steps: lifted(choices, stepped(choices.practice, steps)),
        entered=None
        if entered is None
        else lambda choices, text: lifted(choices, entered(choices.practice, text)),
    )


def _named(choices: CheckChoices, name: str, sizes: dict[str, str]) -> CheckChoices:
    """Return the choices with an instrument of that name, and its size where it is known."""
    if name in INSTRUMENT_NAMES:
        practice = replace(choices.practice, instrument=name)
        return replace(choices, practice=practice, name="", notes=())
    size = sizes.get(name, choices.practice.instrument)
    return replace(choices, practice=replace(choices.practice, instrument=size), name=name)


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
    compass = instrument_named(choices.practice.instrument).notes_midi
    for midi in notes:
        if midi not in compass:
            lowest, highest = note_name(compass[0]), note_name(compass[-1])
            raise SettingsError(*check_words.not_on_instrument(note_name(midi), lowest, highest))
    if notes and len(notes) < FEWEST_CHOSEN:
        raise SettingsError(*check_words.TOO_FEW_CHOSEN)
    return replace(choices, notes=notes, form="off and on")
