"""A simulated player who plays what an instrument check asks for, with faults that are known."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from intonation.diagnosis.check import AskedTone
from intonation.instruments.instrument import Instrument
from intonation.simulation.habits import Habits
from intonation.simulation.plan import PlannedNote
from intonation.simulation.player import SimulatedPlayer
from intonation.simulation.recorder import SimulatedRecorder, perfect_recorder

Samples = NDArray[np.float32]

HABITS = Habits(sag_db=0.4, wander_db=0.15)
_HABIT_CENTS = {"plain": 1.0, "fork": 2.0, "half": 2.5, "thumb": 4.0}
_ROUGH_CENTS, _ROUGH_DB, _REPEAT_DB, _REPEAT_CENTS = 2.0, 0.3, 0.3, 0.6
_INSTRUMENT_FAULTS = {9: 18.0, 14: -17.0, 21: 15.0}
_FINGER_FAULTS = {5: 16.0, 16: 19.0, 19: 17.0}
_BREATH_FAULTS_DB = {2: -3.6, 12: 3.4}
_LEFT_BY_EXACT_FINGERS = 0.2
_CAREFUL_SHARE = 0.6
_REACTION_S, _TONE_S, _SWELL_S, _AFTER_S, _SWELL_DB = 1.0, 3.2, 4.5, 0.6, 12.0
_SLIPS = 0.04
"""All invented for simulation; notes are counted in semitones from the lowest one."""


@dataclass(frozen=True, slots=True)
class CheckCase:
    """An instrument and its player with all that is wrong with either, by sounding note.

    Parameters
    ----------
    recorder
        What the instrument gives.
    fingers_cents
        What the fingers do as always; exact fingering leaves a fifth of it.
    breath_db
        Breath as always.
    """

    recorder: SimulatedRecorder
    fingers_cents: Mapping[int, float]
    breath_db: Mapping[int, float]

    def parts_cents(self, midi: int) -> tuple[float, float, float]:
        """Return the true parts of a note: instrument, breath and fingers."""
        slope = self.recorder.cents_per_db[midi]
        return (
            self.recorder.offset_cents[midi],
            slope * self.breath_db[midi],
            self.fingers_cents[midi],
        )


def check_case(instrument: Instrument, *, seed: int) -> CheckCase:
    """Return a player with clear faults of fingers and breath, on an instrument with some too."""
    rng = np.random.default_rng((seed, instrument.lowest_midi))
    notes = instrument.notes_midi
    rough = rng.normal(0.0, 1.0, (3, len(notes)))
    offsets = _with_faults(_ROUGH_CENTS * rough[0], _INSTRUMENT_FAULTS)
    fingers = _with_faults(_delicate_cents(instrument) * rough[1], _FINGER_FAULTS)
    breath = _with_faults(_ROUGH_DB * rough[2], _BREATH_FAULTS_DB)
    recorder = replace(
        perfect_recorder(instrument), offset_cents=dict(zip(notes, offsets, strict=True))
    )
    return CheckCase(
        recorder,
        dict(zip(notes, fingers, strict=True)),
        dict(zip(notes, breath, strict=True)),
    )


def careful_case(recorder: SimulatedRecorder, *, seed: int) -> CheckCase:
    """Return a recorder in the hands of a careful player, who has small habits and no faults."""
    instrument = recorder.instrument
    rng = np.random.default_rng((seed, instrument.lowest_midi, 1))
    rough = rng.normal(0.0, _CAREFUL_SHARE, (2, len(instrument.notes_midi)))
    fingers = (_delicate_cents(instrument) * rough[0]).tolist()
    breath = (_ROUGH_DB * rough[1]).tolist()
    return CheckCase(
        recorder,
        dict(zip(instrument.notes_midi, fingers, strict=True)),
        dict(zip(instrument.notes_midi, breath, strict=True)),
    )


def _delicate_cents(instrument: Instrument) -> NDArray[np.float64]:
    """Return how far habits of the fingers usually move each note."""
    fingerings = [instrument.fingering(midi) for midi in instrument.notes_midi]
    return np.array([_HABIT_CENTS[each.kind if each else "plain"] for each in fingerings])


def _with_faults(rough: NDArray[np.float64], faults: Mapping[int, float]) -> list[float]:
    """Return a value for every semitone: a fault where there is one, else what is usual."""
    return [faults.get(step, float(usual)) for step, usual in enumerate(rough)]


class CheckPlayer:
    """A source that is silent until a tone is asked for, and then plays it, mostly as asked.

    Parameters
    ----------
    case
        What is wrong.
    rng
        The only source of chance.
    a4_hz, sample_rate_hz
        Concert pitch of the instrument, and samples per second.
    patient
        Whether there is silence without end while nothing is asked for; else no sample comes.
    slips
        Share of tones that are too short or another note.
    """

    def __init__(
        self,
        case: CheckCase,
        *,
        rng: np.random.Generator,
        a4_hz: float = 440.0,
        sample_rate_hz: float = 48000.0,
        patient: bool = True,
        slips: float = _SLIPS,
    ) -> None:
        self.sample_rate_hz = sample_rate_hz
        self._case = case
        self._rng = rng
        self._a4_hz = a4_hz
        self._patient = patient
        self._slips = slips
        self._playing: SimulatedPlayer | None = None

    @property
    def exhausted(self) -> bool:
        """Never: something more may be asked for."""
        return False

    def ask(self, asked: AskedTone | None) -> None:
        """Play a tone after a moment; None: rest."""
        self._playing = None if asked is None else self._player_of(self._planned(asked))

    def read(self, frames: int) -> Samples:
        """Return what is played now, and silence after it."""
        sound = self._playing.read(frames) if self._playing else np.zeros(0, np.float32)
        if self._playing is not None and self._playing.exhausted:
            self._playing = None
        if not self._patient or sound.size == frames:
            return sound
        return np.concatenate([sound, np.zeros(frames - sound.size, np.float32)])

    def _player_of(self, planned: PlannedNote) -> SimulatedPlayer:
        return SimulatedPlayer(
            self._case.recorder,
            HABITS,
            [planned],
            rng=self._rng,
            a4_hz=self._a4_hz,
            lead_in_s=_REACTION_S,
            sample_rate_hz=self.sample_rate_hz,
        )

    def _planned(self, asked: AskedTone) -> PlannedNote:
        midi, share = asked.midi, 1.0 if asked.manner == "as always" else _LEFT_BY_EXACT_FINGERS
        slips = self._rng.uniform() < self._slips
        if slips and asked.manner == "as always":
            midi += 1 if midi + 1 in self._case.fingers_cents else -1
        swelled = asked.manner == "swelled"
        breath_db = 0.0 if swelled else self._case.breath_db[midi]
        seconds = _SWELL_S if swelled else _TONE_S
        return PlannedNote(
            midi=midi,
            sounding_s=1.0 if slips and asked.manner == "held" else seconds,
            rest_s=_AFTER_S,
            breath_db=breath_db + float(self._rng.normal(0.0, _REPEAT_DB)),
            swell_db=0.0 if not swelled else 2.0 if slips else _SWELL_DB,
            fingers_cents=share * self._case.fingers_cents[midi]
            + float(self._rng.normal(0.0, _REPEAT_CENTS)),
        )
