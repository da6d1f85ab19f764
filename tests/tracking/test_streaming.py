"""The tracker as it is used live: any block size, prompt news, little memory, odd input."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intonation.errors import SoundFileError
from intonation.tracking.events import HeldNote, NoteStarted, PitchFrame, TrackerEvent
from intonation.tracking.reference import ReferencePartials, reference_partials_of
from intonation.tracking.tracker import Tracker, track
from tests.support.tones import PlayedTone, melody, unpitched, with_reference

RATE_HZ = 48_000.0
TWO_NOTES = melody(
    [PlayedTone(f0_hz=600.0, duration_s=0.5), PlayedTone(f0_hz=700.0, duration_s=0.4)], 1
)
WITH_REFERENCE = with_reference(
    melody([PlayedTone(f0_hz=604.0, duration_s=0.5)], 2), [600.0], 3, relative_db=-10.0
)
PARTIALS = ReferencePartials(WITH_REFERENCE.reference_hz, (0.0,) * 8)


def fed(
    samples: np.ndarray, cuts: list[int], reference: ReferencePartials | None
) -> list[TrackerEvent]:
    tracker = Tracker(RATE_HZ, reference=reference)
    events: list[TrackerEvent] = []
    for piece in np.split(samples, sorted(cuts)):
        events.extend(tracker.feed(piece))
    return [*events, *tracker.finish()]


@settings(max_examples=8, deadline=None)
@given(st.lists(st.integers(0, TWO_NOTES.samples.size), max_size=40))
def test_the_result_does_not_depend_on_how_the_sound_is_cut(cuts: list[int]) -> None:
    assert fed(TWO_NOTES.samples, cuts, None) == fed(TWO_NOTES.samples, [], None)


@settings(max_examples=4, deadline=None)
@given(st.lists(st.integers(0, WITH_REFERENCE.samples.size), max_size=40))
def test_nor_does_it_with_a_reference_in_the_room(cuts: list[int]) -> None:
    whole = fed(WITH_REFERENCE.samples, [], PARTIALS)
    assert fed(WITH_REFERENCE.samples, cuts, PARTIALS) == whole


def test_every_hop_has_one_frame_in_order_of_time() -> None:
    frames = [e for e in fed(TWO_NOTES.samples, [], None) if isinstance(e, PitchFrame)]
    times = np.array([f.time_s for f in frames])
    assert np.allclose(np.diff(times), 0.01)
    assert times[-1] >= TWO_NOTES.samples.size / RATE_HZ - 0.01


def test_news_comes_in_time() -> None:
    tracker = Tracker(RATE_HZ)
    block = 480
    news: list[tuple[float, TrackerEvent]] = []
    for end in range(block, TWO_NOTES.samples.size + 1, block):
        now_s = end / RATE_HZ
        news.extend((now_s, e) for e in tracker.feed(TWO_NOTES.samples[end - block : end]))
        reading = tracker.reading
        assert reading is None or now_s - reading.time_s <= 0.06
    for true in TWO_NOTES.notes:
        begun = [
            t
            for t, e in news
            if isinstance(e, NoteStarted) and abs(e.onset_s - true.onset_s) < 0.05
        ]
        ended = [
            t for t, e in news if isinstance(e, HeldNote) and abs(e.onset_s - true.onset_s) < 0.05
        ]
        assert begun[0] - true.onset_s <= 0.2
        assert ended[0] - true.offset_s <= 0.25


def test_every_note_that_started_is_held_to_its_end() -> None:
    events = fed(TWO_NOTES.samples, [], None)
    started = [e for e in events if isinstance(e, NoteStarted)]
    held = [e for e in events if isinstance(e, HeldNote)]
    assert len(started) == len(held) == 2


def test_the_reading_in_the_middle_of_a_note_is_within_two_cents() -> None:
    tracker = Tracker(RATE_HZ)
    tracker.feed(TWO_NOTES.samples[: round(0.75 * RATE_HZ)])
    assert tracker.reading is not None
    assert tracker.reading.f0_hz == pytest.approx(TWO_NOTES.notes[0].median_hz, rel=2 / 1731)


def test_a_reference_that_sounds_alone_is_no_note_and_is_known_by_its_clock() -> None:
    alone = with_reference(
        melody([], 4, lead_s=2.0), [440.0, 660.0], 5, relative_db=0.0, clock_ppm=50.0
    )
    assert alone.reference is not None
    tracker = Tracker(RATE_HZ, reference=reference_partials_of(alone.reference, RATE_HZ))
    events = [*tracker.feed(alone.samples), *tracker.finish()]
    assert not [e for e in events if not isinstance(e, PitchFrame)]
    assert tracker.clock_ppm == pytest.approx(50.0, abs=1.0)
    assert tracker.suppression_db is not None
    assert tracker.suppression_db > 30.0
    assert not tracker.reference_implausible


def test_headphones_leave_nothing_to_learn_and_do_no_harm() -> None:
    recording = melody([PlayedTone(f0_hz=500.0)], 6, lead_s=2.0)
    heard = track(recording.samples, RATE_HZ, reference=ReferencePartials((440.0,), (-20.0,)))
    assert len(heard.notes) == 1
    assert heard.notes[0].f0_hz == pytest.approx(500.0, rel=0.3 / 1731)


def test_a_clock_that_no_sound_card_has_is_called_implausible() -> None:
    alone = with_reference(melody([], 7, lead_s=9.0), [440.0], 8, relative_db=0.0, clock_ppm=2000.0)
    tracker = Tracker(RATE_HZ, reference=ReferencePartials(alone.reference_hz, (0.0,) * 8))
    tracker.feed(alone.samples)
    assert tracker.reference_implausible


def test_the_partials_of_a_reference_recording_are_found_to_a_millionth() -> None:
    recording = with_reference(melody([], 9, lead_s=3.0), [440.0, 554.365], 10, relative_db=0.0)
    assert recording.reference is not None
    found = reference_partials_of(recording.reference, RATE_HZ).frequencies_hz
    assert np.allclose(found, sorted(recording.reference_hz), rtol=1e-6)


def test_a_reference_recording_without_steady_sound_is_refused_in_a_sentence() -> None:
    with pytest.raises(SoundFileError, match="less than a second of steady sound"):
        reference_partials_of(unpitched("clicks", 11), RATE_HZ)


@pytest.mark.parametrize("samples", [np.zeros(0), np.zeros(100), np.ones(48_000)])
def test_nothing_to_hear_gives_no_note(samples: np.ndarray) -> None:
    assert track(samples, RATE_HZ).notes == ()
