"""The answers of the ear drills: each on disk before the next trial sounds."""

import math
from datetime import datetime
from typing import Any, get_args

from intonation.errors import StoreError
from intonation.language import say
from intonation.listening.adjustment import TunedNote
from intonation.listening.history import KeptAnswer, KeptTuning
from intonation.listening.trials import Condition, Register
from intonation.store.columns import moment_of, utc_text
from intonation.store.database import Database, Parameter


class ListeningAnswers:
    """What players have answered and tuned by ear.

    Parameters
    ----------
    database
        The file that the practice record is kept in.

    Notes
    -----
    Every method raises a `StoreError` if the file cannot be read or written. Moments come back in
    the time zone of this system.
    """

    def __init__(self, database: Database) -> None:
        self._database = database

    def add(self, player: str, answer: KeptAnswer) -> None:
        """Keep an answer; when this returns it is on the disk."""
        self._check(answer.step_cents, answer.deviation_cents)
        with self._database.writing() as connection:
            connection.execute(
                "INSERT INTO listening_answers (player, answered_at, drill, interval, register,"
                " step_cents, deviation_cents, choices, choice, right_choice)"
                " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                (
                    player,
                    utc_text(answer.answered_at),
                    *_place(answer.condition),
                    answer.step_cents,
                    answer.deviation_cents,
                    answer.choices,
                    answer.choice,
                    answer.right,
                ),
            )

    def add_tuned(self, player: str, tuning: KeptTuning) -> None:
        """Keep a note that was tuned; when this returns it is on the disk."""
        self._check(tuning.note.start_cents, tuning.note.final_cents)
        with self._database.writing() as connection:
            connection.execute(
                "INSERT INTO tuned_notes (player, tuned_at, drill, interval, register,"
                " start_cents, final_cents) VALUES (?, ?, ?, ?, ?, ?, ?)",
                (
                    player,
                    utc_text(tuning.tuned_at),
                    *_place(tuning.condition),
                    tuning.note.start_cents,
                    tuning.note.final_cents,
                ),
            )

    def answers(self, player: str, *, drill: str | None = None) -> tuple[KeptAnswer, ...]:
        """Return a player's answers, the oldest first; those of one drill if it is named."""
        found = self._read(
            "answered_at, drill, interval, register, step_cents, deviation_cents, choices, choice,"
            " right_choice FROM listening_answers",
            player,
            drill,
        )
        return tuple(_answer(*values) for values in found)

    def tuned(self, player: str, *, drill: str | None = None) -> tuple[KeptTuning, ...]:
        """Return the notes that a player has tuned, the oldest first."""
        found = self._read(
            "tuned_at, drill, interval, register, start_cents, final_cents FROM tuned_notes",
            player,
            drill,
        )
        return tuple(_tuning(*values) for values in found)

    def _read(self, columns: str, player: str, drill: str | None) -> list[tuple[Any, ...]]:
        condition, parameters = "player = ?", [player]
        if drill is not None:
            condition, parameters = "player = ? AND drill = ?", [player, drill]
        question = f"SELECT {columns} WHERE {condition} ORDER BY id"
        return self._database.read(question, parameters)

    def _check(self, *cents: float) -> None:
        if not all(map(math.isfinite, cents)):
            raise StoreError(
                say("An answer without a deviation in cents cannot be kept."),
                say("Answer the next trial."),
            )


def _place(condition: Condition) -> tuple[Parameter, ...]:
    return (condition.drill, condition.interval, condition.register)


def _condition(drill: str, interval: str | None, register: Register) -> Condition:
    known: Register = register if register in get_args(Register) else "low"
    return Condition(drill=drill, interval=interval, register=known)


def _answer(
    answered_at: str, drill: str, interval: str | None, register: Register, *rest: Any
) -> KeptAnswer:
    step_cents, deviation_cents, choices, choice, right = rest
    return KeptAnswer(
        condition=_condition(drill, interval, register),
        answered_at=_local(answered_at),
        step_cents=step_cents,
        deviation_cents=deviation_cents,
        choices=choices,
        choice=choice,
        right=right,
    )


def _tuning(
    tuned_at: str, drill: str, interval: str | None, register: Register, *cents: float
) -> KeptTuning:
    start_cents, final_cents = cents
    return KeptTuning(
        condition=_condition(drill, interval, register),
        tuned_at=_local(tuned_at),
        note=TunedNote(start_cents=start_cents, final_cents=final_cents),
    )


def _local(text: str) -> datetime:
    return moment_of(text).astimezone()
