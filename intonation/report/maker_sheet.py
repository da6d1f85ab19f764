"""One printable page about an instrument for its maker, complete in one HTML file."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from html import escape

from intonation.diagnosis.parts import Interval
from intonation.language import language_code, name_in_words, say
from intonation.pitch.notes import note_name
from intonation.words.causes import NOT_TOLD_APART, cause_line
from intonation.words.diagnosis import give_or_take, overall_in_words
from intonation.words.numbers import rounded
from intonation.words.proof import proof_in_words, trial_line
from intonation.words.workshop import model_in_words
from intonation.workshop.examining import Examination
from intonation.workshop.proof import Proof

_SPAN_CENTS = 40.0
_ROW, _LEFT, _WIDTH = 11, 34, 300
_CAUSES = 3

_STYLE = """
@page { size: A4; margin: 14mm }
body { font: 10pt/1.35 Georgia, serif; color: #222; max-width: 182mm; margin: auto }
h1 { font-size: 15pt; border-bottom: 1px solid #999 } h2 { font-size: 11pt; margin: 1em 0 .2em }
table { border-collapse: collapse; font-size: 9pt } td, th { padding: 0 .7em 0 0; text-align: left }
td.number { text-align: right } .beside { display: flex; gap: 8mm } p { margin: .2em 0 }
svg text { font: 8px Georgia, serif } .soft { color: #666 }
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class MakerSheet:
    """What a maker wants to know.

    Parameters
    ----------
    examination
        Offsets and likely causes.
    written_at
        Date of the sheet.
    a4_hz
        Concert pitch that the offsets are counted from; None if the record does not tell.
    temperature_c
        Mean room temperature; None if unknown.
    size
        Size and chart in words.
    proofs
        Every trial with what it did.
    note
        The player's own words.
    """

    examination: Examination
    written_at: datetime
    a4_hz: float | None
    temperature_c: float | None
    size: str
    proofs: tuple[Proof, ...] = ()
    note: str = ""


def maker_sheet_html(sheet: MakerSheet) -> str:
    """Return the page; everything that a user has typed is escaped."""
    title = escape(say("{instrument}: intonation", instrument=sheet.examination.instrument))
    return "".join(
        (
            f'<!DOCTYPE html>\n<html lang="{language_code()}"><head><meta charset="utf-8">',
            f"<title>{title}</title><style>{_STYLE}</style></head><body>",
            f"<h1>{title}</h1>",
            *_head(sheet),
            '<div class="beside"><div>',
            _heading(say("Notes, cents from their mean")),
            _chart(sheet.examination),
            "</div><div>",
            _octaves(sheet.examination),
            "</div></div>",
            _heading(say("What a model makes of it")),
            *_paragraphs(_causes(sheet.examination)),
            _heading(say("What was tried")),
            *_tried(sheet.proofs),
            "</body></html>\n",
        )
    )


def _heading(text: str) -> str:
    return f"<h2>{escape(text)}</h2>"


def _paragraphs(sentences: Iterable[str]) -> Iterator[str]:
    return (f"<p>{escape(sentence)}</p>" for sentence in sentences)


def _head(sheet: MakerSheet) -> Iterator[str]:
    found = sheet.examination
    room = say("not known") if sheet.temperature_c is None else f"{rounded(sheet.temperature_c)} °C"
    pitch = say("not known") if sheet.a4_hz is None else f"A4 = {sheet.a4_hz:g} Hz"
    yield from _paragraphs(
        (
            say(
                "{size}. Played by {player}; sheet of {day:%Y-%m-%d}.",
                size=name_in_words(sheet.size),
                player=found.player,
                day=sheet.written_at,
            ),
            say(
                "Concert pitch {pitch}; room {room}; {count} notes measured. Intervals are 90 %; "
                "the player's breath, fingers and warm-up are taken out.",
                pitch=pitch,
                room=room,
                count=len(found.offsets.midi),
            ),
            *overall_in_words(found.offsets.overall),
            *((sheet.note,) if sheet.note else ()),
        )
    )


def _chart(found: Examination) -> str:
    """Return a drawing: a line for each note, its interval as a bar, its offset as a dot."""
    notes = list(zip(found.offsets.midi, found.offsets.intervals(), strict=True))
    height = _ROW * (len(notes) + 2)
    grid = (
        f'<line x1="{_x(c):.1f}" x2="{_x(c):.1f}" y1="8" y2="{height - 14}" stroke="#bbb" '
        f'stroke-width="{1.2 if c == 0 else 0.5}"/>'
        f'<text x="{_x(c):.1f}" y="{height - 4}" text-anchor="middle">{rounded(c)}</text>'
        for c in (-40.0, -20.0, -10.0, 0.0, 10.0, 20.0, 40.0)
    )
    rows = (_chart_row(i, midi, span) for i, (midi, span) in enumerate(reversed(notes)))
    width = _LEFT + _WIDTH + 60
    return (
        f'<svg width="{width}" height="{height}" viewBox="0 0 {width} {height}" role="img">'
        f"{''.join(grid)}{''.join(rows)}</svg>"
    )


def _x(cents: float) -> float:
    inside = min(max(cents, -_SPAN_CENTS), _SPAN_CENTS)
    return _LEFT + (inside + _SPAN_CENTS) / (2.0 * _SPAN_CENTS) * _WIDTH


def _chart_row(place: int, midi: int, span: Interval) -> str:
    y = _ROW * (place + 1) + 5
    return (
        f'<text x="0" y="{y + 3}">{note_name(midi)}</text>'
        f'<line x1="{_x(span.low):.1f}" x2="{_x(span.high):.1f}" y1="{y}" y2="{y}" '
        'stroke="#888" stroke-width="3"/>'
        f'<circle cx="{_x(span.mean):.1f}" cy="{y}" r="2.6"/>'
        f'<text x="{_LEFT + _WIDTH + 12}" y="{y + 3}">{escape(give_or_take(span))}</text>'
    )


def _octaves(found: Examination) -> str:
    rows = "".join(
        f"<tr><td>{note_name(o.low)}–{note_name(o.high)}</td>"
        f'<td class="number">{escape(give_or_take(o.width))}</td></tr>'
        for o in found.offsets.overall.octaves
    )
    return f"{_heading(say('Octaves, cents too wide'))}<table>{rows}</table>"


def _causes(found: Examination) -> Iterator[str]:
    yield from (cause_line(entry) for entry in found.ranked[:_CAUSES])
    yield NOT_TOLD_APART
    yield model_in_words(found.compass.geometry)


def _tried(proofs: Sequence[Proof]) -> Iterator[str]:
    if not proofs:
        yield from _paragraphs([say("Nothing yet.")])
    for proof in proofs:
        yield f"<p><b>{escape(trial_line(proof.trial))}</b></p>"
        yield from _paragraphs(proof_in_words(proof))
        changed = [note for note in proof.notes if note.measured.verdict == "changed"]
        moved = ", ".join(
            f"{note_name(note.measured.midi)} {give_or_take(note.measured.change)}"
            for note in changed
        )
        yield from _paragraphs([say("Changed, in cents: {moved}.", moved=moved)] if moved else [])
