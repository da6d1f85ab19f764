"""Today's plan: what wants practice comes, on its day, between other things, and says why."""

from datetime import UTC, date, datetime, timedelta
from itertools import pairwise

import pytest

from intonation.diagnosis.parts import Interval
from intonation.exercise.library import library
from intonation.exercise.pieces import Exercise
from intonation.habits.ear_needs import EarNeed, ear_needs_of
from intonation.habits.finding import habits_of
from intonation.habits.needs import NoteNeed, needs_of
from intonation.habits.played import PlayedNote, played_from
from intonation.habits.practice_plan import (
    LENGTHS,
    Choices,
    Step,
    another,
    choices_for,
    plan_of,
    without,
)
from intonation.instruments.library import INSTRUMENT_NAMES, instrument_named
from intonation.listening.history import KeptAnswer
from intonation.listening.trials import Condition
from intonation.practice.ear_block import known_of
from intonation.words.today import minutes_in_words, step_in_words, why_in_words
from tests.habits.test_finding import a_note

ALTO = instrument_named("alto")
TODAY = date(2031, 3, 14)
DRILLS = ("which way", "remember", "tune it")
EAR = tuple(EarNeed(drill, "new") for drill in DRILLS)
NOTES = (
    NoteNeed(midi=81, reason="off", usual=Interval(14.0, 11.0, 17.0), days_since=4),
    NoteNeed(midi=82, reason="off", usual=Interval(-9.0, -12.0, -6.0)),
    NoteNeed(midi=72, reason="unsteady", spread_cents=12.0),
)


def choices(turn: int = 0, *, notes: tuple[NoteNeed, ...] = NOTES) -> Choices:
    return choices_for(notes=notes, ear=EAR, exercises=library(), instrument=ALTO, turn=turn)


def played(cents: dict[int, float], *, days_ago: list[int], times: int = 4) -> list[PlayedNote]:
    return [
        a_note(
            value + 0.2 * again,
            midi=midi,
            sitting=place,
            day=(TODAY - timedelta(days=ago)).toordinal(),
            kind="matched",
            reference=True,
        )
        for place, ago in enumerate(sorted(days_ago, reverse=True))
        for midi, value in cents.items()
        for again in range(times)
    ]


def needed(kept: list[PlayedNote]) -> list[NoteNeed]:
    notes = played_from(kept)
    return list(needs_of(habits_of(notes), notes, instrument=ALTO, today=TODAY))


@pytest.mark.parametrize("minutes", LENGTHS)
def test_a_plan_takes_its_time_and_has_everything_in_it(minutes: int) -> None:
    plan = plan_of(choices(), minutes=minutes)
    assert sum(step.minutes for step in plan) == minutes
    kinds = [step.kind for step in plan]
    assert kinds[0] == "long tones"
    assert kinds[-1] == "melody"
    assert {"note", "ear"} <= set(kinds)
    assert len({step.choice.midi for step in plan if isinstance(step.choice, NoteNeed)}) == 2


@pytest.mark.parametrize("minutes", LENGTHS)
def test_nothing_comes_twice_in_a_row_and_what_returns_says_so(minutes: int) -> None:
    plan = plan_of(choices(), minutes=minutes)
    for step, following in pairwise(plan):
        assert step.choice != following.choice
    for place, step in enumerate(plan):
        assert step.again == any(step.choice == before.choice for before in plan[:place])


def test_the_two_notes_lie_apart() -> None:
    plan = plan_of(choices(), minutes=20)
    notes = [step.choice.midi for step in plan if isinstance(step.choice, NoteNeed)]
    assert dict.fromkeys(notes) == dict.fromkeys([81, 72])


def test_the_melody_has_the_notes_of_the_plan_and_says_which() -> None:
    for turn in range(9):
        melody = plan_of(choices(turn), minutes=20)[-1]
        assert 81 in melody.with_notes
        assert "A5" in why_in_words(melody)


def test_exercises_take_turns_from_day_to_day() -> None:
    plans = [plan_of(choices(turn), minutes=20) for turn in range(5)]
    assert len({step_in_words(plan[0]) for plan in plans}) > 1
    assert len({step_in_words(plan[2]) for plan in plans}) > 1


@pytest.mark.parametrize("name", INSTRUMENT_NAMES)
def test_every_instrument_has_a_plan_on_an_empty_record(name: str) -> None:
    instrument = instrument_named(name)
    nothing = played_from([])
    notes = needs_of(habits_of(nothing), nothing, instrument=instrument, today=TODAY)
    offered = choices_for(notes=notes, ear=EAR, exercises=library(), instrument=instrument, turn=1)
    plan = plan_of(offered, minutes=20)
    assert sum(step.minutes for step in plan) == 20
    assert {note.reason for note in notes} == {"seldom"}
    for step in plan:
        if isinstance(step.choice, NoteNeed):
            assert step.choice.midi in instrument.notes_midi


def test_the_note_that_is_furthest_off_comes_first() -> None:
    needs = needed(played({69: 2.0, 72: -11.0, 81: 19.0}, days_ago=[30, 20]))
    assert [(need.midi, need.reason) for need in needs[:2]] == [(81, "off"), (72, "off")]


def test_a_note_that_was_practised_yesterday_for_the_second_time_waits() -> None:
    """Practice comes back after 1, 3, 7 and 16 days; after two days in a row that is 3 days."""
    off = played({72: -11.0}, days_ago=[20, 12]) + played({81: 19.0}, days_ago=[2, 1])
    needs = needed([note._replace(sitting=n // 4) for n, note in enumerate(off)])
    order = [need.midi for need in needs]
    assert order.index(72) < order.index(81)
    assert next(need for need in needs if need.midi == 81).days_since == 1


def test_a_note_that_comes_out_differently_each_time_is_practised_too() -> None:
    kept = [
        a_note(22.0 * (-1) ** n, midi=72, sitting=n // 6, day=TODAY.toordinal() - 30 + n // 6)
        for n in range(36)
    ]
    assert next(need for need in needed(kept) if need.midi == 72).reason == "unsteady"


def test_another_note_takes_the_place_wherever_it_came() -> None:
    offered = choices()
    plan = plan_of(offered, minutes=20)
    changed = another(plan, 1, offered)
    before = [step.choice for step in plan]
    after = [step.choice for step in changed]
    assert after[1] == after[5] == NOTES[1]
    assert [one for place, one in enumerate(after) if place not in (1, 5)] == [
        one for place, one in enumerate(before) if place not in (1, 5)
    ]


@pytest.mark.parametrize("place", range(5))
def test_asking_for_another_goes_through_all_of_them(place: int) -> None:
    offered = choices()
    plan = plan_of(offered, minutes=10)
    seen = set()
    for _ in range(60):
        seen.add(step_in_words(plan[place]))
        plan = another(plan, place, offered)
    assert len(seen) == len(offered.of[plan[place].kind]) - (plan[place].kind == "note")


def test_a_step_can_be_left_out() -> None:
    plan = plan_of(choices(), minutes=10)
    assert without(plan, 2) == (*plan[:2], *plan[3:])


def answered(drill: str, *, days_ago: int) -> KeptAnswer:
    return KeptAnswer(
        condition=Condition(drill=drill, interval=None, register="low"),
        answered_at=datetime(2031, 3, 14, 18, tzinfo=UTC) - timedelta(days=days_ago),
        step_cents=8.0,
        deviation_cents=8.0,
        choices=2,
        choice="sharp",
        right="sharp",
    )


def test_of_the_ear_drills_the_due_one_comes_first_then_a_new_one() -> None:
    kept = [answered("remember", days_ago=1), answered("which note", days_ago=0)]
    known = known_of(kept).practised
    needs = ear_needs_of(("which way", "remember", "which note"), known, today=TODAY)
    assert [(need.drill, need.reason) for need in needs] == [
        ("remember", "due"),
        ("which way", "new"),
        ("which note", "longest ago"),
    ]


def a_step(choice: NoteNeed | EarNeed | Exercise, **others: object) -> Step:
    return Step(kind="note", minutes=2.0, choice=choice, **others)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("step", "why"),
    [
        (a_step(NOTES[0]), "It usually lies 14 cents sharp. Last practised 4 days ago."),
        (a_step(NOTES[2]), "It comes out differently each time, by 12 cents."),
        (a_step(NOTES[0], again=True), "Again, after something else"),
        (a_step(NoteNeed(midi=72, reason="seldom")), "Too little is known of it yet"),
        (a_step(EarNeed("remember", "due")), "It is due again"),
    ],
    ids=lambda _: "",
)
def test_every_step_says_why(step: Step, why: str) -> None:
    assert why_in_words(step).startswith(why)


def test_halves_of_minutes_are_written_as_halves() -> None:
    assert [minutes_in_words(m) for m in (0.5, 1.0, 1.5, 3.0)] == [
        "½ min",
        "1 min",
        "1½ min",
        "3 min",
    ]
