"""What reaches the interface from outside its own thread."""

from textual.message import Message

from intonation.engine.messages import EngineEvent, SoundCounters
from intonation.errors import IntonationError
from intonation.practice.events import PitchRevealed


class EngineSaid(Message):
    """The sound engine or the practice session said something."""

    def __init__(self, event: EngineEvent) -> None:
        super().__init__()
        self.event = event

    def can_replace(self, message: Message) -> bool:
        """Only the latest pitch and the latest counters matter; a scored note is never dropped."""
        return (
            isinstance(message, EngineSaid)
            and isinstance(self.event, PitchRevealed | SoundCounters)
            and type(self.event) is type(message.event)
        )


class RecordOpened(Message):
    """The practice record is open; a complaint says what is wrong with it."""

    def __init__(self, complaint: str | None) -> None:
        super().__init__()
        self.complaint = complaint


class RecordAnswered(Message):
    """A scored note is on disk, or (with an error) it is not; the practice goes on either way."""

    def __init__(self, error: IntonationError | None) -> None:
        super().__init__()
        self.error = error
