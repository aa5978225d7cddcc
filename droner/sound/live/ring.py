"""Keep samples ready between the thread that makes them and the callback that takes them.

Rule    frames are counted from the first that was ever taken, and never again. The callback only copies. What is ready
        but not taken can still be changed: led over to something else from the next frame on, or from a frame to come.
        Every such change begins a turn; samples made for an earlier turn are refused. When samples are missing the
        last one is led to zero instead of breaking off, what comes next rises, and both are counted.
Units   frames; samples at full scale 1, shape (frames, channels).
"""

from __future__ import annotations

from threading import Lock

import numpy as np

from droner.sound.fade import fade_in, fade_out
from droner.sound.voice import Samples

SOFTLY_FRAMES = 240
"""Over so many frames a gap that nobody wanted begins, and so many it ends: 5 ms at 48 kHz. Our choice."""


class Ring:
    """A ring of samples with one maker and one taker; `turn` names what is being made."""

    def __init__(self, frames: int, channels: int) -> None:
        self.channels = channels
        self.taken = 0
        self.turn = 0
        self.gaps = 0
        self.gap_frames = 0
        self._samples: Samples = np.zeros((frames, channels), dtype=np.float32)
        self._made = 0
        self._more = False
        self._broken = False
        self._fallen = self._risen = SOFTLY_FRAMES
        self._lock = Lock()
        self._last: Samples = np.zeros(channels, dtype=np.float32)

    @property
    def room(self) -> int:
        """How many frames can be put."""
        return len(self._samples) - (self._made - self.taken)

    @property
    def ready(self) -> int:
        """How many frames can be taken."""
        return self._made - self.taken

    @property
    def is_over(self) -> bool:
        """Whether all has been taken, and nothing more comes."""
        return not self._more and self._made == self.taken

    def put(self, turn: int, block: Samples, *, last: bool = False) -> bool:
        """Put a block behind the others; False if its turn is over. There must be room."""
        with self._lock:
            if turn != self.turn:
                return False
            self._write(self._made, block)
            self._made += len(block)
            self._more = not last
            return True

    def take(self, out: Samples) -> None:
        """Fill `out` with what comes next, with silence where nothing does."""
        with self._lock:
            frames = min(len(out), self.ready)
            self._read(self.taken, out[:frames])
            self.taken += frames
            if frames:
                self._rise(out[:frames])
                self._last[:] = out[frames - 1]
            if frames < len(out):
                self._fall(out[frames:])

    def cross(self, block: Samples, fade_frames: int, *, last: bool = False) -> int:
        """Lead what sounds over to the block, from the next frame on, which is returned. An empty block is silence."""
        with self._lock:
            leaving = np.empty((min(fade_frames, self.ready), self.channels), dtype=np.float32)
            self._read(self.taken, leaving)
            leaving *= fade_out(len(leaving), joined=bool(len(block)))[:, np.newaxis]
            mixed = np.zeros((max(len(block), len(leaving)), self.channels), dtype=np.float32)
            mixed[: len(block)] = block
            mixed[: len(leaving)] += leaving
            self._replace(self.taken, mixed, last=last)
            return self.taken

    def join(self, at: int, block: Samples) -> bool:
        """Put the block in place of what is ready from frame `at` on; False if that is taken, or is not made yet."""
        with self._lock:
            if not self.taken <= at <= self._made:
                return False
            self._replace(at, block, last=False)
            return True

    def _replace(self, at: int, block: Samples, *, last: bool) -> None:
        self._write(at, block)
        self._made = at + len(block)
        self._more = not last
        self.turn += 1

    def _rise(self, out: Samples) -> None:
        """Come in softly after a gap; else nothing."""
        if self._broken:
            self._broken, self._risen = False, 0
        shape = fade_in(SOFTLY_FRAMES)[self._risen : self._risen + len(out), np.newaxis]
        out[: len(shape)] *= shape
        self._risen += len(shape)

    def _fall(self, out: Samples) -> None:
        """Silence; if it was not meant it is counted, and the last sample is led to zero first."""
        out[:] = 0.0
        if self._more:
            self.gap_frames += len(out)
            if not self._broken:
                self._broken, self._fallen = True, 0
                self.gaps += 1
        shape = fade_out(SOFTLY_FRAMES)[self._fallen : self._fallen + len(out), np.newaxis]
        out[: len(shape)] = shape * self._last
        self._fallen += len(shape)

    def _places(self, at: int, frames: int) -> tuple[slice, slice]:
        """Where so many frames stand: up to the end of the ring, and on from its beginning."""
        first = at % len(self._samples)
        until_end = min(frames, len(self._samples) - first)
        return slice(first, first + until_end), slice(0, frames - until_end)

    def _write(self, at: int, block: Samples) -> None:
        end, beginning = self._places(at, len(block))
        split = end.stop - end.start
        self._samples[end], self._samples[beginning] = block[:split], block[split:]

    def _read(self, at: int, out: Samples) -> None:
        end, beginning = self._places(at, len(out))
        split = end.stop - end.start
        out[:split], out[split:] = self._samples[end], self._samples[beginning]
