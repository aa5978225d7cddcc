"""Say what can be played: samples by their frame number, and where in the music a frame stands.

Rule    any stretch can be asked for, in any order, and always gives the same samples. `frames` None has no end.
        A `Reader` asks for whole blocks of the grid that files are made in, so that the samples are those of the file
        to the last bit, and hands out pieces of them in as many channels as the loudspeaker has.
Units   frames from the start of the piece; samples at full scale 1, shape (frames, channels).
"""

from __future__ import annotations

from typing import Protocol, runtime_checkable

import numpy as np

from droner.sound.render import BLOCK_FRAMES
from droner.sound.voice import Samples
from droner.units import Beats


class Source(Protocol):
    """A piece made ready to be heard, or a standing drone or click."""

    @property
    def title(self) -> str:
        """What is shown."""

    @property
    def frames(self) -> int | None:
        """How long it is; None without end."""

    def block(self, start: int, frames: int) -> Samples:
        """So many frames from frame `start` on."""

    def beats_at(self, frame: int) -> Beats:
        """The beat that falls on a frame."""

    def frame_at(self, moment: Beats) -> int:
        """The frame on which a beat falls."""

    def bar_at(self, moment: Beats) -> tuple[int, int]:
        """The number of the bar and of the beat in it, from 1; (0, 0) off the page."""


@runtime_checkable
class Endless(Source, Protocol):
    """What can be taken up by another of its kind without a break; `since` is the frame of its last change."""

    @property
    def since(self) -> int:
        """The frame up to which it is the same as what it was taken up from."""

    def after(self, sounding: Source, at: int) -> Endless | None:
        """This, coming in at frame `at` of what sounds or soon after; None for what is of another kind."""


class Reader:
    """Hands out the samples of a source, for a loudspeaker of so many channels."""

    def __init__(self, source: Source, channels: int, block_frames: int = BLOCK_FRAMES) -> None:
        self.source = source
        self._channels = channels
        self._block_frames = block_frames
        self._first = -1
        self._block: Samples = np.zeros((0, channels), dtype=np.float32)

    def left(self, at: int) -> int | None:
        """How many frames there are from frame `at` on; None without end."""
        return None if self.source.frames is None else max(self.source.frames - at, 0)

    def read(self, at: int, frames: int) -> Samples:
        """At most so many frames from frame `at` on, at least one if there is one; not to be changed."""
        first = at - at % self._block_frames
        if first != self._first:
            self._first, self._block = first, self._made(first)
        return self._block[at - first : at - first + frames]

    def read_all(self, at: int, frames: int) -> Samples:
        """So many frames from frame `at` on, fewer only at the end."""
        parts = [self.read(at, frames)]
        done = len(parts[0])
        while done < frames and len(parts[-1]):
            parts.append(self.read(at + done, frames - done))
            done += len(parts[-1])
        return np.concatenate(parts)

    def _made(self, first: int) -> Samples:
        left = self.left(first)
        frames = self._block_frames if left is None else min(left, self._block_frames)
        return fitted(self.source.block(first, frames), self._channels)


def fitted(block: Samples, channels: int) -> Samples:
    """The block in so many channels: one in all of them; several in one as their mean."""
    if block.shape[1] == channels:
        return block
    if channels == 1:
        mean: Samples = block.mean(axis=1, keepdims=True, dtype=np.float32)
        return mean
    made: Samples = np.zeros((len(block), channels), dtype=np.float32)
    made[:, :] = block
    return made
