"""Results in words: true, short enough for a card, and safe."""

from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intonation.assessment.advising import advise
from intonation.assessment.scoring import Target
from intonation.assessment.summing_up import summed_up
from intonation.instruments.library import INSTRUMENT_NAMES, instrument_named
from intonation.pitch.intervals import INTERVALS, interval_between
from intonation.practice.events import IgnoredReason, NoteIgnored, NoteScored
from intonation.practice.session import PracticeSession
from intonation.practice.settings import PracticeSettings
from intonation.practice.tuning import tuning_of
from intonation.words.cautions import HEADPHONES, LONG_TONES, LOUDNESS
from intonation.words.listening import listen_for, listen_for_target
from intonation.words.note_card import CARD_WIDTH, card_lines, held_in_words, ignored_in_words
from intonation.words.numbers import rounded, share_of_hole, sharp_or_flat
from intonation.words.take import note_line, practise_next, summary_lines
from intonation.words.targets import target_in_words
from tests.support.held_notes import held_note, scored_note

ALTO = instrument_named("alto")


def card_of(midi: int, cents: float, *, instrument: str = "alto") -> tuple[str, ...]:
    played = scored_note(midi, cents, instrument=instrument, drift_cents_per_s=-12.5)
    advice = advise(played, instrument=instrument_named(instrument))
    return card_lines(NoteScored(1, played, advice))


@given(
    name=st.sampled_from(INSTRUMENT_NAMES),
    step=st.integers(0, 21),
    cents=st.floats(-60.0, 60.0),
)
def test_every_line_of_every_card_fits_the_card(name: str, step: int, cents: float) -> None:
    midi = instrument_named(name).lowest_midi + step
    lines = card_of(midi, cents, instrument=name)
    assert all(0 < len(line) <= CARD_WIDTH for line in lines)


@given(step=st.integers(0, 26), temperament=st.sampled_from(["pure", "quarter-comma-meantone"]))
def test_a_card_with_the_longest_target_fits_too(step: int, temperament: str) -> None:
    settings = PracticeSettings(drone_midi=66, temperament=temperament)
    session = PracticeSession(settings, ALTO, headphones=True)
    session.start(0.0)
    (said,) = session.hear(held_note(tuning_of(settings).hz(65 + step)))
    assert isinstance(said, NoteScored)
    assert max(map(len, card_lines(said))) <= CARD_WIDTH


@given(step=st.integers(0, 26), cents=st.floats(-60.0, -1.0))
def test_the_card_of_a_flat_note_never_speaks_of_covering_or_blowing_less(
    step: int, cents: float
) -> None:
    text = " ".join(card_of(65 + step, cents))
    assert "Cover" not in text
    assert "less," not in text
    assert "lower." not in text


def test_the_thumb_is_told_which_way_to_move() -> None:
    assert "slit a little wider: about 20 cents higher" in card_of(89, -20.0)[3]
    assert "slit a little narrower" in card_of(86, 15.0)[3]
    assert card_of(86, 15.0)[3].endswith("lower; breath does the rest.")


def test_a_card_says_note_deviation_target_and_what_to_do() -> None:
    headline, target, held, advice, reason = card_of(74, 12.0)
    assert headline == "D5, 12.0 cents sharp: to be heard against a drone"
    assert target == "Target: D5 in equal temperament."
    assert held == "Steady within 1.0 cents, sinking 12.5 cents a second, level −20 dB, 2.0 s."
    assert advice == "Cover half of hole 4 (right first finger): about 12 cents lower."
    assert reason


def test_a_vibrato_is_named_instead_of_being_called_unsteady() -> None:
    vibrato = scored_note(
        74, 0.0, sd_cents=17.0, drift_cents_per_s=-12.5, vibrato_hz=5.0, vibrato_cents=25.0
    )
    words = held_in_words(vibrato)
    assert words.startswith("Vibrato 5.0 Hz ±25 cents, sinking")
    assert len(words) <= CARD_WIDTH


@pytest.mark.parametrize(
    ("midi", "reference", "tuning", "words"),
    [
        (72, 65, "pure", "the pure fifth over the drone F4"),
        (60, 65, "pure", "the pure fourth under the drone F4"),
        (65, 65, "pure", "the unison with the drone F4"),
        (77, 65, "pure", "the octave over the drone F4"),
        (72, 65, "vallotti", "C5 in Vallotti, fifth over the drone F4"),
    ],
)
def test_a_target_is_named_by_its_interval(
    midi: int, reference: int, tuning: str, words: str
) -> None:
    interval = {72: "fifth", 60: "fourth", 65: "unison", 77: "octave"}[midi]
    assert target_in_words(Target(midi, 440.0, interval, reference, tuning)) == words


def test_a_target_without_a_reference_is_named_by_its_temperament() -> None:
    assert target_in_words(Target(69, 440.0, None, None, "equal")) == "A4 in equal temperament"


@pytest.mark.parametrize(
    ("cents", "words"),
    [(8.4, "8.4 cents sharp"), (-1.0, "1.0 cents flat"), (0.04, "dead in tune")],
)
def test_deviations_read_as_a_musician_says_them(cents: float, words: str) -> None:
    assert sharp_or_flat(cents, 1) == words


def test_a_rounded_zero_has_no_sign() -> None:
    assert rounded(-0.04, 1) == "0.0"
    assert rounded(-21.3) == "−21"


@pytest.mark.parametrize(("share", "words"), [(0.1, "a tenth"), (0.33, "a third"), (0.7, "70 %")])
def test_shares_of_a_hole_are_words_where_there_are_words(share: float, words: str) -> None:
    assert share_of_hole(share) == words


@pytest.mark.parametrize("interval", [*(i.name for i in INTERVALS), "octave"])
def test_every_interval_has_its_own_way_of_listening(interval: str) -> None:
    assert listen_for(interval) != listen_for(None)
    assert len(listen_for(interval)) <= 100


def test_without_an_interval_the_ear_goes_to_the_wave() -> None:
    assert "wave" in listen_for(None)


def target_over_c4(midi: int, *, temperament: str) -> tuple[Target, float]:
    settings = PracticeSettings(drone_midi=60, temperament=temperament)
    tuning = tuning_of(settings)
    interval = interval_between(midi, over_midi=60)
    return Target(midi, tuning.hz(midi), interval, 60, tuning.name), tuning.hz(60)


@pytest.mark.parametrize(
    ("midi", "rate"),
    # Beat rates over C4 in equal temperament: B. Capleton, Theory and Practice of Piano Tuning
    # (2007), quoted in S. Teki et al., J. Neurosci. 32(35) (2012) 12251, table 1.
    [(64, "10.4"), (65, "1.2")],
)
def test_a_tempered_interval_is_given_its_published_beat(midi: int, rate: str) -> None:
    target, drone_hz = target_over_c4(midi, temperament="equal")
    assert f"beats {rate} times a second" in listen_for_target(target, reference_hz=drone_hz)


def test_a_tenth_beats_as_fast_as_the_third_below_it() -> None:
    third, drone_hz = target_over_c4(64, temperament="equal")
    tenth, _ = target_over_c4(76, temperament="equal")
    said = listen_for_target(tenth, reference_hz=drone_hz)
    assert said == listen_for_target(third, reference_hz=drone_hz)


@pytest.mark.parametrize("midi", range(55, 85))
def test_pure_targets_are_heard_without_beats(midi: int) -> None:
    target, drone_hz = target_over_c4(midi, temperament="pure")
    assert listen_for_target(target, reference_hz=drone_hz) == listen_for(target.interval)


def test_a_pure_third_of_meantone_is_heard_as_pure() -> None:
    target, drone_hz = target_over_c4(64, temperament="quarter-comma-meantone")
    assert listen_for_target(target, reference_hz=drone_hz) == listen_for("major third")


@pytest.mark.parametrize("midi", range(48, 97))
def test_listening_hints_for_any_target_fit_two_short_lines(midi: int) -> None:
    target, drone_hz = target_over_c4(midi, temperament="quarter-comma-meantone")
    assert len(listen_for_target(target, reference_hz=drone_hz)) <= 100


def test_a_take_is_told_worst_first_with_the_whole_and_the_next_step() -> None:
    notes = [scored_note(69, 2.0), scored_note(72, -14.0), scored_note(72, -12.0)]
    worst, other, whole, following = summary_lines(summed_up(notes))
    assert worst == "C5: 13.0 cents flat, spread 1.4 cents, played twice"
    assert other == "A4: 2.0 cents sharp, played once"
    assert whole == "All notes lie within 15 cents, which breath can cover."
    assert following.startswith("Next: C5, which was flat.")


def test_notes_further_apart_than_breath_reaches_are_told_so() -> None:
    whole = summary_lines(summed_up([scored_note(69, 12.0), scored_note(72, -18.0)]))[-2]
    assert whole == "The notes lie 30 cents apart, more than the 20 cents that breath can cover."


def test_an_unsteady_note_is_to_be_repeated() -> None:
    summary = summed_up([scored_note(69, -9.0), scored_note(69, 9.5)])
    assert "same every time" in practise_next(summary)


def test_a_take_of_good_notes_points_onwards() -> None:
    assert "another drone" in practise_next(summed_up([scored_note(69, 1.0)]))


def test_an_empty_take_says_how_to_hold_a_note() -> None:
    assert summary_lines(summed_up([])) == (practise_next(summed_up([])),)


def test_every_summary_line_fits_80_columns() -> None:
    summary = summed_up([scored_note(70, -49.6), scored_note(70, 49.9)])
    assert max(len(note_line(note)) for note in summary.notes) <= 80
    assert max(map(len, summary_lines(summary))) <= 80


@pytest.mark.parametrize("reason", get_args(IgnoredReason))
def test_an_ignored_note_is_explained(reason: IgnoredReason) -> None:
    words = ignored_in_words(NoteIgnored(reason, 3.0, 440.0))
    assert words.endswith(".")
    assert len(words) <= CARD_WIDTH


def test_the_usual_cautions_are_there() -> None:
    # NIOSH: 85 dBA over eight hours is the recommended limit (CDC/NIOSH noise page).
    assert "85 dB" in LOUDNESS
    assert "light-headed" in LONG_TONES
    assert "headphones" in HEADPHONES
