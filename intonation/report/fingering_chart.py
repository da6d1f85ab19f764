"""The fingering chart of an instrument as lines of text, drawn with open and closed circles."""

from collections.abc import Sequence

from intonation.instruments.chart import Alternative, ChartNote
from intonation.instruments.fingering import HOLES, Fingering
from intonation.instruments.instrument import Instrument
from intonation.instruments.other_systems import other_fingerings
from intonation.language import say
from intonation.pitch.notes import note_name

CLOSED, OPEN, HALF, PINCHED = "●", "○", "◐", "◒"

LEGEND = say(
    "{closed} closed  {open} open  {half} one of the two small holes closed  {pinched} "
    "thumb pinched",
    closed=CLOSED,
    open=OPEN,
    half=HALF,
    pinched=PINCHED,
)
HOLES_HEADING = "0 │ 1 2 3 │ 4 5 6 7"
HEADING = f"{say('note'):<6} {HOLES_HEADING}"


def drawn(fingering: Fingering) -> str:
    """Return a fingering as circles: thumb, left hand, right hand."""
    signs = [_sign(fingering.mark(hole)) for hole in HOLES]
    circles = f"{signs[0]} │ {' '.join(signs[1:4])} │ {' '.join(signs[4:])}"
    return say("{circles}  foot stopped", circles=circles) if fingering.bell else circles


def _sign(mark: str) -> str:
    if mark.endswith("a"):
        return HALF
    return {"-": OPEN, "/": PINCHED}.get(mark, CLOSED)


def chart_lines(instrument: Instrument, midi: Sequence[int]) -> list[str]:
    """Return the chart of some of an instrument's notes, with alternatives and their cents.

    Parameters
    ----------
    instrument
        Whose chart.
    midi
        Sounding notes; those without an entry are left out.
    """
    lines = [HEADING]
    for note in midi:
        entry = instrument.chart_note(note)
        if entry is not None:
            lines.extend(_note_lines(note, entry, instrument.chart.name))
    return [*lines, "", LEGEND]


def _note_lines(midi: int, entry: ChartNote, system: str) -> list[str]:
    usual = f"{note_name(midi):<6} {drawn(entry.fingering)}"
    if entry.remark:
        usual = f"{usual}   {entry.remark}"
    others = (_other_line(title, note) for title, note in _others(entry, system))
    return [usual, *map(_alternative_line, entry.alternatives), *others]


def _others(entry: ChartNote, system: str) -> tuple[tuple[str, ChartNote], ...]:
    return other_fingerings(entry.step, than=system)


def _other_line(title: str, note: ChartNote) -> str:
    line = f"{'':<6} {drawn(note.fingering)}   {title}"
    return f"{line}: {note.remark}" if note.remark else line


def _alternative_line(alternative: Alternative) -> str:
    line = f"{'':<6} {drawn(alternative.fingering)}   {alternative.expected_cents:+4.0f} c"
    return f"{line}  {alternative.remark}" if alternative.remark else line


def source_lines(instrument: Instrument) -> list[str]:
    """Return where an instrument's compass and fingerings were published, each source once."""
    sources: dict[str, None] = dict.fromkeys(instrument.sources)
    for entry in instrument.chart.notes:
        sources.update(dict.fromkeys(entry.sources))
        for alternative in entry.alternatives:
            sources.update(dict.fromkeys(alternative.sources))
        for _, note in _others(entry, instrument.chart.name):
            sources.update(dict.fromkeys(note.sources))
    return [say("Source: {source}", source=source) for source in sources]
