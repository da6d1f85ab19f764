"""The one family of errors that a user ever reads: what happened, and what to do next."""


class IntonationError(Exception):
    """Something a user can act on.

    Parameters
    ----------
    sentence
        What happened and what it means for the practice, naming the file and line or the device.
    what_to_do
        The next step, as an instruction.
    """

    def __init__(self, sentence: str, what_to_do: str) -> None:
        super().__init__(sentence, what_to_do)
        self.sentence = sentence
        self.what_to_do = what_to_do

    def __str__(self) -> str:
        return f"{self.sentence} {self.what_to_do}".strip()


class SetupError(IntonationError):
    """A microphone, loudspeaker, library or permission is missing."""


class SoundFileError(IntonationError):
    """A recording cannot be read or holds nothing to score."""


class DataFileError(IntonationError):
    """A file of the player's (exercise, temperament, CSV, MIDI) has a mistake in it."""


class SettingsError(IntonationError):
    """A setting has a value that it cannot have."""


class StoreError(IntonationError):
    """The practice record cannot be read or written."""
