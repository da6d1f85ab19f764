"""Tables that no careful check would give: they are answered, whatever they hold."""

import math
from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from intonation.diagnosis.comparison import compare
from intonation.diagnosis.diagnosing import diagnose
from intonation.heldnotes.columns import KINDS
from tests.support.worlds import checked

ROWS = checked(500)[0]
ODD = {
    "level_db": st.sampled_from([None, 0.0, -200.0, 1e4, math.nan, -math.inf]),
    "minutes": st.sampled_from([None, -5.0, 0.0, 1e5, 1e200, math.nan]),
    "temperature_c": st.sampled_from([None, -40.0, 60.0, 1e200, math.inf]),
    "cents": st.sampled_from([-1200.0, 0.0, 1200.0, 1e6, -1e300, math.nan, math.inf]),
    "fingering": st.sampled_from(["thumb", "fork", "of my own"]),
    "kind": st.sampled_from(KINDS),
    "swell": st.sampled_from([None, "one for all"]),
    "session": st.sampled_from(["S1", "S2"]),
    "player": st.sampled_from(["a", "b"]),
    "instrument": st.sampled_from(["x", "y"]),
    "microphone": st.sampled_from([None, "m", "n"]),
    "midi": st.sampled_from([0, 60, 127]),
}


@settings(max_examples=15, deadline=None)
@given(st.data(), st.integers(1, 60), st.integers(0, 1000))
def test_any_table_is_answered_with_finite_numbers(
    data: st.DataObject, count: int, seed: int
) -> None:
    chosen = np.random.default_rng(seed).choice(len(ROWS), count, replace=False)
    rows = []
    for event, index in enumerate(chosen):
        names = data.draw(st.sets(st.sampled_from(sorted(ODD)), max_size=2))
        odd = {name: data.draw(ODD[name]) for name in sorted(names)}
        rows.append(replace(ROWS[index], event=event, **odd))
    for pair in diagnose(rows):
        assert math.isfinite(pair.overall.pitch.mean)
        for note in pair.notes:
            assert note.instrument.low <= note.instrument.mean <= note.instrument.high
    compare(rows, before=["S1"], after=["S2"])
