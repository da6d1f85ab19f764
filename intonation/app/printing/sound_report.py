"""How the sound is doing, as a small table of words and numbers."""

from textual.content import Content

from intonation.app import device_words
from intonation.app.printing.inks import SOFT, STRONG, TEXT
from intonation.app.sound_state import SoundState
from intonation.engine.messages import SoundCounters, SoundReady
from intonation.language import say
from intonation.words.numbers import rounded

_LABEL_WIDTH = 20


def sound_report(state: SoundState, *, trouble: str | None) -> Content:
    """Return the state of the sound; ``trouble`` says why no devices can be listed."""
    lines = [Content.styled(device_words.SOUND_NOW, STRONG)]
    if trouble:
        lines.append(Content.styled(trouble, TEXT))
    if state.ready is None:
        lines.append(Content.styled(device_words.SOUND_NOT_RUNNING, SOFT))
    else:
        lines += _opened(state.ready)
    if state.counters is not None:
        lines += _counted(state.counters)
    return Content("\n").join(lines)


def _row(label: str, value: str) -> Content:
    return Content.assemble((f"{label:<{_LABEL_WIDTH - 1}} ", SOFT), (value, TEXT))


def _opened(ready: SoundReady) -> list[Content]:
    rate = say("{rate:g} kHz", rate=ready.sample_rate_hz / 1000)
    latency = say("{milliseconds:.0f} ms", milliseconds=1000 * ready.latency_s)
    return [
        _row(device_words.LISTENING_TO, ready.microphone),
        _row(device_words.SOUNDING_ON, ready.output),
        _row(device_words.RATE_AND_LATENCY, f"{rate}, {latency}"),
    ]


def _counted(counters: SoundCounters) -> list[Content]:
    rows = [
        _row(device_words.INPUT_LEVEL, device_words.level(counters.level_db)),
        _row(device_words.INTERRUPTIONS, device_words.interruptions(counters)),
    ]
    suppression = counters.reference_suppression_db
    if suppression is not None:
        rows.append(
            _row(device_words.TAKEN_OUT, say("{suppression} dB", suppression=rounded(suppression)))
        )
    return rows
