"""Runs a recording through the tracker, block by block, and scores its held notes."""

from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from intonation.assessment.scoring import ScoredNote, Target
from intonation.assessment.targets import TargetChoice, scored
from intonation.audio.sound_files import Recording
from intonation.cli.own_files import temperament_asked_for
from intonation.errors import SettingsError
from intonation.instruments.instrument import Instrument
from intonation.language import say
from intonation.pitch.cents import cents_between
from intonation.pitch.notes import A4_MIDI, pitch_class_of
from intonation.pitch.temperaments import temperament_named
from intonation.pitch.tuning import Tuning, pure_over, tempered
from intonation.report.measurement import Measurement, PitchTrack, ReferenceFound
from intonation.tracking.events import HeldNote, PitchFrame, TrackerEvent
from intonation.tracking.reference import ReferencePartials, reference_partials_of
from intonation.tracking.tracker import Tracker

BLOCK_S = 1.0
_REFERENCE_S = 10.0
"""So much of a reference's recording tells its partials."""


@dataclass(slots=True)
class _Heard:
    """What the tracker has said so far."""

    notes: list[HeldNote]
    track: PitchTrack | None

    def take_in(self, events: list[TrackerEvent]) -> None:
        for event in events:
            if isinstance(event, HeldNote):
                self.notes.append(event)
            elif isinstance(event, PitchFrame) and self.track is not None:
                self.track.add(event)


def tuning_asked_for(name: str, *, a4_hz: float, tonic: str | None) -> Tuning:
    """Return the tuning of a temperament's name or file, or pure intervals over a tonic.

    Raises
    ------
    SettingsError
        If there is no such temperament, or a tonic is missing or out of place.
    DataFileError
        If the file of a temperament has a mistake in it.
    """
    if name == "pure":
        if tonic is None:
            raise SettingsError(
                say("Pure intervals need a note to stand on."),
                say("Give it, for example --tonic F."),
            )
        equal = tempered(temperament_named("equal"), a4_hz=a4_hz)
        return pure_over(pitch_class_of(tonic), within=equal)
    if tonic is not None and name != "just":
        raise SettingsError(
            say("The temperament {name} has no tonic.", name=name),
            say("Leave --tonic out, or use --temperament pure or just."),
        )
    chosen = temperament_asked_for(name if tonic is None else f"just-on-{tonic}")
    return tempered(chosen, a4_hz=a4_hz)


def measured(
    path: Path,
    *,
    tuning: Tuning,
    instrument: Instrument | None = None,
    reference: Path | None = None,
    with_track: bool = False,
) -> Measurement:
    """Return the held notes of a recording, each with its target.

    Parameters
    ----------
    path
        The recording; it is read in blocks, so that its length does not matter.
    tuning
        What fixes the targets.
    instrument
        Whose notes can be meant; None for any note.
    reference
        Recording of what sounded in the room meanwhile.
    with_track
        Whether every pitch frame is wanted too.

    Raises
    ------
    SoundFileError
        If a recording cannot be read or is silent.
    """
    nearest = _nearest(instrument, tuning)
    partials = None if reference is None else _partials_of(reference)
    with closing(Recording(path)) as recording:
        tracker = Tracker(recording.sample_rate_hz, reference=partials)
        heard = _Heard([], PitchTrack() if with_track else None)
        for events in _said(tracker, recording):
            heard.take_in(events)
        notes = tuple(_scored_notes(heard.notes, nearest))
        return Measurement(
            file=str(path),
            sample_rate_hz=recording.sample_rate_hz,
            duration_s=recording.duration_s,
            tuning=tuning,
            reference=None if reference is None else _found(reference, tracker),
            notes=notes,
            left_out=len(heard.notes) - len(notes),
            track=heard.track,
        )


def _said(tracker: Tracker, recording: Recording) -> Iterator[list[TrackerEvent]]:
    block = round(BLOCK_S * recording.sample_rate_hz)
    while not recording.exhausted:
        yield tracker.feed(recording.read(block))
    yield tracker.finish()


def _partials_of(reference: Path) -> ReferencePartials:
    with closing(Recording(reference)) as recording:
        samples = recording.read(round(_REFERENCE_S * recording.sample_rate_hz))
        return reference_partials_of(samples, recording.sample_rate_hz)


def _found(reference: Path, tracker: Tracker) -> ReferenceFound:
    return ReferenceFound(str(reference), tracker.clock_ppm, tracker.suppression_db)


def _nearest(instrument: Instrument | None, tuning: Tuning) -> Callable[[float], Target | None]:
    if instrument is not None:
        return TargetChoice(instrument=instrument, tuning=tuning).nearest

    def nearest(f0_hz: float) -> Target:
        near = round(A4_MIDI + cents_between(f0_hz, target_hz=tuning.a4_hz) / 100.0)
        midi = min(
            (near - 1, near, near + 1),
            key=lambda midi: abs(cents_between(f0_hz, target_hz=tuning.hz(midi))),
        )
        return Target(midi, tuning.hz(midi), None, None, tuning.name)

    return nearest


def _scored_notes(
    held_notes: list[HeldNote], nearest: Callable[[float], Target | None]
) -> Iterator[ScoredNote]:
    for held in held_notes:
        target = nearest(held.f0_hz)
        if target is not None:
            yield scored(held, target=target)
