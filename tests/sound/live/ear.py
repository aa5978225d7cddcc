"""Stand at the end of the cable: a JACK client that keeps every sample that reaches it.

Run     python -m tests.sound.live.ear NAME CHANNELS SECONDS
Rule    a process of its own, so that it does not disturb who plays. It says `ready`, and answers lines on stdin:
        `first` the second of the monotonic clock at which the first sample that is not zero came (null if none),
        `count` how many frames came since then, `lost` how often the server says that a period was lost, `save PATH`
        writes all of them, from the first that is not zero, as an array of numpy.
Source  JACK-Client 0.5, which shares no code with PortAudio.
"""

from __future__ import annotations

import json
import sys
import time
from typing import Any

import jack
import numpy as np

RATE_HZ = 48_000


class Ear:
    """Keeps what it hears."""

    def __init__(self, name: str, channels: int, seconds: int) -> None:
        self.client = jack.Client(name, no_start_server=True)
        self.ports = [self.client.inports.register(f"in{number}") for number in range(channels)]
        self.heard = np.zeros((seconds * RATE_HZ, channels), dtype=np.float32)
        self.heard[:] = 0  # touch every page now
        self.frames = 0
        self.first: float | None = None
        self.lost = 0
        self.client.set_process_callback(self._hear)
        self.client.set_xrun_callback(self._count)
        self.client.activate()

    def _count(self, _: float) -> None:
        self.lost += 1

    def _hear(self, frames: int) -> None:
        block = [port.get_array() for port in self.ports]
        if self.first is None:
            if not any(channel.any() for channel in block):
                return
            self.first = time.monotonic()
        stop = min(self.frames + frames, len(self.heard))
        for number, channel in enumerate(block):
            self.heard[self.frames : stop, number] = channel[: stop - self.frames]
        self.frames = stop

    def answer(self, line: str) -> Any:
        word, _, rest = line.partition(" ")
        if word == "save":
            np.save(rest, self.heard[: self.frames])
            return True
        if word == "again":
            self.frames, self.first = 0, None
            return True
        return {"first": self.first, "count": self.frames, "lost": self.lost}[word]


def main() -> None:
    name, channels, seconds = sys.argv[1:]
    ear = Ear(name, int(channels), int(seconds))
    print("ready", flush=True)
    for line in sys.stdin:
        print(json.dumps(ear.answer(line.strip())), flush=True)
    ear.client.close()


if __name__ == "__main__":
    main()
