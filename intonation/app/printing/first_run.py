"""The set-up as print: what a sound check has found, and what was chosen."""

from collections.abc import Callable, Sequence

from textual.content import Content

from intonation.app import device_words, first_run_words, words
from intonation.app.first_run_choices import SetUp
from intonation.app.printing.inks import SOFT, STRONG, TEXT
from intonation.app.printing.wrapping import beside
from intonation.app.sound_state import SoundState
from intonation.language import name_in_words, say
from intonation.report.findings import Finding
from intonation.words.targets import tuning_in_words

_LABEL_WIDTH = 18


def labelled(label: str, text: str, *, width: int, ink: str = TEXT) -> list[Content]:
    """Return running text with a label before it."""
    left = [Content.styled(label, SOFT)]
    return beside(left, text, indent=_LABEL_WIDTH, width=width, ink=ink)


def found_lines(findings: Sequence[Finding], *, width: int) -> list[Content]:
    """Return what a sound check has found, each with a word on whether it is well."""
    lines: list[Content] = []
    for finding in findings:
        label = first_run_words.LABELS.get(finding.subject, finding.subject)
        state = first_run_words.WELL if finding.well else first_run_words.LOOK
        ink = TEXT if finding.well else STRONG
        text = f"{finding.sentence} {finding.what_to_do}".strip()
        lines += labelled(f"{label:<11}{state}", text, width=width, ink=ink)
    return lines


def sound_now_lines(state: SoundState, *, width: int) -> list[Content]:
    """Return the input level at this moment, and how late the sound comes."""
    counters = state.counters
    heard = device_words.level(counters.level_db) if counters else first_run_words.NOT_HEARD_YET
    text = f"{heard}. {first_run_words.LEVEL_HINT}"
    lines = labelled(first_run_words.LEVEL_NOW, text, width=width)
    if state.ready is not None:
        latency = first_run_words.latency(state.ready.latency_s)
        lines += labelled(first_run_words.LATENCY, latency, width=width)
    return lines


def chosen_lines(chosen: SetUp, *, width: int, naming: Callable[[str], str]) -> list[Content]:
    """Return what was chosen, and where to go from here; ``naming`` knows the player's own keys."""
    practice, sound = chosen.practice, chosen.sound
    pitch = f"{words.concert_pitch(practice.a4_hz)}, {tuning_in_words(practice.tuning_name)}"
    rows = (
        (
            say("Player"),
            say(
                "{player}, on the {instrument}",
                player=practice.player,
                instrument=name_in_words(practice.instrument),
            ),
        ),
        (say("Pitch"), pitch),
        (say("Room"), words.temperature(practice.temperature_c)),
        (say("Listens to"), _source(chosen)),
        (say("Sounds through"), device_words.HEARD_THROUGH[sound.headphones]),
    )
    lines = [line for label, text in rows for line in labelled(label, text, width=width)]
    lines.append(Content(""))
    for key, text in first_run_words.WHAT_NEXT:
        left = [Content.styled(f"{naming(key):>8}", STRONG)]
        lines += beside(left, naming(text), indent=_LABEL_WIDTH, width=width, ink=TEXT)
    return lines


def _source(chosen: SetUp) -> str:
    sound = chosen.sound
    if sound.simulated:
        return name_in_words(device_words.SOURCES[2])
    if sound.recording:
        return sound.recording.name
    return sound.microphone or device_words.SYSTEM_CHOICE
