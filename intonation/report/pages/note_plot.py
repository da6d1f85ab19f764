"""Notes on a common cents axis: where each lies, with its interval, or of several players."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from intonation.diagnosis.parts import Interval
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.report.cells import deviation, signed
from intonation.report.pages.cents_scale import CentsScale, span_for
from intonation.report.pages.drawing import WIDTH, Drawing, deviation_ink, diamond
from intonation.report.pages.paper import INK, SOFT
from intonation.report.player_table import MOST_COMPARED
from intonation.words.numbers import rounded

_LEFT, _BESIDE, _ROW, _TOP, _BELOW = 52.0, 150.0, 19.0, 10.0, 34.0
_LEGEND, _NUMBER = 20.0, 30.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PlottedNote:
    """A note on the axis.

    Parameters
    ----------
    midi, cents
        Which note, and where it lies.
    interval
        Its 90 % interval; None where it is not known.
    """

    midi: int
    cents: float
    interval: Interval | None = None


def note_plot(notes: Sequence[PlottedNote], *, title: str) -> Drawing:
    """Return notes one above the other, the highest on top."""
    ordered = sorted(notes, key=lambda note: -note.midi)
    told = "; ".join(_told(note) for note in ordered)
    drawing, scale = _sheet(
        [note.midi for note in ordered],
        span_for(_reached(ordered)),
        title=title,
        told=say("Cents from the target, the highest note first. {told}.", told=told),
    )
    for place, note in enumerate(ordered):
        _put(drawing, scale, _y(place), note)
    return drawing


def compared_plot(series: Mapping[str, Mapping[int, float]], *, title: str) -> Drawing:
    """Return the notes of several players, or days, on one axis, each with a mark of its own.

    Parameters
    ----------
    series
        By name, the cents of every note; at most as many as there are marks.
    """
    midi = sorted({note for cents in series.values() for note in cents}, reverse=True)
    every = [cents for of in series.values() for cents in of.values()]
    told = " ".join(f"{name}: {_listed(of)}." for name, of in series.items())
    drawing, scale = _sheet(midi, span_for(every), title=title, told=told, above=_LEGEND)
    for number, (name, of) in enumerate(series.items()):
        x = _LEFT + number * (WIDTH - _LEFT) / max(len(series), 5)
        put_mark(drawing, number, (x + 6.0, 9.0))
        drawing.text(_short(name), (x + 16.0, 13.0))
        for place, note in enumerate(midi):
            if note in of:
                put_mark(drawing, number, (scale.x(of[note]), _y(place, _LEGEND)))
        _numbers(drawing, of, midi, WIDTH - _NUMBER * (len(series) - 1 - number))
    return drawing


def _numbers(drawing: Drawing, of: Mapping[int, float], midi: Sequence[int], x: float) -> None:
    """Print a column of numbers beside the axis."""
    for place, note in enumerate(midi):
        at = (x, _y(place, _LEGEND) + 4.0)
        drawing.text(signed(of.get(note), 0), at, ink=SOFT, anchor="end")


def put_mark(drawing: Drawing, number: int, centre: tuple[float, float]) -> None:
    """Draw the mark of a series: its shape tells it from the others, not its ink."""
    x, y = centre
    match number % MOST_COMPARED:
        case 0:
            drawing.ring(centre, 4.0, filled=False)
        case 1:
            drawing.outline(diamond(centre, 5.0))
        case 2:
            drawing.outline([(x - 4, y + 4), (x + 4, y + 4), (x, y - 4)], filled=False)
        case 3:
            drawing.outline([(x - 3.5, y - 3.5), (x + 3.5, y - 3.5), (x + 3.5, y + 3.5),
                             (x - 3.5, y + 3.5)])  # fmt: skip
        case 4:
            drawing.outline([(x - 4, y - 4), (x + 4, y - 4), (x, y + 4)])
        case _:
            drawing.line((x - 4, y - 4), (x + 4, y + 4), ink=INK, wide=1.6)
            drawing.line((x - 4, y + 4), (x + 4, y - 4), ink=INK, wide=1.6)


def _sheet(
    midi: Sequence[int], span_cents: float, *, title: str, told: str, above: float = 0.0
) -> tuple[Drawing, CentsScale]:
    """Return a sheet with names at the left and the axis under them."""
    bottom = above + _TOP + _ROW * len(midi)
    drawing = Drawing(WIDTH, bottom + _BELOW, title=title, told=told)
    scale = CentsScale(_LEFT, WIDTH - _BESIDE, span_cents)
    scale.rule(drawing, top=above + _TOP - 4.0, bottom=bottom)
    for place, note in enumerate(midi):
        drawing.text(note_name(note), (0.0, _y(place, above) + 4.0), strong=True)
    return drawing, scale


def _put(drawing: Drawing, scale: CentsScale, y: float, note: PlottedNote) -> None:
    ink = deviation_ink(note.cents)
    if note.interval is not None:
        low, high = scale.x(note.interval.low), scale.x(note.interval.high)
        drawing.line((low, y), (high, y), ink=ink, wide=1.6)
        for end in (low, high):
            drawing.line((end, y - 3.5), (end, y + 3.5), ink=ink, wide=1.2)
    drawing.outline(diamond((scale.x(note.cents), y), 4.6), ink=ink)
    drawing.text(deviation(note.cents).strip(), (WIDTH - _BESIDE + 16.0, y + 4.0), ink=ink)
    drawing.text(_give_or_take(note), (WIDTH, y + 4.0), ink=SOFT, anchor="end")


def _give_or_take(note: PlottedNote) -> str:
    if note.interval is None:
        return ""
    return f"± {rounded((note.interval.high - note.interval.low) / 2.0, 1)}"


def _reached(notes: Sequence[PlottedNote]) -> list[float]:
    return [note.cents for note in notes]


def _y(place: int, above: float = 0.0) -> float:
    return above + _TOP + _ROW * (place + 0.5)


def _told(note: PlottedNote) -> str:
    text = f"{note_name(note.midi)} {deviation(note.cents).strip()}"
    if note.interval is None:
        return text
    return say(
        "{text} ({low} to {high})",
        text=text,
        low=signed(note.interval.low),
        high=signed(note.interval.high),
    )


def _listed(cents: Mapping[int, float]) -> str:
    return ", ".join(f"{note_name(midi)} {signed(cents[midi])}" for midi in sorted(cents))


def _short(name: str) -> str:
    return name if len(name) <= 16 else f"{name[:15]}…"
