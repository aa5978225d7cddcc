"""A loudspeaker without a machine, which asks for samples as fast as they are ready."""

from __future__ import annotations

import time
from collections.abc import Callable
from threading import Thread

import numpy as np

from droner.sound.voice import Samples

RATE_HZ = 48_000
BLOCK_FRAMES = 512


class FakeSpeaker:
    """Keeps all that it was given. Things are done when so many frames have been."""

    def __init__(self, channels: int = 1, rate_hz: int = RATE_HZ, block_frames: int = BLOCK_FRAMES) -> None:
        self.channels, self.rate_hz, self.latency_s, self.lost = channels, rate_hz, 0.0, 0
        self.failure = ""
        self.opened = 0
        self.wait_for: Callable[[], bool] = lambda: True
        self._block_frames = block_frames
        self._blocks: list[Samples] = []
        self._plans: list[tuple[int, Callable[[], None]]] = []
        self._running = False
        self._thread: Thread | None = None

    @property
    def frames(self) -> int:
        return len(self._blocks) * self._block_frames

    @property
    def heard(self) -> Samples:
        return np.concatenate(self._blocks)

    def at(self, frame: int, do: Callable[[], None]) -> None:
        """Do something once so many frames have been asked for."""
        self._plans.append((frame, do))

    def open(self, take: Callable[[Samples], None]) -> None:
        self._take, self._running = take, True
        self.opened += 1
        self._thread = Thread(target=self._ask, daemon=True)
        self._thread.start()

    def open_again(self) -> None:
        self.open(self._take)

    def close(self) -> None:
        self._running = False
        if self._thread is not None:
            self._thread.join()

    def _ask(self) -> None:
        while self._running:
            if not self.wait_for():
                time.sleep(0.001)
                continue
            block: Samples = np.full((self._block_frames, self.channels), np.nan, dtype=np.float32)
            self._take(block)
            self._blocks.append(block)
            for plan in [plan for plan in self._plans if plan[0] <= self.frames]:
                self._plans.remove(plan)
                plan[1]()
            time.sleep(0.0005)
