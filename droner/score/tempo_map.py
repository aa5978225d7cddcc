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

from droner.units import Beats, Seconds

MICROSECONDS_A_MINUTE = 60_000_000
SLOWEST_US = 0xFFFFFF
"""Longest quarter a MIDI file can hold: 16.8 s."""


def us_per_quarter(bpm: Fraction | float, beat: Beats = Beats(1)) -> int:  # noqa: B008 - Beats never change
    """Whole microseconds a quarter for `bpm` beats of length `beat` a minute, rounded half up."""
    exact = MICROSECONDS_A_MINUTE / (Fraction(bpm) * beat.exact)
    whole = int((exact * 2 + 1) // 2)
    if not 0 < whole <= SLOWEST_US:
        raise ValueError(f"{float(bpm):g} beats a minute cannot be written in a MIDI file")
    return whole


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


def glide(onset: Beats, length: Beats, from_us: int, to_us: int, step: Beats) -> list[tuple[Beats, int]]:
    """A gradual change of tempo as a stair of `step`: the first stair at `from_us`, the last at `to_us`.

    The tempo (not the quarter's length) moves by equal amounts, as a player feels it.
    """
    stairs = max(int(length.ratio(step)), 1)
    slow, fast = Fraction(1, from_us), Fraction(1, to_us)
    return [
        (onset + step * stair, round(1 / (slow + (fast - slow) * Fraction(stair, max(stairs - 1, 1)))))
        for stair in range(stairs)
    ]
