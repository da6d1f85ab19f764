"""A verdict and a comparison for pictures of their pages: invented, and the same for any model."""

from intonation.diagnosis.comparison import ChangeVerdict, NoteChange
from intonation.diagnosis.parts import Interval
from intonation.diagnosis.results import (
    NextExperiment,
    NoteDiagnosis,
    Octave,
    Overall,
    PairDiagnosis,
)
from intonation.diagnosis.verdict import Probabilities, Verdict
from intonation.engine.check_bench import Judged, settled_best_by_repeating

_IN_TUNE = Probabilities(in_tune=0.93, instrument=0.03, player=0.03, both=0.01)
_INSTRUMENT = Probabilities(in_tune=0.05, instrument=0.84, player=0.01, both=0.10)
_PLAYER = Probabilities(in_tune=0.04, instrument=0.02, player=0.88, both=0.06)
_UNSURE = Probabilities(in_tune=0.35, instrument=0.25, player=0.22, both=0.18)
_NEXT = (
    NextExperiment(experiment="careful-swell", gain=0.08, seconds=11.0),
    NextExperiment(experiment="another day", gain=0.12, seconds=270.0),
)

_NOTES: tuple[tuple[int, float, float, float, Verdict, Probabilities], ...] = (
    (65, -3, -2, 1, "in tune", _IN_TUNE),
    (67, 2, -19, -1, "player", _PLAYER),
    (69, 1, 2, 0, "in tune", _IN_TUNE),
    (71, -4, 1, -1, "in tune", _IN_TUNE),
    (72, -2, 0, 0, "in tune", _IN_TUNE),
    (74, 16, 2, -2, "instrument", _INSTRUMENT),
    (76, 1, -3, 1, "in tune", _IN_TUNE),
    (77, -1, 17, 0, "player", _PLAYER),
    (79, -15, -4, -2, "at least partly the instrument", _INSTRUMENT),
    (81, 0, 3, 13, "at least partly the player", _PLAYER),
    (83, 4, 5, 2, "not enough evidence", _UNSURE),
    (84, 2, 3, 0, "in tune", _IN_TUNE),
    (86, 11, 10, 4, "both", Probabilities(in_tune=0.1, instrument=0.1, player=0.1, both=0.7)),
    (88, -8, -4, 1, "not enough evidence", _UNSURE),
    (89, -34, -8, 4, "instrument", _INSTRUMENT),
)


def _around(mean: float, half: float) -> Interval:
    return Interval(mean, mean - half, mean + half)


def _note(
    midi: int,
    instrument: float,
    breath: float,
    fingers: float,
    verdict: Verdict,
    chances: Probabilities,
) -> NoteDiagnosis:
    swelled = midi != 89
    return NoteDiagnosis(
        midi=midi,
        fingering="plain",
        total=_around(instrument + breath + fingers, 5.0),
        instrument=_around(instrument, 7.0),
        player=_around(breath + fingers, 6.0),
        breath=_around(breath, 5.0) if swelled else None,
        habit=_around(fingers, 4.0) if swelled else None,
        cents_per_db=_around(4.5, 1.0) if swelled else None,
        verdict=verdict,
        probabilities=chances,
        next=_NEXT if verdict == "not enough evidence" else (),
    )


_PAIR = PairDiagnosis(
    player="wren",
    instrument="alto",
    overall=Overall(
        pitch=_around(4.0, 9.0),
        window=Interval(31.0, 24.0, 40.0),
        octaves=(
            Octave(65, 77, _around(2.0, 8.0)),
            Octave(67, 79, _around(-17.0, 9.0)),
            Octave(74, 86, _around(12.0, 9.0)),
        ),
    ),
    notes=tuple(_note(*each) for each in _NOTES),
)
KNOWN_VERDICT = Judged(
    _PAIR,
    settled_best_by_repeating(_PAIR),
    ("What is missing to tell ear, breath and instrument apart would be said here.",),
)


def _change(midi: int, cents: float, verdict: ChangeVerdict, probability: float) -> NoteChange:
    change = _around(cents, 4.0)
    return NoteChange(
        midi=midi, change=change, error_cents=2.4, verdict=verdict, probability=probability
    )


KNOWN_CHANGES = (
    _change(69, 14.0, "changed", 0.99),
    _change(70, 5.0, "cannot tell", 0.4),
    _change(72, -0.4, "unchanged", 0.02),
    _change(77, -11.0, "changed", 0.97),
    _change(81, 1.0, "unchanged", 0.04),
)
