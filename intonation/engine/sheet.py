"""Joins the sheet for the maker to the workbench: what is known of an instrument, on one page."""

from statistics import fmean

from intonation.engine.workbench import Workbench, unwatched
from intonation.errors import SettingsError
from intonation.report.maker_sheet import MakerSheet
from intonation.words.workshop import TOO_FEW_NOTES
from intonation.workshop.compass import Progress
from intonation.workshop.examining import Examination


def examined(
    bench: Workbench, player: str, instrument: str, *, progress: Progress = unwatched
) -> Examination:
    """Return what is known of an instrument.

    Raises
    ------
    SettingsError
        If too few notes are kept of it.
    """
    found = bench.examine(player, instrument, progress=progress)
    if found is None:
        raise SettingsError(f"{player}, {instrument}:", TOO_FEW_NOTES)
    return found


def sheet_of(
    bench: Workbench,
    player: str,
    instrument: str,
    *,
    note: str = "",
    progress: Progress = unwatched,
) -> MakerSheet:
    """Return the sheet for an instrument's maker.

    Parameters
    ----------
    bench
        The workbench with the record.
    player, instrument
        Whose notes, on what.
    note
        A word of the player's own.
    progress
        Called with the share that is done; an exception from it cancels.

    Raises
    ------
    SettingsError
        If too few notes are kept of it.
    """
    rows = bench.store.held_notes(player=player, instrument=instrument)
    celsius = [row.temperature_c for row in rows if row.temperature_c is not None]
    held = bench.store.sessions(player=player, instrument=instrument)
    sessions = {session.session for session in held}
    pitches = {take.a4_hz for take in bench.store.takes() if take.session in sessions}
    size = bench.recorder(instrument)
    trials = bench.trials(player, instrument)
    return MakerSheet(
        examination=examined(bench, player, instrument, progress=progress),
        written_at=bench.now(),
        a4_hz=pitches.pop() if len(pitches) == 1 else None,
        temperature_c=fmean(celsius) if celsius else None,
        size=f"{size.title}, {size.chart.title}",
        proofs=tuple(bench.prove(trial, progress=progress) for trial in trials),
        note=note,
    )
