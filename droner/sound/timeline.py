"""Turn a score's beats into frames.

Rule    every moment is rounded once, half up, from its exact value; a length is the difference of two moments, so
        nothing accumulates however long the score. The sums are done in whole numbers, a few for each moment: a
        score has ten thousand of them.
Units   frames count samples of every channel from the start of the score.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from fractions import Fraction

from droner.score.tempo_map import TempoMap
from droner.units import Beats, Frames


@dataclass(frozen=True, slots=True)
class _Run:
    """A stretch of one tempo: its onset in beats, and frames = (scale * beats + shift) / parts."""

    onset: float
    scale: int
    shift: int
    parts: int


class Timeline:
    """A tempo map seen at one sample rate."""

    def __init__(self, tempo_map: TempoMap, rate_hz: int) -> None:
        self.tempo_map = tempo_map
        self.rate_hz = rate_hz
        self._changes = [segment.onset for segment in tempo_map.segments]
        self._runs = [_run(tempo_map, place, rate_hz) for place in range(len(tempo_map.segments))]
        self._onsets = [run.onset for run in self._runs]

    def frame(self, moment: Beats) -> Frames:
        """The frame at which a beat falls."""
        return self._frame(moment.exact.numerator, moment.exact.denominator)

    def _frame(self, above: int, below: int) -> Frames:
        """The frame of beat above / below, which need not be in lowest terms."""
        # two runs give the same frame where they meet, so that a rounded onset may choose either
        run = self._runs[max(bisect_right(self._onsets, above / below) - 1, 0)]
        parts = run.parts * below
        return Frames((2 * (run.scale * above + run.shift * below) + parts) // (2 * parts))

    def span(self, onset: Beats, length: Beats) -> tuple[int, int]:
        """First frame of a note, and the first frame after it."""
        start, lasts = onset.exact, length.exact
        above, below, parts = start.numerator, start.denominator, lasts.denominator
        return self._frame(above, below), self._frame(above * parts + lasts.numerator * below, below * parts)

    def frames_in_ms(self, length_ms: float) -> int:
        """So many milliseconds in whole frames."""
        return round(length_ms * self.rate_hz / 1000)

    def tempo_changes_within(self, onset: Beats, end: Beats) -> list[Beats]:
        """The moments strictly between two moments at which the tempo changes."""
        return self._changes[bisect_right(self._changes, onset) : bisect_left(self._changes, end)]


def _run(tempo_map: TempoMap, place: int, rate_hz: int) -> _Run:
    segment = tempo_map.segments[place]
    a_beat = segment.quarter.exact * rate_hz
    at_zero = segment.start.exact * rate_hz - a_beat * segment.onset.exact
    parts = Fraction(1, a_beat.denominator * at_zero.denominator)
    return _Run(float(segment.onset), int(a_beat / parts), int(at_zero / parts), parts.denominator)
