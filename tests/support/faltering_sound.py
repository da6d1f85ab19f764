"""A program whose reference fails to render for a while, and whose sound card reports losses."""

import json

import numpy as np

from intonation.audio.devices import choose_device, sound_devices
from intonation.audio.streams import BLOCK_FRAMES, MicrophoneStream, OutputStream
from tests.support.waiting import until

FAILING_BLOCKS = 3
LOST = 1
"""What PortAudio hands to a callback when samples were lost; anything but zero."""


class FailsAtFirst:
    """Renders silence after it has failed a few times."""

    def __init__(self) -> None:
        self.blocks = 0

    def __call__(self, out: np.ndarray) -> None:
        self.blocks += 1
        out.fill(0.5)
        if self.blocks <= FAILING_BLOCKS:
            raise RuntimeError
        out.fill(0.0)


def main() -> None:
    devices = sound_devices()
    output = OutputStream(choose_device(devices, "output", None))
    microphone = MicrophoneStream(choose_device(devices, "microphone", None))
    render = FailsAtFirst()
    output.start(render)
    went_on = until(lambda: render.blocks > 2 * FAILING_BLOCKS)
    output.close()
    block = np.ones((BLOCK_FRAMES, 1), dtype=np.float32)
    faltering = OutputStream(choose_device(devices, "output", None))
    for _ in range(3):
        faltering(block, BLOCK_FRAMES, None, LOST)
        microphone(block, BLOCK_FRAMES, None, LOST)
    print(
        json.dumps(
            {
                "went_on": went_on,
                "failed": output.count.gaps,
                "loudest": float(np.max(np.abs(block))),
                "underflows": faltering.count.gaps - 3,
                "overflows": microphone.count.gaps,
            }
        )
    )
    faltering.close()
    microphone.close()


if __name__ == "__main__":
    main()
