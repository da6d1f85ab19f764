"""Messages between the two processes arrive whole and in order, or not at all."""

import io
import os

from intonation.engine.channel import Sender, receive
from intonation.engine.mailbox import Mailbox
from intonation.engine.messages import SetLoudness, SoundCounters, SoundFault, StartTake
from intonation.practice.settings import PracticeSettings


def counters(level_db: float) -> SoundCounters:
    return SoundCounters(0, 0, 0, 0, 0, level_db, None)


def test_messages_arrive_as_they_were_sent() -> None:
    pipe = io.BytesIO()
    sent = [StartTake(PracticeSettings(instrument="bass")), SetLoudness(-12.0), "ü" * 100_000]
    assert all(Sender(pipe).send(message) for message in sent)
    pipe.seek(0)
    assert [receive(pipe) for _ in sent] == sent
    assert receive(pipe) is None


def test_a_message_that_was_cut_off_by_a_crash_is_not_delivered() -> None:
    pipe = io.BytesIO()
    Sender(pipe).send(SetLoudness(-12.0))
    for length in range(len(pipe.getvalue())):
        assert receive(io.BytesIO(pipe.getvalue()[:length])) is None


def test_sending_to_an_end_that_has_died_is_noticed() -> None:
    reading, writing = os.pipe()
    os.close(reading)
    with os.fdopen(writing, "wb", buffering=0) as pipe:
        assert not Sender(pipe).send(SetLoudness(-12.0))


def test_a_slow_reader_gets_the_latest_reading_and_everything_that_counts() -> None:
    mailbox, faults = Mailbox(), [SoundFault(str(n), "", fatal=False) for n in range(3)]
    for number, fault in enumerate(faults):
        mailbox.put(counters(-10.0 * number))
        mailbox.put(fault)
    delivered = [mailbox.take(timeout_s=0.0) for _ in range(5)]
    assert delivered == [faults[0], faults[1], counters(-20.0), faults[2], None]
