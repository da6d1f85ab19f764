"""The simulated player: a sound source whose truth can be trusted."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intonation.errors import SettingsError
from intonation.instruments.library import instrument_named
from intonation.pitch.cents import cents_between
from intonation.pitch.notes import equal_tempered_hz
from intonation.simulation.habits import EXACT, Habits
from intonation.simulation.plan import PlannedNote, drone_practice, long_tones
from intonation.simulation.player import SimulatedPlayer
from intonation.simulation.players import PLAYERS, simulated_player
from intonation.simulation.recorder import SimulatedRecorder, perfect_recorder

ALTO = instrument_named("alto")
RATE_HZ = 48000.0
PLAN = long_tones([69, 84], sounding_s=0.6)


def player_on(
    recorder: SimulatedRecorder,
    habits: Habits,
    *,
    plan: tuple[PlannedNote, ...] = PLAN,
    reference_hz: tuple[float, ...] = (),
    a4_hz: float = 440.0,
) -> SimulatedPlayer:
    rng = np.random.default_rng(7)
    return SimulatedPlayer(
        recorder,
        habits,
        plan,
        rng=rng,
        reference_hz=reference_hz,
        a4_hz=a4_hz,
        lead_in_s=0.1,
        sample_rate_hz=RATE_HZ,
    )


def everything_from(player: SimulatedPlayer) -> np.ndarray:
    return player.read(10**7)


def truths_of(player: SimulatedPlayer) -> list[float]:
    """Return the true cents of each played note from equal temperament at 440 Hz."""
    everything_from(player)
    return [
        cents_between(note.f0_hz, target_hz=equal_tempered_hz(note.midi, a4_hz=440.0))
        for note in player.played
    ]


WHOLE = everything_from(simulated_player("wren", ALTO, PLAN, seed=1, lead_in_s=0.1))


@settings(max_examples=15, deadline=None)
@given(st.lists(st.integers(1, 20000), min_size=1, max_size=30))
def test_the_samples_do_not_depend_on_how_they_are_cut_into_blocks(sizes: list[int]) -> None:
    player = simulated_player("wren", ALTO, PLAN, seed=1, lead_in_s=0.1)
    blocks = [player.read(size) for size in sizes]
    blocks.append(everything_from(player))
    assert np.array_equal(np.concatenate(blocks), WHOLE)


def test_another_seed_is_another_instrument() -> None:
    other = everything_from(simulated_player("wren", ALTO, PLAN, seed=2, lead_in_s=0.1))
    assert not np.array_equal(other, WHOLE)


def test_the_source_says_when_it_is_exhausted() -> None:
    player = player_on(perfect_recorder(ALTO), EXACT)
    assert not player.exhausted
    everything_from(player)
    assert player.exhausted
    assert player.read(100).size == 0


def test_the_truth_is_what_sounds() -> None:
    """An independent estimate, the peak of numpy's Fourier transform, agrees to a cent."""
    player = player_on(perfect_recorder(ALTO), EXACT)
    samples = everything_from(player)
    for note in player.played:
        first = round((note.onset_s + 0.2) * RATE_HZ)
        piece = samples[first : first + 16384] * np.hanning(16384)
        spectrum = np.log(np.abs(np.fft.rfft(piece, 8 * 16384)))
        peak = int(np.argmax(spectrum))
        left, middle, right = spectrum[peak - 1 : peak + 2]
        place = peak + 0.5 * (left - right) / (left - 2.0 * middle + right)
        f0_hz = place * RATE_HZ / (8 * 16384)
        assert cents_between(f0_hz, target_hz=note.f0_hz) == pytest.approx(0.0, abs=1.0)


def test_an_exact_player_on_a_perfect_recorder_is_in_tune() -> None:
    assert truths_of(player_on(perfect_recorder(ALTO), EXACT)) == pytest.approx([0.0, 0.0], abs=0.1)


def test_notes_begin_and_end_when_the_truth_says_so() -> None:
    player = player_on(perfect_recorder(ALTO), EXACT)
    samples = everything_from(player)
    for note in player.played:
        middle = round((note.onset_s + note.offset_s) / 2.0 * RATE_HZ)
        before = round((note.onset_s - 0.05) * RATE_HZ)
        assert np.abs(samples[middle : middle + 1000]).max() > 0.05
        assert np.abs(samples[before : before + 1000]).max() < 0.01


def test_the_instruments_fault_is_heard_on_its_note() -> None:
    perfect = perfect_recorder(ALTO)
    faulty = SimulatedRecorder(
        instrument=ALTO,
        offset_cents={**perfect.offset_cents, 84: 15.0},
        cents_per_db=perfect.cents_per_db,
    )
    assert truths_of(player_on(faulty, EXACT)) == pytest.approx([0.0, 15.0], abs=0.1)


def test_more_breath_is_sharper_and_louder() -> None:
    # B. Blood, Dolmetsch Online, lesson 2: blowing less hard lets the note fall.
    plan = (PlannedNote(midi=84), PlannedNote(midi=84, breath_db=1.0))
    player = player_on(perfect_recorder(ALTO), EXACT, plan=plan)
    samples = everything_from(player)
    soft, loud = (
        np.std(samples[round((n.onset_s + 0.5) * RATE_HZ) :][:48000]) for n in player.played
    )
    assert cents_between(player.played[1].f0_hz, target_hz=player.played[0].f0_hz) == pytest.approx(
        8.0, abs=0.2
    )
    assert 20.0 * np.log10(loud / soft) == pytest.approx(1.0, abs=0.2)


def test_a_swell_goes_from_soft_to_loud() -> None:
    plan = (PlannedNote(midi=84, sounding_s=3.0, swell_db=6.0),)
    samples = everything_from(player_on(perfect_recorder(ALTO), EXACT, plan=plan))
    early, late = (np.std(samples[round(at * RATE_HZ) :][:4800]) for at in (0.6, 2.6))
    assert 20.0 * np.log10(late / early) == pytest.approx(4.0, abs=0.3)


def test_a_thumb_opened_too_far_raises_the_second_register_only() -> None:
    wide = Habits(thumb_cents=14.0, wander_db=0.0, jitter_cents=0.0)
    assert truths_of(player_on(perfect_recorder(ALTO), wide)) == pytest.approx([0.0, 14.0], abs=0.1)


def test_a_good_ear_moves_towards_the_pure_third_over_the_reference() -> None:
    drone_hz = equal_tempered_hz(65, a4_hz=440.0)
    plan = (PlannedNote(midi=69, sounding_s=3.0),)
    ears = Habits(matching=0.5, wander_db=0.0, jitter_cents=0.0)
    (deaf,) = truths_of(player_on(perfect_recorder(ALTO), EXACT, plan=plan))
    (heard,) = truths_of(
        player_on(perfect_recorder(ALTO), ears, plan=plan, reference_hz=(drone_hz,))
    )
    # Half of the way from equal temperament to 5:4, which lies 13.7 cents lower (Helmholtz).
    assert heard - deaf == pytest.approx(-13.686 / 2.0, abs=0.3)


def test_a_good_ear_keeps_its_octave() -> None:
    drone_hz = equal_tempered_hz(65, a4_hz=440.0)
    plan = (PlannedNote(midi=81, sounding_s=3.0), PlannedNote(midi=77, sounding_s=3.0))
    ears = Habits(matching=1.0, wander_db=0.0, jitter_cents=0.0)
    exact = player_on(perfect_recorder(ALTO), ears, plan=plan, reference_hz=(drone_hz,))
    # 12 cents is the most that this player corrects; the tenth wants 13.7, the octave nothing.
    assert truths_of(exact) == pytest.approx([-12.0, 0.0], abs=0.5)


def test_a_low_concert_pitch_moves_every_note() -> None:
    truths = truths_of(player_on(perfect_recorder(ALTO), EXACT, a4_hz=415.0))
    assert truths == pytest.approx([-101.27, -101.27], abs=0.1)  # 1200·log2(415/440)


def test_a_sagging_player_ends_a_long_note_flatter() -> None:
    plan = (PlannedNote(midi=69, sounding_s=4.0),)
    sagging = Habits(sag_db=1.0, wander_db=0.0, jitter_cents=0.0)
    (steady,) = truths_of(player_on(perfect_recorder(ALTO), EXACT, plan=plan))
    (sagged,) = truths_of(player_on(perfect_recorder(ALTO), sagging, plan=plan))
    assert sagged < steady - 1.0


def test_drone_practice_plays_only_notes_of_the_instrument_that_agree_with_the_drone() -> None:
    plan = drone_practice(ALTO, drone_midi=65, count=20, rng=np.random.default_rng(0))
    assert len(plan) == 20
    assert {note.midi for note in plan} <= set(ALTO.notes_midi)
    assert {(note.midi - 65) % 12 for note in plan} <= {0, 3, 4, 5, 7, 8, 9}


@pytest.mark.parametrize("name", PLAYERS)
def test_every_named_player_stays_far_from_clipping(name: str) -> None:
    samples = everything_from(simulated_player(name, ALTO, PLAN, seed=3))
    assert 0.03 < np.abs(samples).max() < 0.7


def test_an_unknown_player_is_refused_with_the_names_there_are() -> None:
    with pytest.raises(SettingsError, match="wren"):
        simulated_player("wrenn", ALTO, PLAN, seed=1)
