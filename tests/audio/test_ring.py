"""Samples pass from the sound card's thread to ours in order; what does not fit is counted."""

import threading

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from intonation.audio.ring import SampleRing


@given(st.integers(1, 50), st.lists(st.tuples(st.integers(0, 70), st.integers(0, 70)), max_size=30))
def test_what_was_taken_in_comes_out_in_order_and_the_rest_is_counted(
    capacity: int, turns: list[tuple[int, int]]
) -> None:
    ring, sent, expected, received = SampleRing(capacity), 0, [], []
    for write, read in turns:
        samples = np.arange(sent, sent + write, dtype=np.float32)
        fits = min(write, capacity - ring.waiting)
        ring.write(samples)
        expected.extend(samples[:fits])
        sent += write
        received.extend(ring.read(read))
    received.extend(ring.read(capacity))
    assert received == expected
    assert ring.dropped_samples == sent - len(expected)


def test_two_threads_lose_nothing_while_there_is_room() -> None:
    ring, total, received = SampleRing(200_000), 150_000, []
    samples = np.arange(total, dtype=np.float32)

    def write() -> None:
        for start in range(0, total, 512):
            ring.write(samples[start : start + 512])

    writer = threading.Thread(target=write)
    writer.start()
    while sum(block.size for block in received) < total:
        received.append(ring.read(300))
    writer.join()
    np.testing.assert_array_equal(np.concatenate(received), samples)
