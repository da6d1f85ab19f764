"""A player with a faulty alto is led from measurement to cause, prediction, trial and proof.

The player and the instrument are invented. What is played goes through the real engine, tracker,
check and record, and what is done in a trial changes what is played after it.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from html.parser import HTMLParser

import numpy as np
import pytest

from intonation.app.stand_in import TWO_FAULTS
from intonation.diagnosis.parts import Interval
from intonation.engine.workbench import Workbench
from intonation.practice.settings import SIMULATED_PLAYER
from intonation.report.maker_sheet import MakerSheet, maker_sheet_html
from intonation.report.trial_report import examination_lines, planned_lines, proof_lines
from intonation.report.workshop_demonstration import (
    WorkshopDemonstration,
    workshop_demonstration_lines,
)
from intonation.store.store import Store
from intonation.words.proof import window_change_in_words
from intonation.workshop.examining import Examination
from intonation.workshop.proof import Proof
from intonation.workshop.window_change import WindowChange
from tests.support.faulty_alto import NAME, PLAYER, faulty_alto
from tests.support.played_alto import PlayedAlto

EVENING = datetime(2031, 3, 14, 19, 0, tzinfo=UTC)
NEXT_DAY = EVENING + timedelta(days=1)
SIMULATED, ALTO = SIMULATED_PLAYER, TWO_FAULTS


@dataclass(frozen=True, slots=True)
class Story:
    """One instrument from the first check to the proof."""

    bench: Workbench
    found: Examination
    proof: Proof
    found_after: Examination


@pytest.fixture(scope="module")
def story() -> Iterator[Story]:
    with Store(None) as store:
        alto = PlayedAlto(store, seed=2)
        alto.check()
        found = alto.workbench.examine(SIMULATED, ALTO)
        assert found is not None
        alto.workbench.log(SIMULATED, ALTO, found.works[0], note="<b>baking paper</b>")
        alto.check()
        (trial,) = alto.workbench.trials(SIMULATED, ALTO)
        after = alto.workbench.examine(SIMULATED, ALTO)
        assert after is not None
        yield Story(alto.workbench, found, alto.workbench.prove(trial), after)


def test_both_faults_of_the_instrument_are_the_first_causes(story: Story) -> None:
    bore, hole = sorted(story.found.ranked[:2], key=lambda entry: entry.cause.kind)
    assert (bore.cause.kind, hole.cause.kind, hole.cause.hole) == ("bore", "hole size", "4")
    assert bore.cause.from_mm < 100.0 < bore.cause.to_mm
    assert bore.size_cents > 0.0 > hole.size_cents
    assert bore.widest_octave is not None
    assert 15.0 < bore.widest_octave[1] < 35.0
    told = " ".join(" ".join(examination_lines(story.found)).split())
    assert "The first two together explain best how the notes lie." in told
    assert "This makes octaves too wide" in told


def test_a_note_that_only_cutting_would_cure_comes_with_a_way_to_play_it(story: Story) -> None:
    # B4's first open hole is 4. Half of 6 open is the model's own fingering: no source.
    played = {note.midi: note for note in story.found.getting_by}
    assert str(played[71].fingering) == "0 123 -56a-"
    assert played[71].sharper_cents > 10.0
    told = " ".join(" ".join(examination_lines(story.found)).split())
    assert "Nothing that can be undone makes a hole larger." in told


def test_the_first_work_offered_can_be_undone_and_brings_the_notes_together(story: Story) -> None:
    first = story.found.works[0]
    assert first.reversible
    assert first.after_window_cents < first.before_window_cents - 6.0
    kept = [work.reversible for work in story.found.works]
    assert kept == sorted(kept, reverse=True)


def test_the_trial_is_proven_by_the_notes_after_it(story: Story) -> None:
    strength = story.proof.strength
    assert strength is not None
    assert strength.low < 1.0 < strength.high + 0.3
    assert strength.low > 0.3
    compared = [note.as_predicted for note in story.proof.notes if note.as_predicted is not None]
    assert np.mean(compared) > 0.7


def test_the_instrument_is_more_even_after_the_trial(story: Story) -> None:
    before, after = story.found.offsets.overall.window, story.found_after.offsets.overall.window
    assert before is not None
    assert after is not None
    assert after.mean < before.mean - 5.0


def test_the_proof_says_whether_the_window_became_narrower(story: Story) -> None:
    window = story.proof.window
    assert window is not None
    assert window.verdict == "narrower"
    assert window.before.mean > 30.0 > window.after.mean
    assert "The window became narrower: the" in " ".join(proof_lines(story.proof))


def test_widths_that_may_be_the_same_are_not_called_narrower() -> None:
    # halves of intervals add up as roots of squares: 3 and 4 make 5 (a right triangle, no source)
    before = Interval(30.0, 27.0, 33.0)
    close = WindowChange(notes=9, before=before, after=Interval(25.5, 21.5, 29.5))
    apart = WindowChange(notes=9, before=before, after=Interval(24.5, 20.5, 28.5))
    assert (close.change.low, close.change.high) == pytest.approx((-9.5, 0.5))
    assert [close.verdict, apart.verdict] == ["cannot tell", "narrower"]
    assert "cannot be told yet" in window_change_in_words(close)
    wider = WindowChange(notes=9, before=apart.after, after=apart.before)
    assert "became WIDER" in window_change_in_words(wider)
    assert "at least five notes" in window_change_in_words(None)


def test_the_player_reads_causes_work_prediction_cautions_and_proof(story: Story) -> None:
    told = " ".join(" ".join(examination_lines(story.found)).split())
    assert "reversible work first" in told
    planned = " ".join(" ".join(planned_lines(story.found.works[0])).split())
    assert "This can be undone." in planned
    assert "Never alter a historical or valuable instrument" in planned
    assert "A5" in planned
    proven = " ".join(" ".join(proof_lines(story.proof)).split())
    assert "side effect" in proven.lower()
    assert "Proven: all notes together moved" in proven


def test_the_demonstration_tells_it_in_order_with_cautions_before_the_proof(story: Story) -> None:
    shown = WorkshopDemonstration(story.found, story.found.works[0], story.proof)
    lines = list(workshop_demonstration_lines(shown))
    assert max(map(len, lines)) <= 80
    text = " ".join(" ".join(lines).split())
    told = [
        "hole 4 too small, by up to",
        "What could be tried, reversible work first:",
        "This can be undone.",
        "Never alter a historical or valuable instrument",
        "No side effect was found.",
        "Proven: all notes together moved",
    ]
    places = [text.index(each) for each in told]
    assert places == sorted(places)


class Reader(HTMLParser):
    """Collects the text and the tags of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.text: list[str] = []
        self.links: list[str] = []

    def handle_data(self, data: str) -> None:
        self.text.append(data)

    def handle_starttag(self, _: str, attrs: list[tuple[str, str | None]]) -> None:
        self.links += [value or "" for name, value in attrs if name in ("src", "href")]


def test_the_makers_sheet_is_complete_and_shows_typed_text_as_typed(story: Story) -> None:
    sheet = MakerSheet(
        examination=story.found_after,
        written_at=NEXT_DAY,
        a4_hz=415.0,
        temperature_c=21.0,
        size="alto, baroque fingering",
        proofs=(story.proof,),
        note='top notes <script>alert("x")</script>',
    )
    page = Reader()
    page.feed(maker_sheet_html(sheet))
    text = " ".join(page.text)
    for told in (ALTO, SIMULATED, "A4 = 415 Hz", "21 °C", "Octaves", "A4–A5", "<script>"):
        assert told in text
    assert "<b>baking paper</b>" in text
    assert page.links == []


def test_too_few_notes_are_no_ground_for_a_verdict() -> None:
    with Store(None) as store:
        bench = Workbench(store, lambda: EVENING, {NAME: "alto"})
        assert bench.examine(PLAYER, NAME) is None
        store.add_held_notes(faulty_alto(1).check("first day", "A")[:3])
        assert bench.examine(PLAYER, NAME) is None


def test_an_undone_trial_is_compared_only_while_it_stood(story: Story) -> None:
    (trial,) = story.bench.trials(SIMULATED, ALTO)
    story.bench.undo(trial.number, note="it came loose")
    (undone,) = story.bench.trials(SIMULATED, ALTO)
    assert undone.undone_at is not None
    assert len(story.bench.prove(undone).notes) == len(story.proof.notes)
    # nothing was held since, and the instrument is as it was made again
    assert story.bench.examine(SIMULATED, ALTO) is None
    assert story.bench.standing_work(SIMULATED, ALTO) == ()
