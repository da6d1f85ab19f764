"""One held note over time as a printed drawing: cents about its target, the breath beneath."""

from collections.abc import Sequence
from math import ceil

from intonation.assessment.course import course_of, held_part
from intonation.heldnotes.traced_note import TracedNote
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.report.cells import deviation, signed
from intonation.report.pages.cents_scale import WINDOW_CENTS
from intonation.report.pages.drawing import Drawing, deviation_ink
from intonation.report.pages.paper import FAINT, INK, RULE, SOFT, WINDOW
from intonation.words.trace import NO_TRACE, TOO_SHORT, course_in_words

WIDE, HIGH = 230.0, 150.0
_LEFT, _TOP, _CURVE, _GAP, _BREATH = 30.0, 22.0, 84.0, 8.0, 18.0
_SPANS = (15.0, 30.0, 60.0, 120.0)
_LEVEL_SPAN_DB = 12.0


def trace_plot(note: TracedNote) -> Drawing:
    """Return the drawing of one note."""
    name = f"{note_name(note.midi)}, {deviation(note.cents).strip()}"
    drawing = Drawing(
        WIDE,
        HIGH,
        title=say("Note {number}: {name}", number=note.number, name=name),
        told=_told(note),
    )
    drawing.text(f"{note.number}", (0.0, 11.0), ink=SOFT)
    drawing.text(name, (_LEFT, 11.0), ink=deviation_ink(note.cents), strong=True)
    span = _span(note)
    _ruled(drawing, span)
    if note.trace is not None:
        _curve(drawing, note, span)
        _breath(drawing, note)
        _times(drawing, note)
    return drawing


def _told(note: TracedNote) -> str:
    course = course_of(note)
    if course is None:
        return NO_TRACE if note.trace is None else TOO_SHORT
    return course_in_words(course)


def _span(note: TracedNote) -> float:
    points = held_part(note.trace, note.off_target_cents) if note.trace else []
    farthest = max(map(abs, [*points, note.cents]))
    return next((span for span in _SPANS if farthest <= span), _SPANS[-1])


def _y(cents: float, span: float) -> float:
    inside = min(max(cents, -span), span)
    return _TOP + (span - inside) / (2.0 * span) * _CURVE


def _ruled(drawing: Drawing, span: float) -> None:
    drawing.area((_LEFT, _y(WINDOW_CENTS, span)), (WIDE, _y(-WINDOW_CENTS, span)), ink=WINDOW)
    tick = 10.0 if span < 30.0 else span * 2.0 / 3.0
    for cents in (-tick, 0.0, tick):
        ink, wide = (INK, 0.9) if cents == 0.0 else (FAINT, 0.6)
        drawing.line((_LEFT, _y(cents, span)), (WIDE, _y(cents, span)), ink=ink, wide=wide)
        at = (_LEFT - 4.0, _y(cents, span) + 4.0)
        drawing.text(signed(cents, 0), at, ink=SOFT, anchor="end")


def _curve(drawing: Drawing, note: TracedNote, span: float) -> None:
    """Draw the pitch; where it is not known the line is interrupted."""
    stretch: list[tuple[float, float]] = []
    for x, cents in zip(_places(note), note.off_target_cents, strict=True):
        if cents is None:
            drawing.path(stretch, ink=deviation_ink(note.cents))
            stretch = []
        else:
            stretch.append((x, _y(cents, span)))
    drawing.path(stretch, ink=deviation_ink(note.cents))


def _places(note: TracedNote) -> list[float]:
    count = len(note.trace.cents) if note.trace else 0
    return [_LEFT + (place + 0.5) / count * (WIDE - _LEFT) for place in range(count)]


def _breath(drawing: Drawing, note: TracedNote) -> None:
    levels: Sequence[float | None] = note.trace.level_db if note.trace else ()
    known = [level for level in levels if level is not None]
    if not known:
        return
    bottom, loudest = _TOP + _CURVE + _GAP + _BREATH, max(known)
    drawing.line((_LEFT, bottom), (WIDE, bottom), ink=RULE)
    drawing.text("dB", (_LEFT - 4.0, bottom), ink=SOFT, anchor="end")
    drawing.path(
        [
            (x, bottom - max(0.0, 1.0 - (loudest - level) / _LEVEL_SPAN_DB) * _BREATH)
            for x, level in zip(_places(note), levels, strict=True)
            if level is not None
        ],
        ink=SOFT,
    )


def _times(drawing: Drawing, note: TracedNote) -> None:
    seconds = len(note.trace.cents) * note.trace.step_s if note.trace else 0.0
    each_s = next((s for s in (1, 2, 5, 10, 30, 60, 120) if seconds / s <= 6.0), 600)
    bottom = _TOP + _CURVE + _GAP + _BREATH
    for moment_s in range(0, ceil(seconds), each_s):
        x = _LEFT + moment_s / seconds * (WIDE - _LEFT)
        drawing.line((x, bottom), (x, bottom + 3.0))
        drawing.text(f"{moment_s} s", (x, bottom + 14.0), ink=SOFT)
