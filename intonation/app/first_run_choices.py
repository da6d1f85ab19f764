"""The choices of the set-up: those of the practice page and of the sound page, in one value."""

from dataclasses import dataclass, replace

from intonation.app.choices import Choice
from intonation.app.devices_found import DevicesFound
from intonation.app.first_run_words import DEVICES, PITCH, WHO
from intonation.app.instrument_choices import ANOTHER, instrument_choices
from intonation.app.instrument_shelf import InstrumentShelf
from intonation.app.practice_choices import practice_choices
from intonation.app.sound_choices import sound_choices
from intonation.engine.messages import SoundSettings
from intonation.practice.settings import PracticeSettings

_PRACTICE_NAMES = {
    WHO: ("player", "instrument", "its name", "fingering", ANOTHER),
    PITCH: ("concert pitch", "tuning", "room"),
}
_SOUND_NAMES = ("source", "microphone", "output", "headphones")


@dataclass(frozen=True, slots=True)
class SetUp:
    """What is chosen in the set-up: for practice, and about the sound."""

    practice: PracticeSettings
    sound: SoundSettings


def set_up_choices(
    step: str, found: DevicesFound, shelf: InstrumentShelf
) -> tuple[Choice[SetUp], ...]:
    """Return the choices of a page of the set-up; none for a page that only tells.

    Parameters
    ----------
    step
        The page.
    found
        The devices that were found.
    shelf
        The player's instruments.
    """
    if step == DEVICES:
        chosen = {choice.name: choice for choice in sound_choices(found)}
        return tuple(_of_sound(chosen[name]) for name in _SOUND_NAMES)
    known = (*instrument_choices(shelf), *practice_choices(shelf))
    of_practice = {choice.name: choice for choice in known}
    return tuple(_of_practice(of_practice[name]) for name in _PRACTICE_NAMES.get(step, ()))


def _of_practice(choice: Choice[PracticeSettings]) -> Choice[SetUp]:
    stepped, entered = choice.stepped, choice.entered
    return Choice(
        name=choice.name,
        label=choice.label,
        shown=lambda chosen: choice.shown(chosen.practice),
        explained=lambda chosen: choice.explained(chosen.practice),
        stepped=stepped
        and (lambda chosen, by: replace(chosen, practice=stepped(chosen.practice, by))),
        entered=entered
        and (lambda chosen, text: replace(chosen, practice=entered(chosen.practice, text))),
    )


def _of_sound(choice: Choice[SoundSettings]) -> Choice[SetUp]:
    stepped, entered = choice.stepped, choice.entered
    return Choice(
        name=choice.name,
        label=choice.label,
        shown=lambda chosen: choice.shown(chosen.sound),
        explained=lambda chosen: choice.explained(chosen.sound),
        stepped=stepped and (lambda chosen, by: replace(chosen, sound=stepped(chosen.sound, by))),
        entered=entered
        and (lambda chosen, text: replace(chosen, sound=entered(chosen.sound, text))),
    )
