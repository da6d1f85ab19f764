"""Work beside the screen: how far it is, and what stood in its way."""

from __future__ import annotations

from collections.abc import Callable

from textual.message import Message
from textual.message_pump import MessagePump
from textual.worker import Worker, get_current_worker

from intonation.errors import IntonationError

Progress = Callable[[float], None]


class LeftAlone(Exception):  # noqa: N818  not an error: the page was left
    """Nobody waits for the result any more."""


class HowFar(Message):
    """The share of the work that is done."""

    def __init__(self, share: float) -> None:
        super().__init__()
        self.share = share

    def can_replace(self, message: Message) -> bool:
        """Only the latest share matters."""
        return isinstance(message, HowFar)


def progress_to(page: MessagePump) -> Progress:
    """Return what the present worker calls with its share done; it raises once nobody waits."""
    worker = get_current_worker()

    def progress(share: float) -> None:
        if worker.is_cancelled:
            raise LeftAlone
        page.post_message(HowFar(share))

    return progress


def refusal(worker: Worker[object]) -> IntonationError | None:
    """Return what stood in the way of a worker that failed; None if the page was left.

    Raises
    ------
    BaseException
        Whatever else it failed with, which is a fault of the program.
    """
    error = worker.error
    if isinstance(error, LeftAlone):
        return None
    if isinstance(error, IntonationError):
        return error
    raise error or RuntimeError
