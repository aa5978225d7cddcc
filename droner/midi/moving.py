"""Turn the course of a moving tone into pitch bends and expression, in steps too small to be heard as steps.

Rule    the bend is set anew where the pitch has moved by a quarter of a cent, but not more often than every 20 ms; each
        message stands exactly where the course then is, and one stands on every bearing. Expression likewise, by one
        step of its own. The note is struck as loud as it will ever be, and expression takes it down from there.
        A channel bends as a whole, so a moving tone has one for itself; its key is the nearest to the middle of where
        it goes. A plain tone has no sound in General MIDI that stands still, and plays like the others.
Units   moments in quarter notes (Beats); cents; decibels; bends of 14 bits.
Source  both velocity and controller 11 follow 40 log10(value / 127) dB: see `midi.loudness`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import ceil

from droner.midi.bend import BentKey, bend_on, bent_key
from droner.midi.controller_table import FULL
from droner.midi.instrument_table import HELD_VELOCITY
from droner.score.score import Tone
from droner.score.tempo_map import TempoMap
from droner.units import Beats, Seconds

CENTS_A_STEP = 0.25
SOONEST_S = Fraction(1, 50)
CENTS_AN_OCTAVE = 1200
DECIBELS_A_DECADE = 40
"""By how many decibels ten times the value is louder."""

Step = tuple[Beats, int]
"""A moment and the value that holds from then on."""


@dataclass(frozen=True, slots=True)
class _Line:
    """A straight piece of a course while its tone sounds; cents and decibels at both ends."""

    start: Seconds
    end: Seconds
    cents: tuple[float, float]
    gain_db: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Played:
    """How a held tone is played: its key, its bends from the onset on, its velocity, its expression."""

    key: int
    bends: tuple[Step, ...]
    velocity: int
    expression: tuple[Step, ...]

    @property
    def start(self) -> BentKey:
        """The key and its first bend."""
        return BentKey(self.key, self.bends[0][1])


def played(tone: Tone, tempos: TempoMap) -> Played:
    """How a tone is played, moving or still."""
    if not tone.course:
        bent = bent_key(tone.hz)
        return Played(bent.key, ((tone.onset, bent.bend),), _velocity(tone.gain_db), ((tone.onset, FULL),))
    lines = tuple(_lines(tone, tempos))
    cents = [each for line in lines for each in line.cents]
    loudest_db = max(each for line in lines for each in line.gain_db)
    key = bent_key(_hz(tone, (min(cents) + max(cents)) / 2)).key
    bends = _steps(lines, lambda line: line.cents, tempos, lambda at: bend_on(key, _hz(tone, at)), _bends_of)
    expression = _steps(
        lines, lambda line: line.gain_db, tempos, lambda at: _value(FULL, at - loudest_db), _expressions_of
    )
    return Played(key, bends, _velocity(tone.gain_db + loudest_db), expression)


def _hz(tone: Tone, cents: float) -> float:
    return float(tone.hz * 2 ** (cents / CENTS_AN_OCTAVE))


def _velocity(gain_db: float) -> int:
    return min(_value(HELD_VELOCITY, gain_db), FULL)


def _value(full: int, gain_db: float) -> int:
    return max(round(full * 10 ** (gain_db / DECIBELS_A_DECADE)), 1)


def _bends_of(cents: tuple[float, float]) -> int:
    return ceil(abs(cents[1] - cents[0]) / CENTS_A_STEP)


def _expressions_of(gain_db: tuple[float, float]) -> int:
    values = [_value(FULL, each - max(gain_db)) for each in gain_db]
    return abs(values[1] - values[0])


def _lines(tone: Tone, tempos: TempoMap) -> Iterator[_Line]:
    """The pieces of a course between the onset and the end of its tone, the still ones before and after it too."""
    first, last = tempos.seconds_at(tone.onset), tempos.seconds_at(tone.onset + tone.length)
    points = [(tempos.seconds_at(one.onset), one.cents, one.gain_db) for one in tone.course]
    before, after = (min(first, points[0][0]), *points[0][1:]), (max(last, points[-1][0]), *points[-1][1:])
    for one, other in pairwise((before, *points, after)):
        whole = _Line(one[0], other[0], (one[1], other[1]), (one[2], other[2]))
        start, end = max(first, whole.start), min(last, whole.end)
        if start < end:
            cents = _at(whole, whole.cents, start), _at(whole, whole.cents, end)
            yield _Line(start, end, cents, (_at(whole, whole.gain_db, start), _at(whole, whole.gain_db, end)))


def _at(line: _Line, ends: tuple[float, float], moment: Seconds) -> float:
    """The height of a line at a moment."""
    return ends[0] + (ends[1] - ends[0]) * float((moment - line.start).ratio(line.end - line.start))


def _steps(
    lines: tuple[_Line, ...],
    of: Callable[[_Line], tuple[float, float]],
    tempos: TempoMap,
    value: Callable[[float], int],
    count: Callable[[tuple[float, float]], int],
) -> tuple[Step, ...]:
    """The values along the lines, where they change."""
    steps: list[Step] = []
    for line in lines:
        ends, lasts = of(line), line.end - line.start
        parts = max(min(count(ends), ceil(lasts.exact / SOONEST_S)), 1)
        for part in range(parts):
            found = value(ends[0] + (ends[1] - ends[0]) * part / parts)
            if not steps or steps[-1][1] != found:
                steps.append((tempos.beats_at(line.start + lasts * Fraction(part, parts)), found))
    return tuple(steps)
