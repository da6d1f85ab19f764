"""The common pitch of a consort in words: the pitch, each pull, the notes that stay apart."""

from collections.abc import Iterator, Sequence

from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.words.numbers import cents_word
from intonation.workshop.consort import ConsortMember, ConsortPitch

_MOST_APART = 8


def meeting_in_words(
    members: Sequence[ConsortMember], meeting: ConsortPitch
) -> Iterator[tuple[int, str]]:
    """Yield what brings instruments together as whole sentences, each with its indent."""
    yield 0, say("Tune to A4 = {a4_hz:.1f} Hz, all warmed up and at 20 °C.", a4_hz=meeting.a4_hz)
    for member, pull_mm in zip(members, meeting.pull_mm, strict=True):
        what = (
            say("pull the head joint by {pull_mm:g} mm", pull_mm=pull_mm)
            if pull_mm
            else say("leave it as it is")
        )
        yield 4, f"{member.name}: {what}"
    if not meeting.apart:
        yield 0, say("No note that two of them share stays more than ten cents apart.")
        return
    yield 0, say("Still apart by more than ten cents; agree on who gives way:")
    for midi, spread in meeting.apart[:_MOST_APART]:
        yield 4, f"{note_name(midi)}: {cents_word(spread)}"
