"""A melody inside the engine: the backing goes its way, and each phrase is scored after it."""

from collections.abc import Iterable
from dataclasses import replace
from typing import TypeGuard

import numpy as np

from intonation.assessment.melody import MelodyScore, score_melody
from intonation.audio.sources import Samples
from intonation.engine.connections import Connection
from intonation.engine.messages import (
    EngineEvent,
    MelodyEnded,
    NoteDue,
    PhraseScored,
    StartMelody,
)
from intonation.exercise.score import LEVELS_DB, ReferenceTone, Score
from intonation.synth.tones import Tone
from intonation.tracking.events import HeldNote, TrackerEvent
from intonation.tracking.tracker import Tracker

SETTLED_S = 0.7
"""How long after a phrase its last note has surely been reported by the tracker."""


_Due = NoteDue | tuple[int, int]
"""What comes at a time: a note, or a round and its phrase that can be scored."""


class MelodyTake:
    """From the count-in of a melody to its score.

    Parameters
    ----------
    score
        The exercise.
    rounds
        How often it is played.
    sample_rate_hz
        Rate of what will be heard.
    latency_s
        How much later than it is rendered a sound comes back through the microphone.
    """

    def __init__(
        self, score: Score, *, rounds: int, sample_rate_hz: float, latency_s: float
    ) -> None:
        self._score = score
        self._spans = {span.number: span for span in score.phrases}
        self._rounds = rounds
        self._sample_rate_hz = sample_rate_hz
        self._latency_s = latency_s
        self._tracker = Tracker(sample_rate_hz)
        self._heard_samples = 0
        self._held: list[HeldNote] = []
        self._due = _by_time(score, rounds)

    @classmethod
    def begun(
        cls, command: StartMelody, connection: Connection, *, latency_s: float
    ) -> "MelodyTake":
        """Start the backing, begin to listen, and return the take.

        Raises
        ------
        SettingsError
            If the voice is unknown or a tone cannot be sounded.
        """
        connection.synth.set_loudness(command.settings.loudness_db)
        connection.begin_take(command.settings, command.score)
        connection.synth.start(
            backing(command.score, rounds=command.rounds, voice=command.settings.voice)
        )
        return cls(
            command.score,
            rounds=command.rounds,
            sample_rate_hz=connection.sample_rate_hz,
            latency_s=latency_s,
        )

    @property
    def over(self) -> bool:
        """Whether the last round has been played and scored."""
        return self._now_s > self._rounds * self._score.duration_s + SETTLED_S

    @property
    def suppression_db(self) -> float | None:
        """Always None: a reference that changes with every chord cannot be learned."""
        return None

    @property
    def _now_s(self) -> float:
        return self._heard_samples / self._sample_rate_hz - self._latency_s

    def reveal(self, _shown: bool) -> None:
        """Do nothing: a melody is looked at after the phrase, not during it."""

    def hear(self, samples: Samples) -> list[EngineEvent]:
        """Take in samples."""
        self._heard_samples += samples.size
        self._hold(self._tracker.feed(samples))
        events: list[EngineEvent] = []
        while self._due and self._due[0][0] <= self._now_s:
            events.append(self._happened(self._due.pop(0)[1]))
        return events

    def ended(self) -> list[EngineEvent]:
        """Finish the note that still sounds, score every phrase that was begun, and sum up."""
        self._hold(self._tracker.finish())
        phrases = [self._phrase_scored(*due) for _, due in self._due if self._has_begun(due)]
        begun = min(self._rounds, int(max(0.0, self._now_s) // self._score.duration_s) + 1)
        rounds = tuple(self._round_score(number) for number in range(begun))
        return [*phrases, MelodyEnded(rounds)]

    def _hold(self, heard: Iterable[TrackerEvent]) -> None:
        self._held += [
            replace(
                event,
                onset_s=event.onset_s - self._latency_s,
                offset_s=event.offset_s - self._latency_s,
            )
            for event in heard
            if isinstance(event, HeldNote)
        ]

    def _happened(self, due: _Due) -> EngineEvent:
        return due if isinstance(due, NoteDue) else self._phrase_scored(*due)

    def _has_begun(self, due: _Due) -> TypeGuard[tuple[int, int]]:
        if isinstance(due, NoteDue):
            return False
        round_number, phrase = due
        begin_s = round_number * self._score.duration_s + self._spans[phrase].start_s
        return begin_s < self._now_s

    def _phrase_scored(self, round_number: int, phrase: int) -> PhraseScored:
        notes = [note for note in self._score.notes if note.phrase == phrase]
        span = self._spans[phrase]
        held = self._held_in(round_number, span.start_s, span.end_s)
        return PhraseScored(phrase, round_number, score_melody(notes, held))

    def _round_score(self, number: int) -> MelodyScore:
        """Return a round's score: the count-in, which a microphone may hear too, is no playing."""
        begin_s, end_s = self._score.count_in_s, self._score.duration_s
        return score_melody(self._score.notes, self._held_in(number, begin_s, end_s))

    def _held_in(self, round_number: int, start_s: float, end_s: float) -> list[HeldNote]:
        """Return the notes whose middle lies in a stretch of a round, in the round's own time."""
        back_s = round_number * self._score.duration_s
        shifted = (
            replace(note, onset_s=note.onset_s - back_s, offset_s=note.offset_s - back_s)
            for note in self._held
        )
        return [
            note
            for note in shifted
            if start_s <= (note.onset_s + note.offset_s) / 2.0 < end_s + SETTLED_S / 2.0
        ]


def backing(score: Score, *, rounds: int, voice: str) -> list[tuple[float, tuple[Tone, ...]]]:
    """Return what the sequencer has to sound for all rounds of a score."""
    return [
        (round_number * score.duration_s + sounding.start_s, tones_of(sounding.tones, voice=voice))
        for round_number in range(rounds)
        for sounding in score.soundings()
    ]


def tones_of(tones: Iterable[ReferenceTone], *, voice: str) -> tuple[Tone, ...]:
    """Return tones for the synthesiser; of several at one frequency only the loudest."""
    levels_db: dict[float, float] = {}
    for tone in tones:
        levels_db[tone.hz] = max(levels_db.get(tone.hz, -np.inf), LEVELS_DB[tone.role])
    return tuple(Tone(hz, level_db, voice) for hz, level_db in sorted(levels_db.items()))


def _by_time(score: Score, rounds: int) -> list[tuple[float, _Due]]:
    notes: list[tuple[float, _Due]] = [
        (at_s := number * score.duration_s + note.start_s, NoteDue(note.number, number, at_s))
        for number in range(rounds)
        for note in score.notes
    ]
    phrases: list[tuple[float, _Due]] = [
        (number * score.duration_s + span.end_s + SETTLED_S, (number, span.number))
        for number in range(rounds)
        for span in score.phrases
    ]
    return sorted(notes + phrases, key=lambda each: each[0])
