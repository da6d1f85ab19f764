"""How the sound is doing, as a small table of words and numbers."""

from textual.content import Content

from intonation.app import words
from intonation.app.printing.inks import SOFT, STRONG, TEXT
from intonation.app.sound_state import SoundState
from intonation.engine.messages import SoundCounters, SoundReady
from intonation.words.numbers import rounded

_LABEL_WIDTH = 20


def sound_report(state: SoundState, *, trouble: str | None) -> Content:
    """Return the state of the sound; ``trouble`` says why no devices can be listed."""
    lines = [Content.styled(words.SOUND_NOW, STRONG)]
    if trouble:
        lines.append(Content.styled(trouble, TEXT))
    if state.ready is None:
        lines.append(Content.styled(words.SOUND_NOT_RUNNING, SOFT))
    else:
        lines += _opened(state.ready)
    if state.counters is not None:
        lines += _counted(state.counters)
    return Content("\n").join(lines)


def _row(label: str, value: str) -> Content:
    return Content.assemble((f"{label:<{_LABEL_WIDTH}}", SOFT), (value, TEXT))


def _opened(ready: SoundReady) -> list[Content]:
    rate = f"{ready.sample_rate_hz / 1000:g} kHz"
    latency = f"{1000 * ready.latency_s:.0f} ms"
    return [
        _row(words.LISTENING_TO, ready.microphone),
        _row(words.SOUNDING_ON, ready.output),
        _row(words.RATE_AND_LATENCY, f"{rate}, {latency}"),
    ]


def _counted(counters: SoundCounters) -> list[Content]:
    suppression = counters.reference_suppression_db
    return [
        _row(words.INPUT_LEVEL, words.level(counters.level_db)),
        _row(words.INTERRUPTIONS, words.interruptions(counters)),
        *([] if suppression is None else [_row(words.TAKEN_OUT, f"{rounded(suppression)} dB")]),
    ]
