"""What work is predicted to do to every note, as numbers beside a small chart of text."""

from collections.abc import Iterator
from math import isfinite

from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.report.cells import signed
from intonation.workshop.planning import PlannedWork

SPAN_CENTS = 30.0
"""The chart reaches this far to both sides of the middle."""

NOW, AFTER, BOTH = "○", "●", "◉"
LEGEND = say(
    "{now} now   {after} predicted   │ the middle and ±10 cents, which breath can cover",
    now=NOW,
    after=AFTER,
)
HEADING = say("note     now  moves  after")


def prediction_lines(work: PlannedWork, *, chart_width: int = 41) -> Iterator[str]:
    """Yield legend and heading, then every note with its numbers and its place on the chart.

    Parameters
    ----------
    work
        With its prediction.
    chart_width
        Width of the chart in characters.
    """
    yield LEGEND
    yield HEADING
    rows = zip(work.midi, work.before_cents, work.effect_cents, work.after_cents, strict=True)
    for midi, before, effect, after in rows:
        moves = signed(effect, 0) if isfinite(effect) else "–"
        if not isfinite(before):
            yield f"{note_name(midi):<5} {'–':>6} {moves:>6}"
            continue
        numbers = f"{signed(before, 0):>6} {moves:>6} {signed(after, 0):>6}"
        yield f"{note_name(midi):<5} {numbers}  {_placed(before, after, chart_width)}"


def _placed(before: float, after: float, width: int) -> str:
    line = [" "] * width
    for cents in (-10.0, 0.0, 10.0):
        line[_column(cents, width)] = "│"
    now, then = _column(before, width), _column(after, width)
    line[now] = NOW
    line[then] = BOTH if now == then else AFTER
    return "".join(line).rstrip()


def _column(cents: float, width: int) -> int:
    inside = min(max(cents, -SPAN_CENTS), SPAN_CENTS)
    return round((inside + SPAN_CENTS) / (2.0 * SPAN_CENTS) * (width - 1))
