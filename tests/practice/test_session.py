"""A practice session: phases, scores, what is ignored, and what may be seen."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intonation.errors import SettingsError
from intonation.instruments.library import instrument_named
from intonation.pitch.cents import shifted_hz
from intonation.practice.events import (
    NoteIgnored,
    NoteScored,
    PhaseChanged,
    PitchRevealed,
    PracticeEvent,
    TakeEnded,
)
from intonation.practice.session import PracticeSession
from intonation.practice.settings import PracticeSettings
from intonation.practice.tuning import drone_of, tuning_of
from intonation.tracking.events import HeldNote, NoteStarted, PitchFrame
from tests.support.held_notes import held_note

SETTINGS = PracticeSettings(drone_midi=65, temperament="pure")
ALTO = instrument_named("alto")
TUNING = tuning_of(SETTINGS)


def new_session(*, headphones: bool = False) -> PracticeSession:
    return PracticeSession(SETTINGS, ALTO, headphones=headphones)


def hz_of(midi: int, cents: float = 0.0) -> float:
    return shifted_hz(TUNING.hz(midi), cents=cents)


def frame(time_s: float, f0_hz: float | None = None) -> PitchFrame:
    return PitchFrame(time_s, f0_hz, 25.0, -20.0)


def play(
    session: PracticeSession, midi: int, cents: float, *, onset_s: float, seconds: float = 2.0
) -> list[PracticeEvent]:
    """Let a note begin, sound for a frame and end."""
    f0_hz = hz_of(midi, cents)
    held: HeldNote = held_note(f0_hz, onset_s=onset_s, seconds=seconds)
    return [
        *session.hear(NoteStarted(onset_s, f0_hz)),
        *session.hear(frame(onset_s + seconds / 2.0, f0_hz)),
        *session.hear(held),
    ]


def phases_in(events: list[PracticeEvent]) -> list[str]:
    return [event.phase for event in events if isinstance(event, PhaseChanged)]


def the_score_in(events: list[PracticeEvent]) -> NoteScored:
    (score,) = [event for event in events if isinstance(event, NoteScored)]
    return score


def test_a_take_goes_from_listening_to_playing_to_rest() -> None:
    session = new_session()
    said = session.start(0.0)
    said += session.hear(frame(1.0)) + session.hear(frame(2.1))
    said += play(session, 72, 0.0, onset_s=3.0)
    said += session.end(6.0)
    assert phases_in(said) == [
        "listen first",
        "your turn",
        "note sounds",
        "your turn",
        "resting",
    ]
    assert session.phase == "resting"


def test_your_turn_comes_two_seconds_after_the_start_however_late_it_is_noticed() -> None:
    session = new_session()
    session.start(1.0)
    assert session.hear(frame(2.9)) == []
    assert session.hear(frame(3.4)) == [PhaseChanged("your turn", 3.0)]


def test_with_headphones_the_player_may_begin_at_once() -> None:
    session = new_session(headphones=True)
    assert phases_in(session.start(0.0)) == ["your turn"]
    assert the_score_in(play(session, 72, 3.0, onset_s=0.2)).scored.cents == pytest.approx(3.0)


def test_a_note_is_scored_against_the_pure_interval_over_the_drone() -> None:
    session = new_session()
    session.start(0.0)
    score = the_score_in(play(session, 69, 6.0, onset_s=3.0))
    assert score.number == 1
    assert score.scored.cents == pytest.approx(6.0)
    assert score.scored.target.interval == "major third"
    assert score.scored.target.hz == pytest.approx(1.25 * TUNING.hz(65))
    assert score.advice.remedy == "breath"


def test_a_note_begun_while_listening_is_left_out() -> None:
    session = new_session()
    session.start(0.0)
    said = play(session, 72, 0.0, onset_s=1.0)
    assert [e.reason for e in said if isinstance(e, NoteIgnored)] == ["before your turn"]
    assert "note sounds" not in phases_in(said)
    assert session.end(5.0)[-1] == TakeEnded(summary=_nothing_held())


def _nothing_held() -> object:
    session = new_session()
    session.start(0.0)
    ended = session.end(1.0)[-1]
    assert isinstance(ended, TakeEnded)
    return ended.summary


def test_a_short_note_and_a_whistle_are_ignored_with_their_reason() -> None:
    session = new_session()
    session.start(0.0)
    short = play(session, 72, 0.0, onset_s=3.0, seconds=0.2)
    whistle = session.hear(held_note(5000.0, onset_s=4.0))
    reasons = [e.reason for e in [*short, *whistle] if isinstance(e, NoteIgnored)]
    assert reasons == ["too short", "outside the instrument"]
    assert session.phase == "your turn"


def test_the_drone_in_the_microphone_is_not_taken_for_the_player() -> None:
    session = new_session()
    session.start(0.0)
    leaked = session.hear(held_note(hz_of(65, 0.05), onset_s=3.0, sd_cents=0.02))
    assert [e.reason for e in leaked if isinstance(e, NoteIgnored)] == ["the drone itself"]
    played = play(session, 65, 0.05, onset_s=6.0)
    assert the_score_in(played).scored.target.interval == "unison"


def test_a_perfect_unison_heard_with_headphones_is_the_players() -> None:
    session = new_session(headphones=True)
    session.start(0.0)
    said = session.hear(held_note(hz_of(65), onset_s=3.0, sd_cents=0.02))
    assert the_score_in(said).scored.cents == pytest.approx(0.0, abs=1e-6)


def test_nothing_that_moves_with_the_pitch_is_said_unless_asked_for() -> None:
    session = new_session()
    session.start(0.0)
    said = play(session, 72, 8.0, onset_s=3.0)
    assert not [e for e in said if isinstance(e, PitchRevealed)]
    assert the_score_in(said).blind


def test_a_revealed_note_is_shown_and_marked_as_seen() -> None:
    session = new_session()
    session.start(0.0)
    session.reveal(True)
    said = play(session, 72, 8.0, onset_s=3.0)
    (shown,) = [e for e in said if isinstance(e, PitchRevealed)]
    assert shown.cents == pytest.approx(8.0)
    assert shown.at_s == 4.0
    assert not the_score_in(said).blind


def test_a_glance_in_the_middle_of_a_note_is_enough_to_mark_it_as_seen() -> None:
    session = new_session()
    session.start(0.0)
    session.hear(NoteStarted(3.0, hz_of(72)))
    session.reveal(True)
    session.reveal(False)
    assert not the_score_in(session.hear(held_note(hz_of(72), onset_s=3.0))).blind
    assert the_score_in(play(session, 74, 0.0, onset_s=6.0)).blind


def test_a_note_that_began_in_sight_and_ended_unseen_was_seen() -> None:
    session = new_session()
    session.start(0.0)
    session.reveal(True)
    session.hear(frame(2.5))
    session.hear(NoteStarted(3.0, hz_of(72)))
    session.reveal(False)
    assert not the_score_in(session.hear(held_note(hz_of(72), onset_s=3.0))).blind


def test_a_reveal_between_notes_that_was_taken_back_leaves_the_next_note_blind() -> None:
    session = new_session()
    session.start(0.0)
    session.hear(frame(2.5))
    session.reveal(True)
    session.reveal(False)
    assert the_score_in(play(session, 72, 0.0, onset_s=3.0)).blind


def test_the_note_before_is_remembered_only_within_two_seconds() -> None:
    session = new_session()
    session.start(0.0)
    first = the_score_in(play(session, 72, 0.0, onset_s=3.0))
    second = the_score_in(play(session, 74, 0.0, onset_s=6.0))
    third = the_score_in(play(session, 76, 0.0, onset_s=11.0))
    assert [n.previous_midi for n in (first, second, third)] == [None, 72, None]


def test_the_end_of_a_take_sums_up_its_notes_worst_first() -> None:
    session = new_session()
    session.start(0.0)
    play(session, 72, 2.0, onset_s=3.0)
    play(session, 69, -9.0, onset_s=6.0)
    ended = session.end(9.0)[-1]
    assert isinstance(ended, TakeEnded)
    assert [note.midi for note in ended.summary.notes] == [69, 72]


def test_a_new_take_ends_the_one_before_and_counts_from_one_again() -> None:
    session = new_session()
    session.start(0.0)
    play(session, 72, 2.0, onset_s=3.0)
    assert any(isinstance(event, TakeEnded) for event in session.start(10.0))
    assert the_score_in(play(session, 72, 2.0, onset_s=13.0)).number == 1


def test_outside_a_take_nothing_is_said() -> None:
    session = new_session()
    assert play(session, 72, 0.0, onset_s=3.0) == []
    assert session.end(9.0) == []


def test_an_unknown_temperament_is_refused_before_anything_sounds() -> None:
    with pytest.raises(SettingsError, match="valotti"):
        PracticeSession(PracticeSettings(temperament="valotti"), ALTO)


def test_the_drone_that_sounds_is_the_one_that_targets_stand_on() -> None:
    settings = PracticeSettings(drone_midi=60, drone_fifth=True, a4_hz=415.0)
    drone, tuning = drone_of(settings), tuning_of(settings)
    assert [tone.hz for tone in drone.tones] == [tuning.hz(60), tuning.hz(67)]


notes_played = st.lists(
    st.tuples(
        st.integers(60, 95),
        st.floats(-49.0, 49.0),
        st.floats(0.1, 4.0),
        st.floats(0.05, 3.0),
    ),
    max_size=12,
)


@given(notes_played, st.lists(st.booleans(), min_size=12, max_size=12))
def test_every_note_is_scored_or_ignored_once_and_time_never_runs_backwards(
    notes: list[tuple[int, float, float, float]], reveals: list[bool]
) -> None:
    session, now_s = new_session(), 0.0
    said = session.start(now_s)
    for (midi, cents, rest_s, seconds), shown in zip(notes, reveals, strict=False):
        session.reveal(shown)
        now_s += rest_s
        said += play(session, midi, cents, onset_s=now_s, seconds=seconds)
        now_s += seconds
    said += session.end(now_s + 1.0)
    judged = [e for e in said if isinstance(e, NoteScored | NoteIgnored)]
    assert len(judged) == len(notes)
    scores = [e for e in judged if isinstance(e, NoteScored)]
    assert [score.number for score in scores] == list(range(1, len(scores) + 1))
    times = [e.at_s for e in said if isinstance(e, PhaseChanged)]
    assert all(before <= after for before, after in pairwise(times))


@given(notes_played)
def test_frames_in_between_change_nothing_that_is_scored(
    notes: list[tuple[int, float, float, float]],
) -> None:
    with_frames, without = new_session(), new_session()
    scores: list[list[PracticeEvent]] = [with_frames.start(0.0), without.start(0.0)]
    now_s = 0.0
    for midi, cents, rest_s, seconds in notes:
        now_s += rest_s
        scores[0] += with_frames.hear(frame(now_s))
        scores[0] += play(with_frames, midi, cents, onset_s=now_s, seconds=seconds)
        scores[1] += without.hear(held_note(hz_of(midi, cents), onset_s=now_s, seconds=seconds))
        now_s += seconds
    kept = [[e for e in said if isinstance(e, NoteScored | NoteIgnored)] for said in scores]
    assert kept[0] == kept[1]
