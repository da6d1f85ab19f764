"""What was measured in a recording, as values, as JSON and as a table."""

import json
import math
from array import array
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from intonation.assessment.scoring import ScoredNote
from intonation.assessment.summing_up import summed_up
from intonation.heldnotes.row import HeldNoteRow
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.pitch.tuning import Tuning
from intonation.report.cells import clock, deviation, number, signed
from intonation.report.table import Column, table_lines
from intonation.tracking.events import PitchFrame
from intonation.words.take import whole_in_words
from intonation.words.targets import tuning_in_words

VERSION = 1
"""Version of the JSON; it changes when a reader of the old one would be misled."""

_FIGURES_PER_FRAME = 4


@dataclass(frozen=True, slots=True)
class ReferenceFound:
    """The reference that sounded in the room while the recording was made.

    Parameters
    ----------
    file
        Its own recording.
    clock_ppm
        How much faster the recording's clock ran than the reference's, in parts per million; None
        if that could not be told.
    suppression_db
        By how much it was reduced; None likewise.
    """

    file: str
    clock_ppm: float | None
    suppression_db: float | None


class PitchTrack:
    """Pitch frames by the hundred thousand, packed."""

    def __init__(self) -> None:
        self._figures = array("d")

    def add(self, frame: PitchFrame) -> None:
        """Add a frame at the end."""
        f0_hz = math.nan if frame.f0_hz is None else frame.f0_hz
        self._figures.extend((frame.time_s, f0_hz, frame.harmonic_to_noise_db, frame.level_db))

    def __len__(self) -> int:
        return len(self._figures) // _FIGURES_PER_FRAME

    def __iter__(self) -> Iterator[PitchFrame]:
        for start in range(0, len(self._figures), _FIGURES_PER_FRAME):
            time_s, f0_hz, noise_db, level_db = self._figures[start : start + _FIGURES_PER_FRAME]
            yield PitchFrame(time_s, None if math.isnan(f0_hz) else f0_hz, noise_db, level_db)


@dataclass(frozen=True, slots=True, kw_only=True)
class Measurement:
    """A recording and the notes that were held in it.

    Parameters
    ----------
    file, sample_rate_hz, duration_s
        The recording.
    tuning
        What its notes were scored against.
    reference
        What sounded meanwhile; None if nothing is known to have sounded.
    notes
        Every held note that has a target, in order.
    left_out
        How many held notes had none: they are no notes of the instrument.
    track
        Every pitch frame, if it was asked for.
    """

    file: str
    sample_rate_hz: float
    duration_s: float
    tuning: Tuning
    reference: ReferenceFound | None = None
    notes: tuple[ScoredNote, ...] = ()
    left_out: int = 0
    track: PitchTrack | None = None


def json_pieces(measurement: Measurement) -> Iterator[str]:
    """Yield the measurement as JSON text, piece by piece, so that an hour needs little memory."""
    head = json.dumps(_head(measurement), ensure_ascii=False, allow_nan=False)
    yield head[:-1] + ', "notes": ['
    yield from _separated(_note_object(note) for note in measurement.notes)
    yield "]"
    if measurement.track is not None:
        yield ', "track": ['
        yield from _separated(_frame_list(frame) for frame in measurement.track)
        yield "]"
    yield "}\n"


def _separated(values: Iterable[object]) -> Iterator[str]:
    separator = "\n "
    for value in values:
        yield separator + json.dumps(value, ensure_ascii=False, allow_nan=False)
        separator = ",\n "


def _head(measurement: Measurement) -> dict[str, Any]:
    reference = measurement.reference
    return {
        "version": VERSION,
        "file": measurement.file,
        "sample_rate_hz": _plain(measurement.sample_rate_hz),
        "duration_s": round(measurement.duration_s, 4),
        "a4_hz": measurement.tuning.a4_hz,
        "temperament": measurement.tuning.name,
        "reference": reference
        and {
            "file": reference.file,
            "clock_ppm": _rounded(reference.clock_ppm, 2),
            "suppression_db": _rounded(reference.suppression_db, 1),
        },
    }


def _note_object(note: ScoredNote) -> dict[str, Any]:
    held, target = note.held, note.target
    return {
        "onset_s": round(held.onset_s, 4),
        "offset_s": round(held.offset_s, 4),
        "midi": target.midi,
        "name": note_name(target.midi),
        "f0_hz": round(held.f0_hz, 5),
        "target_hz": round(target.hz, 5),
        "cents": round(note.cents, 3),
        "standard_error_cents": _rounded(held.standard_error_cents, 4),
        "sd_cents": _rounded(held.sd_cents, 3),
        "drift_cents_per_s": _rounded(held.drift_cents_per_s, 3),
        "level_db": _rounded(held.level_db, 2),
        "cents_per_db": _rounded(held.cents_per_db, 3),
        "vibrato_hz": _rounded(held.vibrato_hz, 3),
        "vibrato_cents": _rounded(held.vibrato_cents, 3),
    }


def _frame_list(frame: PitchFrame) -> list[float | None]:
    return [
        round(frame.time_s, 4),
        _rounded(frame.f0_hz, 4),
        _rounded(frame.harmonic_to_noise_db, 1),
        _rounded(frame.level_db, 1),
    ]


def _rounded(value: float | None, places: int) -> float | None:
    """Return a figure rounded; None for what JSON cannot say."""
    return None if value is None or not math.isfinite(value) else round(value, places)


def _plain(value: float) -> float:
    return int(value) if value == int(value) else value


_COLUMNS = (
    Column(say("at")),
    Column(say("note"), numeric=False),
    Column(say("Hz")),
    Column(say("cents")),
    Column(say("± cents")),
    Column(say("spread")),
    Column(say("drift/s")),
    Column(say("level dB")),
)


def measurement_lines(measurement: Measurement) -> Iterator[str]:
    """Yield the measurement as a player reads it, line by line."""
    yield _heading(measurement)
    if measurement.reference is not None:
        yield _reference_line(measurement.reference)
    yield ""
    if not measurement.notes:
        yield say("No held note was found. A note counts when it is held for half a second or so.")
    else:
        yield from table_lines(_COLUMNS, map(_note_cells, measurement.notes))
        yield ""
        yield whole_in_words(summed_up(measurement.notes))
    if measurement.left_out:
        yield say(
            "Left out, because they are no notes of the instrument: {left_out}.",
            left_out=measurement.left_out,
        )


def _heading(measurement: Measurement) -> str:
    tuning = measurement.tuning
    return say(
        "{file}, {clock}; A4 = {a4_hz:g} Hz, {tuning}",
        file=measurement.file,
        clock=clock(measurement.duration_s),
        a4_hz=tuning.a4_hz,
        tuning=tuning_in_words(tuning.name),
    )


def _reference_line(reference: ReferenceFound) -> str:
    if reference.suppression_db is None:
        return say(
            "Reference {file}: it could not be made out in the recording.", file=reference.file
        )
    return say(
        "Reference {file}: reduced by {suppression_db} dB, clocks {clock_ppm} ppm apart.",
        file=reference.file,
        suppression_db=number(reference.suppression_db, 0),
        clock_ppm=number(reference.clock_ppm),
    )


def _note_cells(note: ScoredNote) -> tuple[str, ...]:
    held = note.held
    return (
        clock(held.onset_s),
        note_name(note.target.midi),
        f"{held.f0_hz:.2f}",
        deviation(note.cents),
        number(held.standard_error_cents, 2),
        number(held.sd_cents),
        signed(held.drift_cents_per_s),
        number(held.level_db),
    )


def held_note_rows(
    measurement: Measurement, *, player: str, instrument: str, session: str
) -> Iterator[HeldNoteRow]:
    """Yield the notes as rows of the held-note table, numbered from 1.

    Parameters
    ----------
    measurement
        What was measured.
    player, instrument, session
        Identifiers, which a recording does not know.
    """
    reference = measurement.reference is not None
    for order, note in enumerate(measurement.notes, start=1):
        held = note.held
        yield HeldNoteRow(
            event=order,
            player=player,
            instrument=instrument,
            session=session,
            midi=note.target.midi,
            kind="matched" if reference else "natural",
            order=order,
            minutes=round(held.onset_s / 60.0, 4),
            cents=round(note.cents, 3),
            level_db=_rounded(held.level_db, 2),
            sd_cents=_rounded(held.sd_cents, 3),
            drift_cents_per_s=_rounded(held.drift_cents_per_s, 3),
            reference=reference,
        )
