"""A program that plays a tone into the room, hears it with the microphone and prints what came."""

import json
import threading

import numpy as np

from intonation.audio.devices import choose_device, sound_devices
from intonation.audio.streams import MicrophoneStream, OutputStream
from intonation.synth.tones import Tone
from intonation.synth.wavetable import Synth

LISTEN_S = 3.0


def main() -> None:
    devices = sound_devices()
    microphone = MicrophoneStream(choose_device(devices, "microphone", None))
    output = OutputStream(choose_device(devices, "output", None))
    synth, before = Synth(output.sample_rate_hz), Synth(output.sample_rate_hz)
    output.start(synth.render_into)
    microphone.start()
    pause = threading.Event()
    pause.wait(1.0)
    synth.set_tones((Tone(440.0), Tone(660.0, -3.0, "reed")))
    pause.wait(LISTEN_S)
    heard = microphone.read(10**6)
    counts = (microphone.count, output.count)
    output.close()
    microphone.close()
    before.set_tones((Tone(440.0), Tone(660.0, -3.0, "reed")))
    played = before.render(round(LISTEN_S * before.sample_rate_hz))
    print(json.dumps(_comparison(heard, played) | {"gaps": sum(count.gaps for count in counts)}))


def _comparison(heard: np.ndarray, played: np.ndarray) -> dict[str, float]:
    lag = int(np.argmax(heard != 0.0)) - int(np.argmax(played != 0.0))
    common = min(heard.size - lag, played.size) - 4_800
    difference = np.abs(heard[lag : lag + common] - played[:common])
    return {"common_s": common / 48_000, "largest_difference": float(np.max(difference))}


if __name__ == "__main__":
    main()
