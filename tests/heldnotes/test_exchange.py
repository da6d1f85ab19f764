"""The held-note table: what is written is read again, and every mistake is named."""

import csv
import io
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intonation.errors import DataFileError
from intonation.heldnotes.columns import KINDS
from intonation.heldnotes.exchange import COLUMNS, held_notes_csv, read_held_notes, rows_in
from intonation.heldnotes.row import HeldNoteRow

# The columns of the exchange format, in their published order (docs/held-notes.md).
HEADER = (
    "event,player,instrument,session,midi,fingering,kind,microphone,order,minutes,temperature_c,"
    "cents,level_db,sd_cents,drift_cents_per_s,reference,blind,previous_midi,swell,swell_step"
)
ROW = HeldNoteRow(
    event=1, player="wren", instrument="alto-1", session="monday", midi=69, cents=-3.5
)

names = st.text(min_size=1, max_size=12).filter(lambda text: bool(text.strip()))
numbers = st.floats(-1e6, 1e6)
stepped = st.tuples(names, st.integers(0, 99)) | st.tuples(st.none() | names, st.none())
rows = st.builds(
    lambda swell, **others: HeldNoteRow(swell=swell[0], swell_step=swell[1], **others),
    stepped,
    event=st.integers(0, 10**9),
    player=names,
    instrument=names,
    session=names,
    midi=st.integers(0, 127),
    fingering=names,
    kind=st.sampled_from(KINDS),
    microphone=st.none() | names,
    order=st.none() | st.integers(0, 9999),
    minutes=st.none() | st.floats(0.0, 1e5),
    temperature_c=st.none() | st.floats(-50.0, 50.0),
    cents=st.floats(-1200.0, 1200.0),
    level_db=st.none() | st.floats(-300.0, 300.0),
    sd_cents=st.none() | numbers,
    drift_cents_per_s=st.none() | numbers,
    reference=st.booleans(),
    blind=st.booleans(),
    previous_midi=st.none() | st.integers(0, 127),
)


def complaint_about(text: str) -> str:
    with pytest.raises(DataFileError) as caught:
        read_held_notes(text, file_name="pupils.csv")
    return str(caught.value)


def error_of_reading(text: str) -> DataFileError | None:
    try:
        read_held_notes(text, file_name="notes.csv")
    except DataFileError as error:
        return error
    return None


@given(st.lists(rows, max_size=6, unique_by=lambda row: row.event))
def test_rows_come_back_as_they_were_written(written: list[HeldNoteRow]) -> None:
    assert read_held_notes(held_notes_csv(written), file_name="notes.csv") == written


def test_the_header_is_the_published_one() -> None:
    assert held_notes_csv([]) == HEADER + "\n"


def test_another_csv_reader_understands_what_is_written() -> None:
    # RFC 4180 as read by Python's own csv module: quotes and commas inside a cell.
    row = replace(ROW, player='Wren, "the small"', blind=False)
    (read,) = csv.DictReader(io.StringIO(held_notes_csv([row])))
    assert read["player"] == 'Wren, "the small"'
    assert (read["blind"], read["reference"], read["microphone"]) == ("0", "0", "")


def test_columns_may_be_missing_reordered_or_unknown_to_the_table() -> None:
    text = "remark,cents,midi,session,instrument,player,event\nfine,-3.5,69,monday,alto-1,wren,1\n"
    assert read_held_notes(text, file_name="notes.csv") == [ROW]


def test_a_spreadsheets_byte_order_mark_and_line_ends_are_understood() -> None:
    text = "\ufeff" + held_notes_csv([ROW]).replace("\n", "\r\n") + "\r\n"
    assert read_held_notes(text, file_name="notes.csv") == [ROW]


@pytest.mark.parametrize(
    ("column", "cell", "expected"),
    [
        ("midi", "A4", "a MIDI note number from 0 to 127"),
        ("midi", "128", "a MIDI note number from 0 to 127"),
        ("cents", "nan", "a number of cents from -1200 to 1200"),
        ("cents", "", "a number of cents from -1200 to 1200"),
        ("cents", "3,5", "a number of cents from -1200 to 1200"),
        ("blind", "yes", "0 or 1"),
        ("kind", "melodie", "one of natural, careful"),
        ("player", " ", "a name"),
        ("level_db", "inf", "a level from -300 to 300 dB"),
        ("level_db", "1e300", "a level from -300 to 300 dB"),
        ("temperature_c", "68", "a temperature from -50 to 50 degrees Celsius"),
        ("minutes", "-5", "a number of minutes from 0"),
        ("sd_cents", "nan", "a number"),
        ("event", "1.5", "a whole number from 0"),
        ("swell_step", "-1", "a whole number from 0"),
    ],
)
def test_a_wrong_cell_is_named_by_file_row_column_and_what_was_expected(
    column: str, cell: str, expected: str
) -> None:
    (cells,) = csv.DictReader(io.StringIO(held_notes_csv([ROW])))
    text = io.StringIO()
    writer = csv.DictWriter(text, COLUMNS)
    writer.writeheader()
    writer.writerows([cells, cells | {"event": "2", column: cell}])
    complaint = complaint_about(text.getvalue())
    assert f'pupils.csv, row 3, column "{column}": "{cell}" is not {expected}' in complaint


def test_an_event_number_used_twice_names_both_rows() -> None:
    complaint = complaint_about(held_notes_csv([ROW, replace(ROW, midi=70)]))
    assert "row 3" in complaint
    assert "row 2" in complaint


def test_a_missing_column_is_named() -> None:
    assert 'no column "midi"' in complaint_about(held_notes_csv([ROW]).replace("midi", "note", 1))


@pytest.mark.parametrize(("separator", "name"), [(";", "semicolons"), ("\t", "tabs")])
def test_a_spreadsheet_s_other_separators_are_recognised(separator: str, name: str) -> None:
    assert name in complaint_about(HEADER.replace(",", separator) + "\n")


def test_a_decimal_comma_is_met_with_the_number_as_it_should_be() -> None:
    text = "event,player,instrument,session,midi,cents\n1,wren,alto-1,monday,69,"
    assert complaint_about(text + '"-3,5"\n').endswith("Write decimals with a point: -3.5.")
    assert "decimals with a point" in complaint_about(text + "-3,5\n")


def test_a_step_of_no_swell_is_refused_as_nobody_knows_what_it_is_a_step_of() -> None:
    complaint = complaint_about(held_notes_csv([replace(ROW, swell_step=2)]))
    assert 'row 2, column "swell"' in complaint


def test_blank_lines_and_blanks_about_the_header_do_no_harm() -> None:
    text = "\n" + held_notes_csv([ROW]).replace(HEADER, HEADER.replace(",", ", "))
    assert read_held_notes(text, file_name="notes.csv") == [ROW]


@pytest.mark.parametrize("text", ["", "\n\n"])
def test_an_empty_file_is_told_what_to_begin_with(text: str) -> None:
    assert HEADER.replace(",", ", ") in complaint_about(text)


def test_a_row_with_too_few_cells_is_named() -> None:
    assert "row 2: 3 cells stand under 20 columns" in complaint_about(HEADER + "\n1,wren,alto\n")


def test_a_long_table_is_read_row_by_row() -> None:
    lines = iter([HEADER + "\n", *held_notes_csv([ROW]).splitlines(keepends=True)[1:], "broken\n"])
    table = rows_in(lines, file_name="notes.csv")
    assert next(table) == ROW
    with pytest.raises(DataFileError, match="row 3"):
        next(table)


@given(
    st.lists(rows, min_size=1, max_size=3, unique_by=lambda row: row.event),
    st.data(),
)
def test_a_damaged_table_is_read_or_refused_in_one_sentence(
    written: list[HeldNoteRow], data: st.DataObject
) -> None:
    text = held_notes_csv(written)
    at = data.draw(st.integers(0, len(text)))
    gone = data.draw(st.integers(0, 9))
    put = data.draw(st.text(max_size=9) | st.sampled_from([",", '"', "\n", "\x00", "nan", ";"]))
    damaged = text[:at] + put + text[at + gone :]
    error = error_of_reading(damaged)
    if error is not None:
        assert error.sentence.startswith("notes.csv, row ")
        assert error.what_to_do
        assert "\n" not in str(error)
