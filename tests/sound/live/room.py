"""A player with a loudspeaker that keeps every sample, and ways to look at what it kept.

Referee  the theorem of a product's step: at most the wave's own step, and the wave's height times the fade's step.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from enum import Enum
from queue import SimpleQueue

import numpy as np

from droner.live.noted_signals import Noted
from droner.live.words import Act, Asked, Obey
from droner.sound.live.ended import Ended
from droner.sound.live.piece import Piece
from droner.sound.live.player import Player
from droner.sound.live.source import Source
from droner.sound.mix import Mix
from droner.sound.render import BLOCK_FRAMES as BLOCK_OF_A_FILE
from droner.sound.voice import Samples
from droner.units import Beats
from tests.sound.live.fakes import BLOCK_FRAMES, RATE_HZ, FakeSpeaker

MONO = Mix()
FADE, CROSS = 30 * RATE_HZ // 1000, 50 * RATE_HZ // 1000
SLACK = 1.001
"""Rounding of single precision in the greatest step."""
BEGINNING = Beats(0)


class Word(Enum):
    """A player's own word."""

    ENOUGH = "enough"


def stop(_: object) -> Act:
    return Act.STOP


class Room:
    """A player, its loudspeaker, and what is asked once so many frames have been heard."""

    def __init__(
        self, channels: int = 1, noted_signals: Callable[[], AbstractContextManager[Noted]] | None = None
    ) -> None:
        self.speaker = FakeSpeaker(channels)
        self.asked: Asked = SimpleQueue()
        self.player = Player(self.speaker, noted_signals=noted_signals or (lambda: nullcontext(Noted())))
        # no gap is the fault of a busy machine: the loudspeaker waits until there is something, or is to be nothing
        ring = self.player._ring
        self.speaker.wait_for = lambda: ring.ready >= BLOCK_FRAMES or not ring._more

    def ask(self, frame: int, what: object) -> None:
        self.speaker.at(frame, lambda: self.asked.put(what))

    def play(self, made: Source, obey: Obey = stop, start: Beats = BEGINNING) -> Ended:
        with self.player:
            return self.player.play(made, self.asked, obey, start)

    @property
    def heard(self) -> Samples:
        """From the first sample that is not zero to the last."""
        return trimmed(self.speaker.heard)


def rendered(made: Piece) -> Samples:
    """In the blocks that a file is made in: others give the same but for the last bit (see `test_any_stretch`)."""
    starts = range(0, made.frames, BLOCK_OF_A_FILE)
    return np.concatenate([made.block(start, min(BLOCK_OF_A_FILE, made.frames - start)) for start in starts])


def trimmed(samples: Samples) -> Samples:
    sounding = np.flatnonzero(samples.any(axis=1))
    return samples[sounding[0] : sounding[-1] + 1]


def greatest_step(samples: Samples) -> float:
    return float(np.max(np.abs(np.diff(samples[:, 0], append=0.0))))


def steepest(wave: Samples, fade: int) -> float:
    """The theorem: a product's step is at most the wave's own step, and the wave's height times the fade's step."""
    steady = wave[RATE_HZ // 2 : -RATE_HZ // 2]
    own = float(np.max(np.abs(np.diff(steady[:, 0]))))
    return SLACK * (own + float(np.abs(steady).max()) * np.pi / 2 / fade)


def silences(samples: Samples) -> list[tuple[int, int]]:
    """Where nothing sounds for a hundredth of a second or more: first frame, and first after."""
    sounding = np.flatnonzero(np.concatenate(([True], samples.any(axis=1), [True])))
    gaps = np.flatnonzero(np.diff(sounding) > RATE_HZ // 100)
    return [(int(sounding[gap]), int(sounding[gap + 1]) - 1) for gap in gaps]
