"""Turn beats into seconds, and back, under a changing tempo.

Rule    a tempo map is made of segments; inside one the tempo is a whole number of microseconds a quarter,
        which is what a MIDI file can hold, so audio and MIDI agree for ever. A gradual ramp is a stair
        of one segment a beat. A map never changes once made.
Units   beats are quarter notes; seconds are exact fractions until the edge; bpm counts the meter's beat.
Source  SMF 1.0, set-tempo meta event (FF 51 03): 24 bits of microseconds per quarter note.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from droner.theory.tempo import SLOWEST_US, glide, us_per_quarter
from droner.units import Beats, Seconds

__all__ = ["Segment", "TempoMap", "glide", "tempo_map", "us_per_quarter"]


@dataclass(frozen=True, slots=True)
class Segment:
    """From `onset` (which falls at `start`) until the next segment every quarter lasts `quarter_us`."""

    onset: Beats
    start: Seconds
    quarter_us: int

    @property
    def quarter(self) -> Seconds:
        """The length of one quarter note here."""
        return Seconds(Fraction(self.quarter_us, 1_000_000))


@dataclass(frozen=True, slots=True)
class TempoMap:
    """Segments in order of onset, the first at 0. Build with `tempo_map`."""

    segments: tuple[Segment, ...]

    def seconds_at(self, moment: Beats) -> Seconds:
        """The exact second at which a beat falls. Moments before 0 are counted back at the first tempo."""
        segment = self._segment_at(moment)
        return segment.start + segment.quarter * (moment - segment.onset).exact

    def beats_at(self, moment: Seconds) -> Beats:
        """The exact beat that falls at a second: the inverse of `seconds_at`."""
        place = bisect_right(self.segments, moment, key=lambda segment: segment.start) - 1
        segment = self.segments[max(place, 0)]
        return segment.onset + Beats((moment - segment.start).ratio(segment.quarter))

    def _segment_at(self, moment: Beats) -> Segment:
        place = bisect_right(self.segments, moment, key=lambda segment: segment.onset) - 1
        return self.segments[max(place, 0)]


def tempo_map(tempos: Iterable[tuple[Beats, int]]) -> TempoMap:
    """A map from (onset, microseconds a quarter) pairs in rising order of onset, the first at 0.

    A tempo equal to the one before it adds no segment. ValueError when the order or a tempo is impossible.
    """
    segments: list[Segment] = []
    for onset, quarter_us in tempos:
        if not 0 < quarter_us <= SLOWEST_US:
            raise ValueError(f"a quarter of {quarter_us} microseconds does not fit a MIDI file")
        if not segments:
            if onset:
                raise ValueError("a tempo map starts at beat 0")
            segments.append(Segment(onset, Seconds(0), quarter_us))
            continue
        last = segments[-1]
        if onset <= last.onset:
            raise ValueError("tempos must come in rising order of onset")
        if quarter_us != last.quarter_us:
            start = last.start + last.quarter * (onset - last.onset).exact
            segments.append(Segment(onset, start, quarter_us))
    if not segments:
        raise ValueError("a tempo map needs at least one tempo")
    return TempoMap(tuple(segments))
