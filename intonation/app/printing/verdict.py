"""A verdict as print: three charts side by side with a row for every note, or as numbers."""

from collections.abc import Sequence
from dataclasses import replace

from textual.content import Content

from intonation.app import check_words, words
from intonation.app.printing.card import signed
from intonation.app.printing.inks import RULE, SOFT, STRONG, TEXT, deviation_ink
from intonation.app.printing.part_axis import PartAxis
from intonation.app.printing.workshop import wrapped
from intonation.diagnosis.parts import Interval
from intonation.diagnosis.results import NoteDiagnosis, Overall, PairDiagnosis
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.report.table import Column, table_lines
from intonation.report.verdict_table import VERDICT_COLUMNS, verdict_cells
from intonation.words.diagnosis import chance_in_words, give_or_take, overall_in_words

_NOTE, _NUMBER, _WHOSE, _MARGIN = 6, 5, 11, 4
_NUMBERS = (
    replace(VERDICT_COLUMNS[0], heading=f"  {VERDICT_COLUMNS[0].heading}"),
    *VERDICT_COLUMNS[1:],
)
_OCTAVES = (
    Column(say("octave"), numeric=False),
    Column(say("cents beyond 1200")),
    Column("", numeric=False),
)


def parts_of(note: NoteDiagnosis) -> tuple[Interval | None, Interval | None, Interval | None]:
    """Return what is drawn of a note; without a swell the player's part stands for the breath's."""
    if note.breath is None or note.habit is None:
        return note.instrument, note.player, None
    return note.instrument, note.breath, note.habit


def axis_of(pair: PairDiagnosis, *, width: int) -> PartAxis:
    """Return the axis that all three charts of a verdict share, on a page of some width."""
    room = width - _MARGIN - _NOTE - _WHOSE
    columns = room // len(check_words.PARTS) - _NUMBER - 2
    estimates = [part for note in pair.notes for part in parts_of(note) if part is not None]
    return PartAxis.fitting(estimates, width=columns - 1 + columns % 2)


def chart_heading(axis: PartAxis) -> Content:
    """Return the two lines over the charts."""
    cell = axis.width + _NUMBER + 2
    titles = "".join(f"{title:<{cell}}" for title in check_words.PARTS)
    ends = f"{words.FLAT:<{axis.width - len(words.SHARP)}}{words.SHARP}"
    scales = "".join(f"{ends:<{cell}}" for _ in check_words.PARTS)
    return Content.assemble(
        (f"  {'':<{_NOTE - 2}}{titles}{say('whose')}", STRONG),
        "\n",
        (f"{'':<{_NOTE}}{scales}", SOFT),
    )


def chart_rows(pair: PairDiagnosis, axis: PartAxis, *, marked: int) -> Content:
    """Return a row for every note, the lowest first: three marks with intervals and numbers."""
    rows = [_row(note, axis, at == marked) for at, note in enumerate(pair.notes)]
    return Content("\n").join(rows)


def chart_axes(axis: PartAxis) -> Content:
    """Return the ruled axes under the charts."""
    gap = " " * (_NUMBER + 2)
    rules = gap.join(axis.rule() for _ in check_words.PARTS)
    return Content.styled(f"{check_words.CENTS:<{_NOTE}}{rules}{gap}{check_words.BARS}", SOFT)


def _row(note: NoteDiagnosis, axis: PartAxis, marked: bool) -> Content:
    name = f"{'▸' if marked else ' '} {note_name(note.midi)}"
    pieces = [Content.styled(f"{name:<{_NOTE}}", STRONG)]
    for part in parts_of(note):
        pieces += _part(part, axis)
    pieces.append(Content.styled(check_words.WHOSE[note.verdict], _whose_ink(note)))
    line = Content.assemble(*pieces)
    return line.stylize("on $chosen") if marked else line


def _whose_ink(note: NoteDiagnosis) -> str:
    return SOFT if note.verdict in ("in tune", "not enough evidence") else STRONG


def _part(part: Interval | None, axis: PartAxis) -> list[Content]:
    if part is None:
        return [Content.styled(f"{'':<{axis.width}}{'–':>{_NUMBER}}  ", SOFT)]
    ink = deviation_ink(part.mean)
    cells = [Content.styled(mark, RULE if mark == "│" else ink) for mark in axis.mark(part)]
    return [*cells, Content.styled(f"{signed(round(part.mean)):>{_NUMBER}}  ", TEXT)]


def numbers(pair: PairDiagnosis, *, marked: int) -> Content:
    """Return every note as numbers, one of them marked."""
    _, _, *lines = _number_lines(pair, marked)
    return Content("\n").join(
        Content.styled(line, f"{TEXT} on $chosen" if at == marked else TEXT)
        for at, line in enumerate(lines)
    )


def numbers_heading(pair: PairDiagnosis) -> Content:
    """Return the heading over the numbers, and the rule under it."""
    heading, rule, *_ = _number_lines(pair, 0)
    return Content.assemble((heading, SOFT), "\n", (rule, RULE))


def _number_lines(pair: PairDiagnosis, marked: int) -> list[str]:
    rows = (_cells(note, at == marked) for at, note in enumerate(pair.notes))
    return list(table_lines(_NUMBERS, rows))


def _cells(note: NoteDiagnosis, marked: bool) -> tuple[str, ...]:
    name, *parts, _ = verdict_cells(note)
    return (f"{'▸' if marked else ' '} {name}", *parts, _whose(note))


def _whose(note: NoteDiagnosis) -> str:
    """Return the verdict in a word or two, with the probability of what it says."""
    share = chance_in_words(note.verdict, note.probabilities).removeprefix(note.verdict)
    return f"{check_words.WHOSE[note.verdict]}{share}"


def whole(pair: PairDiagnosis, also: Sequence[str], *, width: int) -> Content:
    """Return the instrument as a whole, its octaves, and what else is to be said."""
    pieces = [wrapped(overall_in_words(pair.overall), width=width), Content("")]
    pieces += _octaves(pair.overall)
    for paragraph in also:
        pieces += [Content(""), wrapped([paragraph], width=width, ink=SOFT)]
    return Content("\n").join(pieces)


def _octaves(overall: Overall) -> list[Content]:
    rows = [
        (
            f"{note_name(octave.low)}–{note_name(octave.high)}",
            give_or_take(octave.width),
            check_words.wide_or_narrow(octave.width.low, octave.width.high),
        )
        for octave in overall.octaves
    ]
    return [Content.styled(line, TEXT) for line in table_lines(_OCTAVES, rows)] if rows else []
