"""Turn a score into samples, block by block.

Rule    a track lasts exactly as long as its score: tones end inside it, nothing is added after it. Any
        stretch can be asked for at once, and is the same as that stretch of the whole. Memory does not grow
        with the length: only one block of samples exists at a time.
Units   frames from the start of the score; samples at full scale 1, shape (frames, channels).
"""

from __future__ import annotations

from collections.abc import Iterator

from droner.score.score import Score
from droner.sound.desk import Desk
from droner.sound.mix import Mix
from droner.sound.voice import Samples
from droner.units import Frames, frame_at

RATE_HZ = 48_000
BLOCK_FRAMES = 131_072
"""Frames a block: enough rows for one product of matrices, small enough for the processor's second memory."""


def frames_of(score: Score, rate_hz: int = RATE_HZ) -> Frames:
    """How many frames the track of a score has."""
    return frame_at(score.duration, rate_hz)


def render_blocks(
    score: Score,
    mix: Mix,
    rate_hz: int = RATE_HZ,
    *,
    start: int = 0,
    stop: int | None = None,
    block_frames: int = BLOCK_FRAMES,
) -> Iterator[Samples]:
    """The samples of a score from frame `start` up to `stop` (the end when None), a block at a time."""
    desk = Desk(score, mix, rate_hz)
    total = frames_of(score, rate_hz)
    end = total if stop is None else min(stop, total)
    for first in range(start, end, block_frames):
        yield desk.block(first, min(block_frames, end - first))
