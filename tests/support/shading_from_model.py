"""What shading and the thumb slit do to every note, computed with the acoustic model of the alto.

Run as a module it prints ``intonation/instruments/data/shading.toml``; the tests compare the two.
"""

import numpy as np

from intonation.acoustics.library import alto_geometry
from intonation.acoustics.playing import playing_frequencies_hz
from intonation.instruments.chart import FingeringChart, chart_named
from intonation.instruments.fingering import Fingering
from intonation.pitch.notes import equal_tempered_hz

COVERED = (0.1, 0.25, 1 / 3, 0.5)
NARROW, WIDE = 0.05, 0.30
HOLES_PER_NOTE = 4
ALTO_LOWEST_MIDI = 65
MODELLED_WITHIN_CENTS = 10.0

HEADER = """\
# What covering part of an open hole does to each note, in cents, and what the thumb slit does to
# the notes of the second register. Computed with the acoustic model of the invented alto in
# intonation/acoustics (tests/support/shading_from_model.py prints this file): another size or maker
# differs. A partly covered hole counts as a hole of the area left open, the model's crudest step.
# A step is a semitone above the lowest note, as in the fingering chart. Only holes that the usual
# fingering leaves open, the highest first; notes that the model cannot play are left out.
source = "computed with the acoustic model of the invented alto in intonation/acoustics"

# Share of the hole that is covered.
covered = [0.10, 0.25, 0.33, 0.50]

# The slit is 12 % open as a rule; narrow is 5 % and wide 30 % of the thumb hole.
slit_open = { narrow = 0.05, usual = 0.12, wide = 0.30 }
"""


def cents_moved(step: int, fingering: Fingering, changed: list[dict[str, float]]) -> list[float]:
    near_hz = equal_tempered_hz(ALTO_LOWEST_MIDI + step, a4_hz=440.0)
    every = [fingering.open_fractions(), *changed]
    sounding = playing_frequencies_hz(alto_geometry(), every, [near_hz] * len(every))
    return [float(c) for c in 1200.0 * np.log2(sounding[1:] / sounding[0])]


def shaded(fingering: Fingering, hole: str, covered: float) -> dict[str, float]:
    fractions = fingering.open_fractions()
    holes = [f"{hole}a", f"{hole}b"] if hole in ("6", "7") else [hole]
    return fractions | dict.fromkeys(holes, 1.0 - covered)


def shading_cents(step: int, fingering: Fingering, hole: str) -> list[float]:
    return cents_moved(step, fingering, [shaded(fingering, hole, q) for q in COVERED])


def slit_cents(step: int, fingering: Fingering) -> tuple[float, float]:
    fractions = fingering.open_fractions()
    narrow, wide = cents_moved(
        step, fingering, [fractions | {"0": NARROW}, fractions | {"0": WIDE}]
    )
    return narrow, wide


def modelled(step: int, fingering: Fingering) -> bool:
    """Whether the model plays this note where the chart has it."""
    if fingering.bell:
        return False
    near_hz = equal_tempered_hz(ALTO_LOWEST_MIDI + step, a4_hz=440.0)
    sounding = playing_frequencies_hz(alto_geometry(), [fingering.open_fractions()], [near_hz])
    return bool(abs(1200.0 * np.log2(sounding[0] / near_hz)) < MODELLED_WITHIN_CENTS)


def table(chart: FingeringChart) -> str:
    lines = [HEADER]
    for note in chart.notes:
        if not modelled(note.step, note.fingering):
            continue
        for hole in note.fingering.open_fingers[:HOLES_PER_NOTE]:
            cents = ", ".join(f"{c:.1f}" for c in shading_cents(note.step, note.fingering, hole))
            lines.append(f'[[shading]]\nstep = {note.step}\nhole = "{hole}"\ncents = [{cents}]\n')
        if note.fingering.pinched:
            narrow, wide = slit_cents(note.step, note.fingering)
            lines.append(f"[[slit]]\nstep = {note.step}\nnarrow_cents = {narrow:.1f}")
            lines.append(f"wide_cents = {wide:.1f}\n")
    return "\n".join(lines)


if __name__ == "__main__":
    print(table(chart_named("baroque")))
