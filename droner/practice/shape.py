"""Time a phrase: where its notes fall, how long the last one is held, how much rest is left before the bar line.

Rule    a phrase fills whole bars. In a rhythm its last note falls on a beat and is held as long as air and bar allow;
        notes that do not fill a last rhythm cell share its length evenly: the line broadens into its end. Written
        lengths stand as they are, but where they end inside a bar that leaves too little time to breathe, the
        last note gives some of its own, up to half.
Units   onsets within a phrase in Beats from its bar line; air and rest in Seconds.
Source  time to breathe, a broadened ending: common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import accumulate
from typing import TYPE_CHECKING

from droner.theory.tempo import lasting
from droner.units import Beats, Seconds

if TYPE_CHECKING:
    from droner.practice.pattern import Rhythm
    from droner.theory.meter import Meter

REST_AFTER_PHRASE = Seconds(1)
"""Least time to breathe where the air ran out. Common practice, no source."""
REST_AFTER_CELL = Seconds(3, 5)
"""Least time between short patterns that hardly used the air. Common practice, no source."""
LONG_PHRASE = Seconds(5)
LEAST_HOLD = 1
"""Felt beats for which the last note of a phrase is held at least."""


@dataclass(frozen=True, slots=True, eq=False)
class Pace:
    """What a line is timed by. `rhythm` None: the drill's own lengths. Shapes are remembered for each pace."""

    meter: Meter
    quarter_us: int
    air: Seconds
    rhythm: Rhythm | None


Slot = tuple[Beats, Beats, int, int, int]
"""Onset, length, group, place in group and group size of a note."""
Slots = tuple[Slot, ...]
Shape = tuple[Slots, Beats, Beats]
"""The slots of a phrase, its length in whole bars, and the rest at its end."""


@lru_cache(maxsize=8192)
def rhythm_shape(count: int, pace: Pace) -> Shape:
    """A phrase of so many notes in the pace's rhythm: its last note is held until the rest, if the air carries it."""
    slots = _slots(count, _lengths(pace), pace.meter.beat)
    onset = slots[-1][0]
    hold, length = _ending(onset, pace)
    return (*slots[:-1], (onset, hold, *slots[-1][2:])), length, length - onset - hold


@lru_cache(maxsize=8192)
def _ending(onset: Beats, pace: Pace) -> tuple[Beats, Beats]:
    """How long a last note at `onset` is held, and the length of its phrase."""
    least = pace.meter.beat * LEAST_HOLD
    length = _whole_bars(onset + least + _rest(onset + least, pace), pace)
    return _held(onset, least, length, pace), length


def needless_rest(cells: int, pace: Pace) -> Beats:
    """How much longer than a breath the rest is after so many cells of the rhythm and their held note."""
    onset = cell_length(pace) * cells
    hold, length = _ending(onset, pace)
    return length - onset - hold - _rest(onset + hold, pace)


def _held(onset: Beats, least: Beats, length: Beats, pace: Pace) -> Beats:
    """How long the last note is held: to the rest, or as many whole beats as the air allows; at least `least`."""
    beat = pace.meter.beat
    left = pace.air - lasting(onset, pace.quarter_us)
    carried = beat * int(left.ratio(lasting(beat, pace.quarter_us)))
    hold = max(min(length - _rest(onset + least, pace) - onset, carried), least)
    return max(min(hold, length - _rest(onset + hold, pace) - onset), least)


@lru_cache(maxsize=1024)
def written_shape(lengths: tuple[Beats, ...], pace: Pace) -> Shape:
    """A phrase in the drill's own lengths."""
    sounding = sum(lengths, Beats(0))
    rest, filled = _rest(sounding, pace), _whole_bars(sounding, pace)
    short = sounding + rest - filled
    if sounding < filled and short <= min(lengths[-1] / 2, lengths[-1] - pace.meter.beat):
        lengths = (*lengths[:-1], min(lengths[-1] - short, lengths[-1]))
        sounding = sum(lengths, Beats(0))
    length = _whole_bars(sounding + rest, pace)
    return _written_slots(lengths), length, length - sounding


def written_rest(lengths: tuple[Beats, ...], pace: Pace) -> Beats:
    """How much longer than a breath the rest is after a phrase in the drill's own lengths."""
    _, length, rest = written_shape(lengths, pace)
    return rest - _rest(length - rest, pace)


def cell_length(pace: Pace) -> Beats:
    """The length of the rhythm cell of a pace that has one."""
    return sum(_lengths(pace), Beats(0))


def _lengths(pace: Pace) -> tuple[Beats, ...]:
    """The rhythm cell of a pace that has one."""
    assert pace.rhythm is not None, "drills with their own lengths are timed by them"  # noqa: S101 - callers look
    return pace.rhythm.lengths


def _whole_bars(length: Beats, pace: Pace) -> Beats:
    """The length of the bars that so much fills or begins."""
    return pace.meter.bar * int(-(-length.exact // pace.meter.bar.exact))


def _rest(sounding: Beats, pace: Pace) -> Beats:
    """Time to breathe after a phrase, in whole felt beats."""
    long, tired, fresh = _rests(pace)
    return tired if sounding >= long else fresh


@lru_cache(maxsize=1024)
def _rests(pace: Pace) -> tuple[Beats, Beats, Beats]:
    """From which length on a phrase is long; time to breathe after a long one and after a short one."""
    second = Beats(Fraction(1_000_000, pace.quarter_us))

    def rest(least: Seconds) -> Beats:
        return pace.meter.beat * int(-(-(second * least.exact).ratio(pace.meter.beat) // 1))

    return second * LONG_PHRASE.exact, rest(REST_AFTER_PHRASE), rest(REST_AFTER_CELL)


@lru_cache(maxsize=4096)
def _slots(count: int, lengths: tuple[Beats, ...], beat: Beats) -> Slots:
    """Onset, length, group, place in group and group size of each note; the last one held on a beat."""
    size, group_length = len(lengths), sum(lengths, Beats(0))
    starts = tuple(accumulate(lengths[:-1], initial=Beats(0)))
    full, left = divmod(count - 1, size)
    slots = [
        (group_length * group + starts[place], lengths[place], group, place, size)
        for group in range(full)
        for place in range(size)
    ]
    if left:
        share = group_length / left
        slots += [(group_length * full + share * at, share, full, at, left) for at in range(left)]
    groups = full + bool(left)
    return (*slots, (group_length * groups, beat * LEAST_HOLD, groups, 0, 1))


def _written_slots(lengths: tuple[Beats, ...]) -> Slots:
    onsets = accumulate(lengths[:-1], initial=Beats(0))
    return tuple(
        (onset, length, 0, place, len(lengths))
        for place, (onset, length) in enumerate(zip(onsets, lengths, strict=True))
    )
