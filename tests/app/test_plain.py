"""The plain interface: every line is a sentence, and the same engine, words and record are used."""

import re
from collections import deque
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np

from intonation.app.plain.home import run_plain
from intonation.app.plain.inbox import Inbox, Typed
from intonation.app.plain.stand import PlainStand
from intonation.app.surroundings import Surroundings
from intonation.engine.check_bench import CheckBench
from intonation.engine.habit_record import HabitRecord
from intonation.engine.messages import (
    AskTone,
    EngineEvent,
    PlaySound,
    SoundFault,
    SoundPlayed,
    SoundSettings,
    StartMelody,
    StartTake,
    ToneHeard,
)
from intonation.errors import StoreError
from intonation.exercise.library import library
from intonation.pitch.notes import note_name
from intonation.practice.ear_choices import EarChoices
from intonation.practice.events import NoteScored
from intonation.practice.settings import PracticeSettings
from intonation.store.listening_answers import ListeningAnswers
from intonation.store.settings import RememberedSettings
from intonation.store.store import Store
from intonation.words.advice import what_to_do
from tests.app.test_check_pages import CheckStand, played
from tests.app.test_whole_check import connect as in_process
from tests.cli.running import intonation
from tests.engine.test_guided_check import clock
from tests.support.habitual_player import Practice, TrueHabits, record_of
from tests.support.long_record import keep_record
from tests.support.scripted_engine import ScriptedEngine, ScriptedSound

NOW = datetime(2031, 3, 14, 19, 0, tzinfo=UTC)
Step = str | Callable[[ScriptedEngine], object]


@dataclass(slots=True)
class Sitting:
    """A player who types the next line when the sound has nothing more to say."""

    steps: Iterable[Step]
    sound: ScriptedSound = field(default_factory=ScriptedSound)
    arrived: deque[EngineEvent] = field(default_factory=deque)
    lines: list[str] = field(default_factory=list)
    kept: list[NoteScored] = field(default_factory=list)
    remembered: list[RememberedSettings] = field(default_factory=list)
    answers: ListeningAnswers = field(
        default_factory=lambda: ListeningAnswers(Store(None).database)
    )
    refusal: StoreError | None = None
    store: Store = field(default_factory=lambda: Store(None))

    def put(self, event: EngineEvent) -> None:
        self.arrived.append(event)

    def next(self) -> Typed | EngineEvent:
        while not self.arrived:
            step = next(self.steps, None)  # type: ignore[call-overload]
            if step is None or isinstance(step, str):
                return Typed(step)
            step(self.sound.engine)
        return self.arrived.popleft()

    def keep(self, note: NoteScored) -> None:
        if self.refusal:
            raise self.refusal
        self.kept.append(note)

    def run(self, ear: EarChoices | None = None) -> str:
        """Sit through it, and return all that was said."""
        self.steps = iter(self.steps)
        surroundings = Surroundings(
            connect=self.sound,
            remember=self.remembered.append,
            begin_take=lambda _: None,
            keep=self.keep,
            end_take=lambda: None,
            ear_answers=lambda: self.answers,
            exercises_folder=Path("no-exercises"),
            checks=lambda: CheckBench(self.store, lambda: NOW),
            habits=lambda: HabitRecord(self.store, lambda: NOW),
        )
        choices = RememberedSettings(
            practice=PracticeSettings(player="wren"), ear=ear or EarChoices()
        )
        stand = PlainStand(
            surroundings, choices, sound=SoundSettings(), inbox=self, say=self.lines.append
        )
        stand.ear.rng = np.random.default_rng(3)
        assert run_plain(stand) == 0
        return "\n".join(self.lines)

    def sent(self, kind: type) -> list[object]:
        return [each for each in self.sound.engine.commands if isinstance(each, kind)]


def test_a_take_is_said_note_by_note_and_then_as_a_whole() -> None:
    sitting = Sitting(
        [
            "s",
            ScriptedEngine.your_turn,
            lambda engine: engine.end_note(81, 14.2),
            ScriptedEngine.ignore_note,
            lambda engine: engine.end_note(72, -9.4),
            "",
            "q",
        ]
    )
    said = sitting.run()
    assert "Note 1: A5, 14.2 cents sharp" in said
    assert what_to_do(sitting.kept[0].advice) in sitting.lines
    assert "too short to score" in said
    assert "A5: 14.2 cents sharp, played once" in said
    assert "Next: A5" in said
    assert len(sitting.kept) == 2


def test_nothing_is_said_while_a_note_sounds() -> None:
    sitting = Sitting(["s", ScriptedEngine.your_turn, ScriptedEngine.begin_note, ""])
    sitting.run()
    begun = sitting.lines.index("Your turn: hold a note against the drone.")
    assert sitting.lines[begun + 1].startswith("No note was held.")


def test_a_choice_is_changed_by_its_number_and_remembered() -> None:
    sitting = Sitting(["c", "2 tenor", "2 tuba", "3", "99", "2 ?", "", "s", "", "q"])
    said = sitting.run()
    assert "2. Instrument: alto." in said
    assert "Instrument: tenor." in said
    assert "! There is no instrument" in said
    assert "There is no such number here." in said
    assert sitting.remembered[-1].practice.instrument == "tenor"
    (begun,) = sitting.sent(StartTake)
    assert begun.settings.instrument == "tenor"


def test_instruments_are_named_added_and_taken_in_hand_in_plain_lines() -> None:
    named = ("i", "2 pearwood alto", "7 school tenor", "1 Pearwood Alto", "", "i", "")
    sitting = Sitting([*named, "q"])
    said = sitting.run()
    assert "Your instruments: pearwood alto, school tenor." in said
    assert "Instrument: pearwood alto." in said
    chosen = sitting.remembered[-1].practice
    assert (chosen.instrument, chosen.size) == ("pearwood alto", "alto")


def test_todays_plan_is_said_and_a_step_that_was_played_is_done() -> None:
    sitting = Sitting(
        [
            "y",
            "x 1",
            "1",
            ScriptedEngine.your_turn,
            lambda engine: engine.end_note(engine.settings.drone_midi + 12, 4.0),
            "",
            "o 2",
            "-",
            "2",
            "",
            "x 99",
            "b",
            "q",
        ]
    )
    said = sitting.run()
    assert "Too little is on record yet" in said
    first = next(line for line in sitting.lines if line.startswith("1. Hold "))
    assert "against a drone" in first
    what = first.split(". ")[1].split(",")[0]
    (begun, *_) = sitting.sent(StartTake)
    assert note_name(begun.settings.drone_midi)[:-1] in what
    assert f"1. {what}" in said
    assert any(what in line and line.endswith(": done.") for line in sitting.lines)
    assert "That is no answer here." in said
    # nothing was held in the other step, so it is not done
    assert sum(line.endswith(": done.") for line in sitting.lines[-12:]) <= 1


def test_after_five_weeks_away_the_plan_says_so_and_begins_gently() -> None:
    sitting = Sitting(["y", "b", "q"])
    rng = np.random.default_rng(2)
    record = record_of(TrueHabits(), rng, Practice(sittings=12, days=40, notes=40))
    keep_record(sitting.store, record, last_day=NOW - timedelta(days=35))
    said = sitting.run()
    assert "You last played 35 days ago: begin gently" in said
    assert said.index("35 days ago") < said.index("\n1. ")


def answer(engine: ScriptedEngine, *, off: int = 0) -> None:
    """Let the engine hear the tone that was asked for last, or one so many semitones off."""
    asked = next(c.asked for c in reversed(engine.commands) if isinstance(c, AskTone))
    assert asked is not None
    engine.heard(ToneHeard(asked.number, played(replace(asked, midi=asked.midi + off), 3.0)))


def test_a_check_says_each_note_and_what_became_of_it_and_can_be_gone_on_with() -> None:
    sitting = Sitting(
        [
            *("k", "s", ""),
            answer,
            lambda engine: answer(engine, off=2),
            *("", "", "l", "e", "s", "e", "b", "q"),
        ]
    )
    said = sitting.run()
    assert "As you always play. Breath and fingers as ever" in said
    assert "Kept." in said
    assert "That was another note." in said or "That was " in said
    assert "Paused. Enter goes on." in said
    assert "Left out." in said
    assert "was broken off after 2 of" in said
    asked = [line for line in sitting.lines if "Hold it for three seconds" in line]
    assert all(re.match(r"[A-G]#?\d, [0/-]", line) for line in asked)
    assert len(list(sitting.store.held_notes())) == 1


def test_nothing_moves_while_a_tone_of_a_check_sounds() -> None:
    sitting = Sitting(["k", "s", "", ScriptedEngine.begin_note, "e", "b", "q"])
    sitting.run()
    asked = next(i for i, line in enumerate(sitting.lines) if "Hold it for three" in line)
    assert sitting.lines[asked + 1].startswith("wren, alto: short")


def test_the_verdict_is_said_note_by_note() -> None:
    sitting = Sitting(["k", "v", "", "b", "q"])
    CheckStand(store=sitting.store).earlier_check()
    sitting.run()
    (whole,) = [line for line in sitting.lines if line.startswith("Of ")]
    count, in_tune = int(whole.split()[1]), int(whole.split()[3])
    assert sum("among the notes" in line for line in sitting.lines) == count - in_tune
    (named,) = [line for line in sitting.lines if line.startswith("In tune: ")]
    assert named.count(",") == in_tune - 1
    assert any("% of it." in line for line in sitting.lines)


def test_a_simulated_player_plays_a_pass_of_a_check_in_plain_lines() -> None:
    inbox, lines = Inbox(), []
    choosing = "s: begin the check"
    typed_after = [
        ("wren: ", "k"),
        (choosing, "c"),
        ("Enter goes back.", "4 F5 A5 D6"),
        ("Notes: F5", ""),
        (choosing, "s"),
        ("Enter begins.", ""),
        ("Enter begins.", "e"),
        (choosing, "b"),
        ("wren: ", "q"),
    ]

    def say(line: str) -> None:
        lines.append(line)
        if typed_after and typed_after[0][0] in line:
            inbox.put(Typed(typed_after.pop(0)[1]))

    with Store(None) as store:
        surroundings = Surroundings(
            connect=in_process,
            remember=lambda _: None,
            begin_take=lambda _: None,
            keep=lambda _: None,
            end_take=lambda: None,
            checks=lambda: CheckBench(store, clock()),
        )
        choices = RememberedSettings(practice=PracticeSettings(player="wren"))
        sound = SoundSettings(simulated=True, headphones=True)
        stand = PlainStand(surroundings, choices, sound=sound, inbox=inbox, say=say)
        assert run_plain(stand) == 0
        kept = list(store.held_notes())
        assert {row.midi for row in kept} == {77, 81, 86}
    assert "Without the change. " in " ".join(lines)
    assert "With the change. " in " ".join(lines)
    assert lines.count("Kept.") == len(kept) >= 3


def test_an_exercise_says_what_to_play_when_it_is_due_and_how_it_went() -> None:
    titles = [exercise.name for exercise in library()]
    number = titles.index("innsbruck") + 1
    sitting = Sitting(
        [
            "e",
            str(number),
            "t 50",
            "r 2",
            "x",
            "s",
            lambda engine: engine.note_due(0),
            lambda engine: engine.note_due(1),
            lambda engine: engine.end_phrase(0, [3, -12, 8, 1, -2, 14, 5]),
            lambda engine: engine.note_due(9),
            "",
            "",
            "",
            "q",
        ]
    )
    said = sitting.run()
    assert "50 beats a minute" in said
    assert "That is no answer here." in said
    assert said.count("Play phrase 1 of") == 1
    assert "Play phrase 2 of" in said
    assert "notes heard, within" in said
    (begun,) = sitting.sent(StartMelody)
    assert begun.rounds == 2


def test_an_ear_drill_asks_keeps_the_answer_and_tells() -> None:
    over: Step = lambda engine: engine.heard(SoundPlayed())  # noqa: E731
    sitting = Sitting(["l", "", over, "7", "1", "", "e", "b", "q"])
    said = sitting.run()
    assert "Is the tone sharp or flat of where it should be?" in said
    assert "1 flat, 2 sharp." in said
    assert "Type the number of your answer." in said
    assert len(sitting.answers.answers("wren")) == 1
    assert "1 answer, too few to tell." in said
    assert len(sitting.sent(PlaySound)) == 2


def test_a_note_is_tuned_with_signs_and_told_only_afterwards() -> None:
    ear = EarChoices(drill="tune it", interval="octave", register="low")
    sitting = Sitting(["l", "", "++", "-", "", "e", "b", "q"])
    said = sitting.run(ear)
    before, after = said.split("octave, low register.", 1)
    assert "cents" not in before.split("Turn the upper note")[1]
    assert "cents" in after
    assert len(sitting.answers.tuned("wren")) == 1


def test_a_fault_of_the_sound_ends_the_take_with_what_to_do() -> None:
    sound = ScriptedSound(fault=SoundFault("There is no microphone.", "Plug it in.", fatal=True))
    said = Sitting(["s", "q"], sound=sound).run()
    assert "! There is no microphone. Plug it in." in said
    assert said.endswith("Goodbye.")


def test_a_record_that_refuses_is_said_and_the_take_goes_on() -> None:
    refusal = StoreError("The disk is full.", "Free some space.")
    steps: list[Step] = ["s", lambda engine: engine.end_note(81, 4.0), "", "q"]
    said = Sitting(steps, refusal=refusal).run()
    assert "! The disk is full. Free some space." in said
    assert "Note 1: A5" in said


def test_it_opens_without_a_terminal_and_ends_when_no_more_is_typed(tmp_path: Path) -> None:
    done = intonation("practise", "--plain", home=tmp_path)
    assert done.returncode == 0
    assert done.stdout.startswith("intonation in plain lines.")
    assert done.stdout.endswith("Goodbye.\n")
    assert done.stderr == ""


def test_nothing_is_imported_that_draws() -> None:
    import subprocess
    import sys

    code = "import sys, intonation.app.plain.home, intonation.app.plain.ear; " + (
        "import intonation.app.plain.exercises; print('textual' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
