"""Asks a module of ours something in a process of its own, which may be stopped, and may crash.

What system libraries print there reaches no screen.
"""

import os
import subprocess
import sys
from collections.abc import Generator
from typing import Any

from intonation.engine.channel import Sender, receive
from intonation.engine.process import python_running


def asked_apart(module: str, question: object) -> Generator[Any, None, None]:
    """Yield what the ``main`` of a module answers to a question, until it ends.

    Whoever no longer waits closes the iterator; the process is ended then.
    """
    process = subprocess.Popen(
        python_running(module),
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )
    assert process.stdin is not None
    assert process.stdout is not None
    with process.stdin, process.stdout:
        try:
            Sender(process.stdin).send(question)
            while (answer := receive(process.stdout)) is not None:
                yield answer
        finally:
            process.kill()
            process.wait()


def question_and_sender() -> tuple[Any, Sender]:
    """Return what this process is asked, and where its answers go; call it first in ``main``."""
    sender = Sender(os.fdopen(os.dup(sys.stdout.fileno()), "wb", buffering=0))
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    return receive(sys.stdin.buffer), sender
