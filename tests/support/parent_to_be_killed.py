"""A program that starts a sound engine, prints its process number, and waits to be killed."""

import sys
import threading
from pathlib import Path

from intonation.engine.messages import EngineEvent, SoundReady, SoundSettings
from intonation.engine.process import EngineClient


def main() -> None:
    ready = threading.Event()

    def heard(event: EngineEvent) -> None:
        if isinstance(event, SoundReady):
            ready.set()

    client = EngineClient(SoundSettings(simulated=True), heard, log_path=Path(sys.argv[1]))
    client.start()
    ready.wait()
    print(client.process_id, flush=True)
    threading.Event().wait()


if __name__ == "__main__":
    main()
