"""Make samples ahead, in a thread of their own.

Rule    as many as the ring takes, in pieces, so that a change is never far away. What fails is kept for the player to
        raise. Samples of a turn that is over are thrown away, whoever was faster.
Units   frames of the source.
"""

from __future__ import annotations

from dataclasses import dataclass
from threading import Event, Thread

from droner.sound.live.ring import Ring
from droner.sound.live.source import Reader

MOST_FRAMES = 8192
NAP_S = 0.02
"""How often the ring is looked after: it holds fifty times as much."""


@dataclass(slots=True)
class _Job:
    turn: int
    reader: Reader
    at: int


class Feeder:
    """Fills a ring."""

    def __init__(self, ring: Ring) -> None:
        self.failure: Exception | None = None
        self._ring = ring
        self._job: _Job | None = None
        self._wake = Event()
        self._closed = False
        self._thread = Thread(target=self._work, name="droner feeder", daemon=True)
        self._thread.start()

    def feed(self, reader: Reader, at: int, turn: int) -> None:
        """Go on from frame `at`, for as long as it is the ring's turn."""
        self._job = _Job(turn, reader, at)
        self._wake.set()

    def close(self) -> None:
        """Stop working."""
        self._job, self._closed = None, True
        self._wake.set()
        self._thread.join()

    def _work(self) -> None:
        while not self._closed:
            job = self._job
            try:
                idle = job is None or not self._fed(job)
            except Exception as failure:  # noqa: BLE001 - the player raises it in its own thread
                self.failure, self._job, idle = failure, None, True
            if idle:
                self._wake.wait(NAP_S)
                self._wake.clear()

    def _fed(self, job: _Job) -> bool:
        """Put one more piece; False if there is nothing to do."""
        left = job.reader.left(job.at)
        if left == 0 or self._ring.room < MOST_FRAMES or job.turn != self._ring.turn:
            return False
        block = job.reader.read(job.at, MOST_FRAMES)
        job.at += len(block)
        return self._ring.put(job.turn, block, last=left == len(block))
