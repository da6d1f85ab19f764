"""A size of recorder: its compass, its notation, and for each note the fingerings and shadings."""

from dataclasses import dataclass

from intonation.instruments.chart import ChartNote, FingeringChart, chart_named
from intonation.instruments.fingering import Fingering
from intonation.instruments.shading import Shading, ThumbSlit, shadings_by_step, slits_by_step


@dataclass(frozen=True, slots=True, kw_only=True)
class Instrument:
    """One size of recorder with one fingering system.

    Parameters
    ----------
    name
        What it is called: the player's own name for it, or that of its size.
    size, title
        Word by which settings and commands know its size, and words for the screen.
    lowest_midi, highest_midi
        Sounding compass in ordinary use.
    written_octaves_below
        How many octaves below its sound its part is written.
    chart
        Its fingerings by semitones above the lowest note.
    sources
        Where the compass and notation come from.
    """

    name: str
    size: str
    title: str
    lowest_midi: int
    highest_midi: int
    written_octaves_below: int
    chart: FingeringChart
    sources: tuple[str, ...]

    @property
    def notes_midi(self) -> range:
        """Every sounding note of the ordinary compass, lowest first."""
        return range(self.lowest_midi, self.highest_midi + 1)

    def chart_note(self, midi: int) -> ChartNote | None:
        """Return the chart's entry for a sounding note, or None where the chart has none."""
        step = midi - self.lowest_midi
        return self.chart.notes[step] if 0 <= step < len(self.chart.notes) else None

    def fingering(self, midi: int) -> Fingering | None:
        """Return the usual fingering of a sounding note, or None where the chart has none."""
        note = self.chart_note(midi)
        return note.fingering if note else None

    def shadings(self, midi: int) -> tuple[Shading, ...]:
        """Return the open holes worth shading on a sounding note, the highest first.

        None are known of a note that its fingering system plays otherwise than the baroque one.
        """
        known = self._is_fingered_as_modelled(midi)
        return shadings_by_step().get(midi - self.lowest_midi, ()) if known else ()

    def slit(self, midi: int) -> ThumbSlit | None:
        """Return what the thumb slit does to a sounding note, or None if that is not known."""
        known = self._is_fingered_as_modelled(midi)
        return slits_by_step().get(midi - self.lowest_midi) if known else None

    def _is_fingered_as_modelled(self, midi: int) -> bool:
        step, modelled = midi - self.lowest_midi, chart_named("baroque").notes
        fingering = self.fingering(midi)
        return fingering is not None and fingering == modelled[step].fingering

    def in_second_register(self, midi: int) -> bool:
        """Whether a sounding note is overblown over the pinched thumb hole."""
        fingering = self.fingering(midi)
        return fingering is not None and fingering.pinched

    def written_midi(self, midi: int) -> int:
        """Return the note as it stands in the part for a sounding note."""
        return midi - 12 * self.written_octaves_below
