"""The diagnosis on simulated players whose true parts are known."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from intonation.diagnosis.diagnosing import connected, diagnose
from intonation.diagnosis.evidence import evidence_from
from intonation.diagnosis.results import PairDiagnosis
from intonation.diagnosis.store_fit import store_fit_of
from intonation.diagnosis.verdict import ANSWERS, classified
from intonation.heldnotes.row import HeldNoteRow
from tests.support.even_worlds import EVEN_WORLDS, evenly_checked
from tests.support.worlds import (
    CHROMATIC,
    NATURAL,
    USUAL,
    Sitting,
    Truth,
    checked,
    made_instrument,
    made_player,
)

BLAMES = {"instrument", "player", "both"}
Rows = list[HeldNoteRow]


def swapped(pair: PairDiagnosis, truth: Truth) -> list[int]:
    """Return the notes whose blame falls on the one who alone did not do it."""
    index = [truth.notes.index(note.midi) for note in pair.notes]
    own, player = truth.instrument_cents[index], truth.player_cents[index]
    own, player = own - own.mean(), player - player.mean()
    true = classified(own, player, tolerance_cents=8.0)
    opposite = {"instrument": ANSWERS.index("player"), "player": ANSWERS.index("instrument")}
    return [
        note.midi
        for note, answer in zip(pair.notes, true, strict=True)
        if opposite.get(note.verdict) == answer
    ]


def covered(pairs: list[tuple[PairDiagnosis, Truth]]) -> float:
    """Return how often the true parts lie in their 90 % intervals."""
    inside = []
    for pair, truth in pairs:
        for note, i, p in zip(pair.notes, truth.instrument_cents, truth.player_cents, strict=True):
            inside.append(note.instrument.low <= i <= note.instrument.high)
            inside.append(note.player.low <= p <= note.player.high)
    return float(np.mean(inside))


def test_a_standard_check_tells_player_from_instrument() -> None:
    cases = [(diagnose(rows)[0], truth) for rows, truth in (checked(300 + s) for s in range(3))]
    errors = [
        note.instrument.mean - true
        for pair, truth in cases
        for note, true in zip(pair.notes, truth.instrument_cents, strict=True)
    ]
    assert np.sqrt(np.mean(np.square(errors))) < 4.5
    assert covered(cases) > 0.82
    assert len([midi for pair, truth in cases for midi in swapped(pair, truth)]) <= 1


def test_intervals_hold_where_makers_tune_at_an_even_breath() -> None:
    cases = [evenly_checked(400 + seed, EVEN_WORLDS["even"]) for seed in range(3)]
    assert covered([(diagnose(rows)[0], truth) for rows, truth in cases]) > 0.78


def test_a_true_instrument_fault_is_found_and_named() -> None:
    rows, _ = checked(301)
    sharp = [replace(r, cents=r.cents + 35.0) if r.midi == 76 else r for r in rows]
    note = next(n for n in diagnose(sharp)[0].notes if n.midi == 76)
    assert "instrument" in note.verdict
    assert note.instrument.mean > 15.0


def test_parts_and_window_are_centred_on_the_notes_that_were_measured() -> None:
    pair = diagnose(checked(302, notes=NATURAL, passes="AB")[0])[0]
    assert np.mean([n.instrument.mean for n in pair.notes]) == pytest.approx(0.0, abs=1e-6)
    assert np.mean([n.player.mean for n in pair.notes]) == pytest.approx(0.0, abs=1e-6)
    assert pair.overall.window is not None
    assert pair.overall.window.low > 0.0
    assert {(o.low, o.high) for o in pair.overall.octaves} >= {(65, 77), (77, 89)}


def test_open_notes_are_given_the_experiment_that_gains_most_per_minute() -> None:
    notes = [note for note in diagnose(checked(303)[0])[0].notes if len(note.next) > 1]
    assert notes
    for note in notes:
        worth = [option.gain / option.seconds for option in note.next]
        assert worth == sorted(worth, reverse=True)
        assert all(0.0 < option.gain < 1.0 for option in note.next)


def without_swells(rows: Rows) -> Rows:
    return [row for row in rows if row.kind != "careful-swell"]


def without_levels(rows: Rows) -> Rows:
    return [replace(row, level_db=None) for row in rows]


def with_constant_levels(rows: Rows) -> Rows:
    return [replace(row, level_db=-30.0) for row in rows]


def with_automatic_gain(rows: Rows) -> Rows:
    return [
        replace(row, level_db=-30.0 + 0.15 * (row.level_db + 30.0))
        for row in rows
        if row.level_db is not None
    ]


def without_times(rows: Rows) -> Rows:
    return [replace(row, minutes=None, order=None) for row in rows]


def only_as_always(rows: Rows) -> Rows:
    return [row for row in rows if row.kind == "natural"]


def contradicted(rows: Rows) -> Rows:
    other = [
        replace(r, session="other", event=r.event + 9000, cents=r.cents + 30.0 * (-1) ** r.midi)
        for r in rows
    ]
    return rows + other


@pytest.mark.parametrize(
    "spoil",
    [
        without_swells,
        without_levels,
        with_constant_levels,
        with_automatic_gain,
        only_as_always,
        contradicted,
    ],
    ids=lambda f: f.__name__,
)
def test_what_cannot_be_told_is_left_open(spoil: Callable[[Rows], Rows]) -> None:
    pair = diagnose(spoil(checked(304, passes="AB")[0]))[0]
    assert not {note.verdict for note in pair.notes} & BLAMES


@pytest.mark.parametrize("spoil", [without_swells, without_levels])
def test_a_note_that_was_never_swelled_is_not_sent_for_more_plain_tones(
    spoil: Callable[[Rows], Rows],
) -> None:
    notes = diagnose(spoil(checked(304, passes="AB")[0]))[0].notes
    waiting = [note for note in notes if note.verdict != "in tune"]
    assert {note.lacks for note in waiting} == {"swell"}
    assert "natural" not in {option.experiment for note in waiting for option in note.next}


def test_days_that_contradict_each_other_widen_the_note_and_say_so() -> None:
    rows = checked(305, passes="AB")[0]

    def again(cents: float) -> Rows:
        moved = {70: cents}
        return [
            replace(r, session="other", event=r.event + 9000, cents=r.cents + moved.get(r.midi, 0))
            for r in rows
        ]

    alike, apart = (
        next(n for n in diagnose(rows + again(cents))[0].notes if n.midi == 70)
        for cents in (0.0, 25.0)
    )
    widths = [note.instrument.high - note.instrument.low for note in (alike, apart)]
    assert widths[1] > 1.4 * widths[0]
    assert (alike.lacks, apart.lacks) == (None, "agreeing days")
    assert apart.verdict == "not enough evidence"


def moved_microphone(rows: Rows) -> Rows:
    half = len(rows) // 2
    shift = dict(zip(CHROMATIC, np.random.default_rng(1).normal(6.0, 2.5, 27), strict=True))
    return rows[:half] + [
        replace(row, level_db=row.level_db + shift[row.midi])
        for row in rows[half:]
        if row.level_db is not None
    ]


def missing(rows: Rows) -> Rows:
    rng = np.random.default_rng(2)
    return [row for row in rows if row.midi % 5 and rng.random() > 0.1]


def clumsy(rows: Rows) -> Rows:
    rng = np.random.default_rng(3)
    slips = rng.random(len(rows)) < 0.05
    return [
        replace(row, cents=float(rng.choice([-180.0, 90.0, 1100.0]))) if slip else row
        for row, slip in zip(rows, slips, strict=True)
    ]


def levels_here_and_there(rows: Rows) -> Rows:
    return [row if i % 3 else replace(row, level_db=None) for i, row in enumerate(rows)]


def temperature_at_times(rows: Rows) -> Rows:
    return [replace(row, temperature_c=20.0 if i % 2 else None) for i, row in enumerate(rows)]


@pytest.mark.parametrize(
    "spoil",
    [
        moved_microphone,
        missing,
        clumsy,
        without_times,
        levels_here_and_there,
        temperature_at_times,
    ],
    ids=lambda f: f.__name__,
)
def test_trouble_at_the_music_stand_swaps_no_blame(spoil: Callable[[Rows], Rows]) -> None:
    rows, truth = checked(306)
    assert not swapped(diagnose(spoil(rows))[0], truth)


def test_one_note_alone_is_not_judged() -> None:
    rows = [row for row in checked(308)[0] if row.midi == 70]
    (note,) = diagnose(rows)[0].notes
    assert note.verdict == "not enough evidence"


def test_a_single_row_and_no_row_at_all_are_answered() -> None:
    rows, _ = checked(308)
    assert diagnose([]) == ()
    assert diagnose(rows[:1])[0].notes[0].verdict == "not enough evidence"


def test_notes_that_were_only_matched_are_neither_blamed_nor_called_in_tune() -> None:
    rows = [replace(row, kind="matched", reference=True) for row in only_as_always(checked(309)[0])]
    notes = diagnose(rows)[0].notes
    assert {note.verdict for note in notes} == {"not enough evidence"}
    assert {note.lacks for note in notes} == {"tone without reference"}


def test_a_second_player_sharpens_the_instrument_s_part() -> None:
    rng = np.random.default_rng(310)
    first, second = made_player(rng, USUAL, "pupil"), made_player(rng, USUAL, "teacher")
    instrument = made_instrument(rng, USUAL)
    rows: Rows = []
    for player in (first, second):
        sitting = Sitting(USUAL, rng, player, instrument, player.name, minutes=3.0)
        sitting.first_event = len(rows) + 1
        sitting.begin()
        for letter in "AB":
            sitting.play_pass(letter, NATURAL)
        rows += sitting.rows
    alone = diagnose([row for row in rows if row.player == "pupil"])[0]
    crossed = next(pair for pair in diagnose(rows) if pair.player == "pupil")
    widths = [
        np.mean([note.instrument.high - note.instrument.low for note in pair.notes])
        for pair in (alone, crossed)
    ]
    assert widths[1] < widths[0]


def test_rows_that_share_nobody_are_fitted_apart() -> None:
    rows = checked(311, passes="A", notes=NATURAL)[0]
    others = [replace(row, player="x", instrument="y") for row in rows]
    third = [replace(row, instrument="y") for row in rows]
    assert [len(group) for group in connected(rows + others)] == [15, 15]
    assert [len(group) for group in connected(rows + others + third)] == [45]


def test_the_store_s_sums_give_nearly_what_the_full_fit_gives() -> None:
    rows, truth = checked(312)
    full = diagnose(rows)[0]
    fit = store_fit_of(evidence_from(rows))
    parts = fit.parts_of(fit.pairs[0])
    summed, _ = parts.mixed(np.eye(27, 81))
    apart = summed - np.array([note.instrument.mean for note in full.notes])
    assert np.sqrt(np.mean(apart**2)) < 2.0
    assert np.std(summed - truth.instrument_cents) < 4.5


def test_a_fit_can_be_given_up_while_it_runs() -> None:
    class GivenUpError(Exception):
        pass

    def give_up(share: float) -> None:
        if share > 0.3:
            raise GivenUpError

    with pytest.raises(GivenUpError):
        diagnose(checked(313)[0], progress=give_up)


def test_progress_rises_to_the_end() -> None:
    seen: list[float] = []
    diagnose(checked(313)[0], progress=seen.append)
    assert seen == sorted(seen)
    assert seen[-1] == pytest.approx(1.0)
