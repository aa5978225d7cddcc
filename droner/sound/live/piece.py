"""Make a score ready to be heard: its desk set up, its places known.

Rule    the samples are those of the audio file, before they are rounded to its bits: the same desk, so the same gains.
Units   frames from the start of the score; beats are quarter notes.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from droner.live.bars import bar_at
from droner.score.score import Bar, Score
from droner.score.tempo_map import TempoMap
from droner.sound.desk import Desk
from droner.sound.mix import Mix
from droner.sound.render import RATE_HZ, frames_of
from droner.sound.voice import Samples
from droner.units import Beats, Seconds, frame_at


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """A score at one sample rate."""

    title: str
    frames: int
    rate_hz: int
    tempo_map: TempoMap
    bars: tuple[Bar, ...]
    desk: Desk

    def block(self, start: int, frames: int) -> Samples:
        """So many frames from frame `start` on."""
        return self.desk.block(start, frames)

    def beats_at(self, frame: int) -> Beats:
        """The beat that falls on a frame."""
        return self.tempo_map.beats_at(Seconds(Fraction(frame, self.rate_hz)))

    def frame_at(self, moment: Beats) -> int:
        """The frame on which a beat falls."""
        return frame_at(self.tempo_map.seconds_at(moment), self.rate_hz)

    def bar_at(self, moment: Beats) -> tuple[int, int]:
        """The number of the bar and of the beat in it, from 1; (0, 0) before all bars."""
        return bar_at(self.bars, moment)


def piece(score: Score, mix: Mix, rate_hz: int = RATE_HZ) -> Piece:
    """A score made ready."""
    return Piece(
        score.title, frames_of(score, rate_hz), rate_hz, score.tempo_map, score.bars, Desk(score, mix, rate_hz)
    )
