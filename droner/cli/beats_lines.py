"""Say what a chart of beats shows, before anything is drawn: its lines, points and labels, in the chart's own units.

Rule    how fast a note beats for each cent hangs on the drone's partial alone: partial n of a drone of d hertz gives
        n d ln 2 / 1200. Notes that meet the same partial therefore share a line, and its label. Every line starts
        at the pure note, so lines never cross, and a label at its end names it without a key to look up.
Units   x cents off the pure note, negative flat; y beats a second.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from textwrap import wrap
from typing import TYPE_CHECKING

from droner.cli.beats_page import equal_note_hz
from droner.theory.beats import ROUGH_HZ
from droner.theory.cents import cents_between

if TYPE_CHECKING:
    from droner.theory.beats import DegreeBeats
    from droner.theory.tuning import Tuning

MOST_CENTS = 25
HIGHEST_RATE_HZ = 30.0
"""What beats faster is rough, and counted by nobody."""
LEAST_TOP_HZ = 8.0
"""So high that the countable band is seen whole, and a little beyond."""
LEAST_ROUGH_TOP_HZ = 18.0
"""Where the rough band is seen at all, it has room for its name."""
ROOM_ABOVE = 1.05
"""The top of the chart, against the end of the fastest clear line."""
LABEL_LETTERS = 18
NEAR_CENTS, NEAR_HZ = 0.5, 0.25
"""Points nearer than this share a name."""


@dataclass(frozen=True, slots=True)
class Point:
    """A place on a line where a note stands, with the note's name."""

    note: str
    cents: float
    rate_hz: float


@dataclass(frozen=True, slots=True)
class Line:
    """Notes that beat alike. Its right arm ends at the edge of the chart: at its side, or at its top."""

    drone_partial: int
    clear: bool
    rows: tuple[DegreeBeats, ...]

    @property
    def label(self) -> str:
        """The notes, and the partial of the drone that they meet; in lines short enough to stand beside the chart."""
        names = f"{', '.join(str(row.note) for row in self.rows)} ({self.drone_partial})"
        return "\n".join(wrap(names, LABEL_LETTERS))

    def rate_hz(self, cents: float) -> float:
        """Beats a second at so many cents off."""
        return abs(self.rows[0].beat_hz_at(cents))

    def cents(self, rate_hz: float) -> float:
        """How far sharp it beats so fast: the player's partial lies so many hertz above the drone's."""
        met_hz = self.drone_partial * self.rows[0].drone_hz
        return cents_between(met_hz, met_hz + rate_hz)


@dataclass(frozen=True, slots=True)
class Chart:
    """What is drawn. `outside` are the clear notes whose tuner's zero lies beyond its edges."""

    top_hz: float
    lines: tuple[Line, ...]
    equal: tuple[Point, ...]
    tuned: tuple[Point, ...]
    outside: tuple[Point, ...]


def chart_of(rows: Sequence[DegreeBeats], tuning: Tuning) -> Chart:
    """The chart of some notes against one drone. Just and equal tuning show in the lines and points as they are."""
    lines = _lines(rows)
    top_hz = top_of(lines)
    equal = [_point(row, equal_note_hz(row), row.equal_beat_hz) for row in rows]
    of_its_own = tuning.temperament.name not in ("just", "equal")
    tuned = [_point(row, _tuned_note_hz(row), row.tuned_beat_hz) for row in rows if of_its_own]
    inside = [point for point in equal if _is_inside(point, top_hz)]
    return Chart(
        top_hz,
        lines,
        tuple(inside),
        tuple(point for point in tuned if _is_inside(point, top_hz)),
        tuple(point for point, row in zip(equal, rows, strict=True) if row.clear and point not in inside),
    )


def end_of(line: Line, top_hz: float) -> tuple[float, float]:
    """Where the right arm leaves the chart."""
    at_side = line.rate_hz(MOST_CENTS)
    if at_side <= top_hz:
        return float(MOST_CENTS), at_side
    return line.cents(top_hz), top_hz


def spread(wanted: Sequence[float], sizes: Sequence[float], low: float, high: float) -> list[float]:
    """The centres of labels side by side, as near as can be to where they are wanted, in rising order.

    They keep within `low` and `high` while there is room; with too little they pass `low`.
    """
    centres: list[float] = []
    edge = low
    for want, size in zip(wanted, sizes, strict=True):
        centres.append(max(want, edge + size / 2))
        edge = centres[-1] + size / 2
    edge = high
    for place in range(len(centres) - 1, -1, -1):
        centres[place] = min(centres[place], edge - sizes[place] / 2)
        edge = centres[place] - sizes[place] / 2
    return centres


def _lines(rows: Iterable[DegreeBeats]) -> tuple[Line, ...]:
    """One line for each partial of the drone that is met, from the slowest to the fastest."""
    alike: dict[tuple[int, bool], list[DegreeBeats]] = {}
    for row in rows:
        alike.setdefault((row.drone_partial, row.clear), []).append(row)
    return tuple(Line(partial, clear, tuple(met)) for (partial, clear), met in sorted(alike.items()))


def top_of(lines: Sequence[Line]) -> float:
    """The fastest clear line is seen whole, unless it is rougher than anybody counts."""
    shown = [line for line in lines if line.clear] or lines
    fastest = max(line.rate_hz(MOST_CENTS) for line in shown) * ROOM_ABOVE
    if fastest > ROUGH_HZ:
        return max(LEAST_ROUGH_TOP_HZ, min(fastest, HIGHEST_RATE_HZ))
    return max(LEAST_TOP_HZ, fastest)


def named_points(points: Iterable[Point]) -> tuple[Point, ...]:
    """Points that stand nearly together as one, which bears all their names."""
    named: list[Point] = []
    for point in points:
        for place, other in enumerate(named):
            if abs(other.cents - point.cents) < NEAR_CENTS and abs(other.rate_hz - point.rate_hz) < NEAR_HZ:
                named[place] = replace(other, note=f"{other.note}, {point.note}")
                break
        else:
            named.append(point)
    return tuple(named)


def _point(row: DegreeBeats, note_hz: float, beat_hz: float) -> Point:
    return Point(str(row.note), cents_between(row.target_hz, note_hz), abs(beat_hz))


def _tuned_note_hz(row: DegreeBeats) -> float:
    return (row.tuned_beat_hz + row.drone_partial * row.drone_hz) / row.player_partial


def _is_inside(point: Point, top_hz: float) -> bool:
    return abs(point.cents) <= MOST_CENTS and point.rate_hz <= top_hz
