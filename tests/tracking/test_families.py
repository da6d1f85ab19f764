"""The tracker against exact truth: every kind of sound that it has to cope with, in figures."""

from dataclasses import dataclass

import numpy as np
import pytest
from numpy.typing import NDArray

from intonation.pitch.cents import cents_between
from intonation.tracking.events import HeldNote
from intonation.tracking.reference import reference_partials_of
from intonation.tracking.tracker import Track, Tracker, track
from tests.support.tones import (
    UNPITCHED_KINDS,
    PlayedTone,
    TrueNote,
    TrueRecording,
    clipped,
    in_a_room,
    melody,
    slurred,
    unpitched,
    with_hum,
    with_noise,
    with_reference,
)

SCALE = np.array([0.0, 2.0, 4.0, 5.0, 7.0, 9.0, 11.0, 12.0])


@dataclass(frozen=True)
class Errors:
    """Absolute errors in cents of frames in the sustain and of notes; and what was not found."""

    frames: NDArray[np.float64]
    notes: NDArray[np.float64]
    found: list[tuple[TrueNote, HeldNote]]
    missed: int
    false: int
    missing_frames: int

    @property
    def f1(self) -> float:
        hits = len(self.found)
        return 2 * hits / (2 * hits + self.missed + self.false)


def errors_of(recording: TrueRecording, heard: Track) -> Errors:
    """Match notes by onset (50 ms) and pitch (25 cents), the customary tolerances."""
    left = list(heard.notes)
    found = []
    for true in recording.notes:
        near = [h for h in left if _agrees(true, h)]
        if near:
            found.append((true, near[0]))
            left.remove(near[0])
    time_s = np.array([f.time_s for f in heard.frames])
    f0_hz = np.array([np.nan if f.f0_hz is None else f.f0_hz for f in heard.frames])
    frames = []
    for true in recording.notes:
        inside = (time_s >= true.sustain_from_s) & (time_s <= true.offset_s - 0.02)
        frames.append(1200.0 * np.log2(f0_hz[inside] / true.hz_at(time_s[inside])))
    all_frames = np.abs(np.concatenate(frames))
    notes = [abs(cents_between(h.f0_hz, target_hz=true.median_hz)) for true, h in found]
    return Errors(
        all_frames[~np.isnan(all_frames)],
        np.array(notes),
        found,
        len(recording.notes) - len(found),
        len(left),
        int(np.sum(np.isnan(all_frames))),
    )


def _agrees(true: TrueNote, heard: HeldNote) -> bool:
    cents = cents_between(heard.f0_hz, target_hz=true.median_hz)
    return abs(heard.onset_s - true.onset_s) < 0.05 and abs(cents) < 25.0


def tones(seed: int, count: int, **fixed: float) -> list[PlayedTone]:
    """Return invented notes of a recorder, each of its own pitch, length and breath noise."""
    rng = np.random.default_rng(seed)
    made = []
    for _ in range(count):
        asked = {
            "f0_hz": float(np.exp(rng.uniform(np.log(300.0), np.log(1800.0)))),
            "duration_s": float(rng.uniform(0.8, 1.8)),
            "noise_db": float(rng.uniform(-35.0, -15.0)),
            "wander_cents": 0.3,
            "level_db": float(rng.uniform(-21.0, -15.0)),
            "gap_s": 0.3,
        }
        made.append(PlayedTone(**(asked | fixed)))
    return made


def assert_within(errors: Errors, *, frame: float, note: float, note_95: float) -> None:
    assert (errors.missed, errors.false, errors.missing_frames) == (0, 0, 0)
    assert np.max(errors.frames) < 50.0
    assert np.median(errors.frames) <= frame
    assert np.median(errors.notes) <= note
    assert np.percentile(errors.notes, 95.0) <= note_95


@pytest.fixture(scope="module")
def steady() -> Errors:
    recording = melody(tones(1, 16), 1)
    return errors_of(recording, track(recording.samples, recording.sample_rate_hz))


def test_steady_notes_are_measured_close_to_the_bound(steady: Errors) -> None:
    assert_within(steady, frame=0.06, note=0.03, note_95=0.15)


def test_the_drift_of_a_steady_note_is_right_within_a_twentieth_of_a_cent_per_second(
    steady: Errors,
) -> None:
    off = []
    for true, heard in steady.found:
        first, last = round(0.15 * 48_000), round((true.offset_s - true.onset_s) * 48_000)
        cents = 1200.0 * np.log2(true.f0_hz[first:last] / true.median_hz)
        slope = np.polyfit(np.arange(first, last) / 48_000, cents, 1)[0]
        off.append(abs(heard.drift_cents_per_s - slope))
    assert np.median(off) < 0.05


def test_a_swinging_pitch_is_followed_and_its_rate_and_extent_are_found() -> None:
    rng = np.random.default_rng(2)
    played = [
        PlayedTone(
            f0_hz=float(rng.uniform(350, 1400)),
            duration_s=1.6,
            vibrato_hz=float(rng.uniform(4.0, 6.0)),
            vibrato_cents=float(rng.uniform(10.0, 25.0)),
            cents_per_db=6.0,
        )
        for _ in range(10)
    ]
    recording = melody(played, 2)
    errors = errors_of(recording, track(recording.samples, 48_000.0))
    assert_within(errors, frame=0.3, note=0.1, note_95=0.5)
    for true, heard in errors.found:
        assert heard.vibrato_hz == pytest.approx(true.played.vibrato_hz, abs=0.1)
        assert heard.vibrato_cents == pytest.approx(true.played.vibrato_cents, rel=0.1)


def test_a_swell_shows_how_the_pitch_follows_the_level() -> None:
    played = tones(3, 8, swell_db=12.0, cents_per_db=2.5, duration_s=2.0, wander_cents=0.0)
    recording = melody(played, 3)
    errors = errors_of(recording, track(recording.samples, 48_000.0))
    assert_within(errors, frame=0.06, note=0.05, note_95=0.15)
    for _, heard in errors.found:
        assert heard.cents_per_db == pytest.approx(2.5, rel=0.02)


def test_a_room_and_the_tail_of_the_last_note_do_not_bend_the_next() -> None:
    rng = np.random.default_rng(4)
    played = [
        PlayedTone(f0_hz=520.0 * 2 ** (step / 12), duration_s=1.2, gap_s=0.15)
        for step in rng.permutation(SCALE)
    ]
    dry = melody(played, 4)
    for reverberation_s in (0.3, 0.8):
        recording = in_a_room(dry, 5, reverberation_s=reverberation_s)
        errors = errors_of(recording, track(recording.samples, 48_000.0))
        assert_within(errors, frame=0.2, note=0.1, note_95=0.8)


@pytest.mark.parametrize(
    ("relative_db", "clock_ppm", "room_changes_db", "note_95"),
    [(-20.0, 0.0, None, 0.12), (0.0, 50.0, None, 0.12), (-6.0, 0.0, -20.0, 0.5)],
)
@pytest.mark.parametrize("chord", [(1.0,), (1.0, 2 ** (4 / 12), 1.5)], ids=["unison", "chord"])
def test_a_reference_in_the_room_neither_sounds_like_a_note_nor_bends_one(
    chord: tuple[float, ...],
    relative_db: float,
    clock_ppm: float,
    room_changes_db: float | None,
    note_95: float,
) -> None:
    f0_hz = 523.25
    off_cents = (8.0, -3.0, 2.0, -15.0, 20.0)
    played = [
        PlayedTone(f0_hz=f0_hz * interval * 2 ** (cents / 1200), duration_s=1.2, gap_s=0.4)
        for interval, cents in zip((1.0, 2.0, 1.5, 1.25, 1.0), off_cents, strict=True)
    ]
    recording = with_reference(
        melody(played, 6),
        [f0_hz * interval for interval in chord],
        7,
        relative_db=relative_db,
        clock_ppm=clock_ppm,
        room_changes_db=room_changes_db,
    )
    assert recording.reference is not None
    reference = reference_partials_of(recording.reference, 48_000.0)
    heard = track(recording.samples, 48_000.0, reference=reference)
    assert_within(
        errors_of(recording, heard),
        frame=0.05,
        note=0.02 if note_95 < 0.5 else 0.05,
        note_95=note_95,
    )


def test_slurred_scales_and_tongued_repeats_are_cut_into_their_notes() -> None:
    rising = 440.0 * 2 ** (np.concatenate([SCALE, SCALE[-2::-1]]) / 12)
    scale = slurred(rising.tolist(), 8, each_s=0.3, tone=PlayedTone(f0_hz=440.0))
    rng = np.random.default_rng(8)
    repeats = melody(
        [
            PlayedTone(
                f0_hz=660.0, duration_s=0.35, gap_s=float(gap_s), attack_s=0.02, release_s=0.025
            )
            for gap_s in rng.uniform(0.04, 0.12, 15)
        ],
        8,
    )
    for recording in (scale, repeats):
        errors = errors_of(recording, track(recording.samples, 48_000.0))
        assert errors.f1 >= 0.98
        assert np.median(errors.frames) <= 0.08
        assert np.median(errors.notes) <= 0.03
        assert np.percentile(errors.notes, 95.0) <= 0.3


def test_slurred_notes_less_than_a_semitone_apart_are_cut_where_the_finger_moved() -> None:
    rng = np.random.default_rng(13)
    steps_cents = rng.uniform(26.0, 58.0, 9) * rng.choice([-1, 1], 9)
    f0s_hz = 700.0 * 2 ** (np.concatenate([[0.0], np.cumsum(steps_cents)]) / 1200)
    recording = slurred(f0s_hz.tolist(), 13, each_s=0.45, tone=PlayedTone(f0_hz=700.0))
    errors = errors_of(recording, track(recording.samples, 48_000.0))
    assert errors.f1 == 1.0
    assert errors.missing_frames == 0
    assert np.percentile(errors.notes, 95.0) <= 0.3
    for true, heard in errors.found:
        assert abs(heard.onset_s - true.onset_s) < 0.02


def test_tongued_repeats_are_parted_where_a_room_fills_the_gaps() -> None:
    rng = np.random.default_rng(16)
    repeats = [
        PlayedTone(f0_hz=700.0, duration_s=0.35, gap_s=float(gap_s), attack_s=0.02, release_s=0.02)
        for gap_s in rng.uniform(0.05, 0.11, 10)
    ]
    recording = in_a_room(melody(repeats, 16), 17, reverberation_s=0.35, direct_db=6.0)
    assert errors_of(recording, track(recording.samples, 48_000.0)).f1 >= 0.9


@pytest.mark.parametrize("rate_hz", [2.0, 3.0, 4.0])
def test_a_slow_wide_wobble_is_one_note(rate_hz: float) -> None:
    tone = PlayedTone(f0_hz=600.0, duration_s=2.0, vibrato_hz=rate_hz, vibrato_cents=22.0)
    recording = melody([tone] * 2, 14)
    errors = errors_of(recording, track(recording.samples, 48_000.0))
    assert (errors.missed, errors.false) == (0, 0)


@pytest.mark.parametrize(("rate_hz", "extent_cents"), [(3.0, 40.0), (4.0, 60.0), (5.0, 60.0)])
def test_a_vibrato_as_wide_as_a_beginner_plays_it_is_one_note(
    rate_hz: float, extent_cents: float
) -> None:
    tone = PlayedTone(f0_hz=600.0, duration_s=2.0, vibrato_hz=rate_hz, vibrato_cents=extent_cents)
    notes = track(melody([tone] * 2, 15).samples, 48_000.0).notes
    assert [note.vibrato_hz for note in notes] == pytest.approx([rate_hz] * 2, abs=0.1)
    assert [note.vibrato_cents for note in notes] == pytest.approx([extent_cents] * 2, rel=0.1)


def test_a_glide_is_one_note() -> None:
    recording = slurred(
        [600.0, 600.0 * 2 ** (45 / 1200)],
        15,
        each_s=0.7,
        change_s=0.25,
        tone=PlayedTone(f0_hz=600.0),
    )
    assert len(track(recording.samples, 48_000.0).notes) == 1


def test_noise_clipping_and_mains_hum_do_no_harm() -> None:
    dry = melody(tones(9, 6, noise_db=-30.0, level_db=-18.0), 9)
    for recording in (
        with_noise(dry, 9, signal_to_noise_db=10.0),
        clipped(dry, over_db=6.0),
        with_hum(dry, mains_hz=50.0, level_db=-30.0),
        with_hum(dry, mains_hz=60.0, level_db=-30.0),
    ):
        errors = errors_of(recording, track(recording.samples, 48_000.0))
        assert_within(errors, frame=0.08, note=0.04, note_95=0.2)


@pytest.mark.parametrize("mains_hz", [50.0, 60.0])
def test_a_soft_note_is_found_within_a_hum_as_loud_and_the_hum_is_none(
    mains_hz: float,
) -> None:
    played = tones(17, 4, noise_db=-25.0, level_db=-27.0)
    hum = with_hum(melody(played, 17, lead_s=0.8), mains_hz=mains_hz, level_db=-25.0)
    errors = errors_of(hum, track(hum.samples, hum.sample_rate_hz))
    assert (errors.missed, errors.false) == (0, 0)
    assert np.max(errors.notes) < 0.3


def test_a_note_within_white_noise_of_twice_its_power_is_found() -> None:
    played = tones(18, 4, noise_db=-40.0, level_db=-18.0)
    recording = with_noise(melody(played, 18), 18, signal_to_noise_db=-3.0)
    errors = errors_of(recording, track(recording.samples, recording.sample_rate_hz))
    assert (errors.missed, errors.false) == (0, 0)


def test_a_vibrato_is_not_cut_where_a_room_makes_its_level_dip() -> None:
    tone = PlayedTone(
        f0_hz=740.0, duration_s=2.0, vibrato_hz=5.2, vibrato_cents=12.0, cents_per_db=5.0
    )
    for seed in range(4):
        room = in_a_room(melody([tone], seed), seed, reverberation_s=0.7, direct_db=0.0)
        assert len(track(room.samples, 48_000.0).notes) == 1


@pytest.mark.parametrize("kind", UNPITCHED_KINDS)
def test_what_is_no_note_gives_no_note(kind: str) -> None:
    tracker = Tracker(48_000.0)
    events = [*tracker.feed(unpitched(kind, 10)), *tracker.finish()]
    assert [e for e in events if not hasattr(e, "time_s")] == []


@pytest.mark.parametrize(
    ("f0_hz", "formants_hz"),
    [(124.0, (730.0, 1090.0, 2440.0)), (127.0, (660.0, 1720.0, 2410.0))],
    ids=["ah", "a"],
)
def test_a_spoken_vowel_is_no_note(f0_hz: float, formants_hz: tuple[float, ...]) -> None:
    """G. E. Peterson & H. L. Barney, JASA 24 (1952) 175, table II, men; from memory."""
    time_s = np.arange(round(0.6 * 48_000)) / 48_000
    orders = np.arange(1, 30)
    shape = sum(1.0 / (1.0 + ((orders * f0_hz - f) / 60.0) ** 2) for f in formants_hz)
    vowel = np.sqrt(shape) / orders @ np.sin(2 * np.pi * f0_hz * np.outer(orders, time_s))
    heard = track(np.concatenate([np.zeros(9600), 0.1 * vowel, np.zeros(9600)]), 48_000.0)
    assert heard.notes == ()


LOUD_SECOND = (0.0, 1.0, -10.0, -18.0, -26.0, -32.0)


@pytest.mark.parametrize("f0_hz", [87.3, 174.6, 349.2, 698.5, 1396.9, 2093.0, 4186.0])
def test_the_octave_is_right_where_the_second_partial_is_as_strong_as_the_first(
    f0_hz: float,
) -> None:
    tone = PlayedTone(f0_hz=f0_hz, partials_db=LOUD_SECOND, half_partial_db=-30.0, duration_s=0.8)
    recording = melody([tone], 11)
    errors = errors_of(recording, track(recording.samples, 48_000.0))
    assert (errors.missed, errors.false) == (0, 0)
    assert np.max(errors.frames) < 5.0


@pytest.mark.parametrize("rate_hz", [8_000.0, 22_050.0, 44_100.0, 96_000.0, 192_000.0])
def test_every_common_sample_rate_will_do(rate_hz: float) -> None:
    recording = melody([PlayedTone(f0_hz=587.33, duration_s=0.8)], 12, rate_hz=rate_hz)
    errors = errors_of(recording, track(recording.samples, rate_hz))
    assert (errors.missed, errors.false) == (0, 0)
    assert errors.notes[0] < 0.1


def test_nine_intervals_in_ten_hold_the_truth() -> None:
    """Of 56 right intervals 46 to 55 hold it in 97 % of such samples: binomial distribution."""
    ways = [
        {"duration_s": 0.8},
        {"wander_cents": 0.0, "drift_cents_per_s": 2.0, "duration_s": 0.8},
        {"vibrato_cents": 15.0, "cents_per_db": 8.0, "duration_s": 1.2},
        {"swell_db": 8.0, "cents_per_db": 2.0, "duration_s": 1.2},
    ]
    inside = []
    for seed, asked in enumerate(ways):
        recording = melody(tones(20 + seed, 14, **asked), 20 + seed)
        for true, heard in errors_of(recording, track(recording.samples, 48_000.0)).found:
            error = abs(cents_between(heard.f0_hz, target_hz=true.median_hz))
            inside.append(error < 1.645 * heard.standard_error_cents)
    assert len(inside) == 56
    assert 46 <= np.sum(inside) <= 55
