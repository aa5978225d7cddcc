"""Turn a score's beats into frames.

Rule    every moment is rounded once, from its exact value; a length is the difference of two moments, so
        nothing accumulates however long the score.
Units   frames count samples of every channel from the start of the score.
"""

from __future__ import annotations

from dataclasses import dataclass

from droner.score.tempo_map import TempoMap
from droner.units import Beats, Frames, frame_at


@dataclass(frozen=True, slots=True)
class Timeline:
    """A tempo map seen at one sample rate."""

    tempo_map: TempoMap
    rate_hz: int

    def frame(self, moment: Beats) -> Frames:
        """The frame at which a beat falls."""
        return frame_at(self.tempo_map.seconds_at(moment), self.rate_hz)

    def span(self, onset: Beats, length: Beats) -> tuple[int, int]:
        """First frame of a note, and the first frame after it."""
        return self.frame(onset), self.frame(onset + length)

    def frames_in_ms(self, length_ms: float) -> int:
        """So many milliseconds in whole frames."""
        return round(length_ms * self.rate_hz / 1000)

    def tempo_changes_within(self, onset: Beats, end: Beats) -> list[Beats]:
        """The moments strictly between two moments at which the tempo changes."""
        return [segment.onset for segment in self.tempo_map.segments if onset < segment.onset < end]
