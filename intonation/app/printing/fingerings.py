"""The fingering chart as print: a line for every note, and the marked note in full."""

from textual.content import Content

from intonation.app import workshop_words
from intonation.app.printing.inks import RULE, SOFT, STRONG, TEXT
from intonation.app.printing.wrapping import beside
from intonation.instruments.chart import ChartNote
from intonation.instruments.instrument import Instrument
from intonation.instruments.other_systems import other_fingerings
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.report.fingering_chart import drawn
from intonation.words.numbers import rounded

_INDENT = 28


def chart_rows(instrument: Instrument, *, marked: int) -> Content:
    """Return the usual fingering of every note, the highest first.

    Parameters
    ----------
    instrument
        Whose chart.
    marked
        Sounding note of the marked line.
    """
    rows = []
    for midi in reversed(instrument.notes_midi):
        entry = instrument.chart_note(midi)
        if entry is not None:
            others = other_fingerings(entry.step, than=instrument.chart.name)
            rows.append(_row(midi, entry, len(others), marked=midi == marked))
    return Content("\n").join(rows)


def _row(midi: int, entry: ChartNote, in_other_systems: int, *, marked: bool) -> Content:
    more = len(entry.alternatives) + in_other_systems
    others = say("   and {more} more", more=more) if more else ""
    line = Content.assemble(
        ("▸ " if marked else "  ", STRONG),
        (f"{note_name(midi):<5}", STRONG),
        (drawn(entry.fingering), TEXT),
        (others, SOFT),
    )
    return line.stylize("on $chosen") if marked else line


def note_in_full(instrument: Instrument, midi: int, *, width: int) -> Content:
    """Return the marked note with its other fingerings, other systems and sources."""
    entry = instrument.chart_note(midi)
    if entry is None:
        return Content("")
    lines = [Content.styled(f"{note_name(midi)}  {entry.fingering}  {entry.remark}", STRONG)]
    if entry.alternatives:
        lines.append(Content.styled(workshop_words.ALSO, SOFT))
    for each in entry.alternatives:
        sign = "+" if each.expected_cents > 0 else ""
        text = say(
            "{cents} cents  {remark}",
            cents=f"{sign}{rounded(each.expected_cents)}",
            remark=each.remark,
        )
        left = [Content.styled(f"  {drawn(each.fingering)}", TEXT)]
        lines += beside(left, text, indent=_INDENT, width=width, ink=TEXT)
    for title, note in other_fingerings(entry.step, than=instrument.chart.name):
        left = [Content.styled(f"  {drawn(note.fingering)}", TEXT)]
        text = f"{title}: {note.remark}" if note.remark else title
        lines += beside(left, text, indent=_INDENT, width=width, ink=TEXT)
    sources = "; ".join(entry.sources)
    lines += beside([Content.styled("", RULE)], sources, indent=0, width=width, ink=SOFT)
    return Content("\n").join(lines)
