"""Held notes with traces, as a player would have played them: a scoop, a sag, a slow swell."""

import math
from dataclasses import replace

from intonation.assessment.advising import advise
from intonation.engine.messages import SoundSettings, StartTake
from intonation.instruments.library import instrument_named
from intonation.practice.events import NoteScored
from intonation.practice.settings import PracticeSettings
from intonation.tracking.trace import STEP_S, PitchTrace
from tests.support.scripted_engine import ScriptedEngine


def a_trace(
    *,
    seconds: float = 2.4,
    sag_cents: float = 6.0,
    vibrato_cents: float = 0.0,
    scoop_cents: float = 35.0,
) -> PitchTrace:
    """Return the trace of a note that is scooped into, swells a little, and sags at its end."""
    times = [(place + 0.5) * STEP_S for place in range(round(seconds / STEP_S))]
    cents = [
        -scoop_cents * math.exp(-t / 0.05)
        - sag_cents * max(0.0, t / seconds - 0.5) * 2.0
        + vibrato_cents * math.sin(2.0 * math.pi * 5.0 * t)
        for t in times
    ]
    level_db = [-24.0 + 3.0 * math.sin(math.pi * t / seconds) for t in times]
    return PitchTrace(
        STEP_S,
        tuple(round(round(c / 0.05) * 0.05, 2) for c in cents),
        tuple(round(d, 1) for d in level_db),
    )


def held_against_the_drone(
    settings: PracticeSettings, *notes: tuple[int, float]
) -> list[NoteScored]:
    """Return scored notes with traces: MIDI number and cents from the target."""
    engine = ScriptedEngine(SoundSettings(), lambda _: None)
    engine.send(StartTake(settings))
    traced = []
    for place, (midi, cents) in enumerate(notes):
        event = engine.end_note(midi, cents)
        trace = a_trace(seconds=2.4, vibrato_cents=7.0 * (place % 3 == 2), sag_cents=4.0 * place)
        scored = replace(event.scored, held=replace(event.scored.held, trace=trace))
        advice = advise(scored, instrument=instrument_named(settings.instrument))
        traced.append(replace(event, scored=scored, advice=advice))
    return traced
