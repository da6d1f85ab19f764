"""Where a note begins and where it is let go, whatever the shape of its attack and its release."""

from collections.abc import Callable

import numpy as np
import pytest
from numpy.typing import NDArray

from intonation.pitch.cents import cents_between
from intonation.tracking.events import HeldNote
from intonation.tracking.tracker import track

Real = NDArray[np.float64]
Shape = Callable[[Real], Real]
RATE_HZ = 48_000
LENGTHS_S = ((0.01, 0.12), (0.03, 0.06), (0.05, 0.03), (0.08, 0.02))

RAISED_COSINE: Shape = lambda part: 0.5 - 0.5 * np.cos(np.pi * part)  # noqa: E731
STRAIGHT: Shape = lambda part: part  # noqa: E731
BENT: Shape = lambda part: 0.7 * part + 0.3 * part**2  # noqa: E731


def played(
    attack: Shape, release: Shape, *, wobble_db: float = 0.0, fading_db_per_s: float = 0.0
) -> tuple[list[HeldNote], list[tuple[float, float]]]:
    """Return what is heard of four notes, and when each truly begins and is let go."""
    rng = np.random.default_rng(5)
    pieces, edges, at_s = [np.zeros(RATE_HZ // 2)], [], 0.5
    for attack_s, release_s in LENGTHS_S:
        time_s = np.arange(round((1.3 + release_s) * RATE_HZ)) / RATE_HZ
        rise = attack(np.clip(time_s / attack_s, 0.0, 1.0))
        fall = 1.0 - release(np.clip((time_s - 1.3) / release_s, 0.0, 1.0))
        level_db = wobble_db * np.sin(2 * np.pi * 5.1 * time_s) - fading_db_per_s * time_s
        orders = np.arange(1, 5)[:, None]
        partials = np.sin(2 * np.pi * 620.0 * orders * time_s + orders) / orders**1.5
        breath = 0.05 * rng.standard_normal(time_s.size)
        pieces += [
            0.1 * (partials.sum(axis=0) + breath) * rise * fall * 10.0 ** (level_db / 20.0),
            np.zeros(RATE_HZ // 3),
        ]
        edges.append((at_s, at_s + 1.3))
        at_s += (pieces[-1].size + pieces[-2].size) / RATE_HZ
    sound = np.concatenate(pieces)
    sound += 1e-5 * rng.standard_normal(sound.size)
    return list(track(sound, RATE_HZ).notes), edges


@pytest.mark.parametrize("attack", [RAISED_COSINE, STRAIGHT, BENT], ids=["cosine", "line", "bent"])
@pytest.mark.parametrize("release", [RAISED_COSINE, STRAIGHT], ids=["cosine", "line"])
def test_begin_and_end_are_right_within_five_milliseconds(attack: Shape, release: Shape) -> None:
    for heard, (onset_s, let_go_s) in zip(*played(attack, release), strict=True):
        assert heard.onset_s == pytest.approx(onset_s, abs=0.005)
        assert heard.offset_s == pytest.approx(let_go_s, abs=0.005)


@pytest.mark.parametrize(("wobble_db", "fading_db_per_s"), [(1.5, 0.0), (0.0, 6.0)])
def test_neither_a_wobble_of_the_breath_nor_a_diminuendo_is_taken_for_the_release(
    wobble_db: float, fading_db_per_s: float
) -> None:
    notes, edges = played(
        RAISED_COSINE, STRAIGHT, wobble_db=wobble_db, fading_db_per_s=fading_db_per_s
    )
    late_s = [note.offset_s - let_go_s for note, (_, let_go_s) in zip(notes, edges, strict=True)]
    assert np.median(np.abs(late_s)) < 0.005
    assert np.max(np.abs(late_s)) < 0.015


def test_a_note_that_is_let_go_slowly_while_its_pitch_falls_is_measured_before_that() -> None:
    """A player lets the breath go for the last tenth of a second, and the pitch sinks with it."""
    time_s = np.arange(round(1.6 * RATE_HZ)) / RATE_HZ
    gone = np.clip((time_s - 1.5) / 0.1, 0.0, 1.0)
    f0_hz = 620.0 * np.exp2(-30.0 * gone / 1200.0)
    sound = 0.1 * np.sin(2 * np.pi * np.cumsum(f0_hz) / RATE_HZ) * (1.0 - gone)
    rest = np.zeros(RATE_HZ // 2)
    note = track(np.concatenate([rest, sound, rest]), RATE_HZ).notes[0]
    assert abs(cents_between(note.f0_hz, target_hz=620.0)) < 0.01
    assert note.offset_s == pytest.approx(2.0, abs=0.005)
