"""Find the tempos from slow to target.

Rule    without a step, the traditional metronome's numbers from slow to target, and the target itself; slower than
        the numbers go, halves of them; faster, doubles. A slow end between two numbers starts on the first above it.
        Steps in per cent are counted from the slow end. Where they are as large as the metronome's own smallest, each
        goes to the nearest number; where they are smaller, to the nearest whole beat a minute. Steps in beats a minute
        go nowhere else.
        Near the target each step that begins at `fine_from` per cent of it, or above, is halved at the nearest whole
        beat a minute, if there is one between; of two equally near, the slower. Nothing is ever slower or faster
        than the player asked.
Units   beats a minute; per cent.
Source  metronome numbers: `theory.metronome_table`. Finer steps near the edge: common practice, no source.
"""

from __future__ import annotations

from bisect import bisect_left
from fractions import Fraction
from itertools import pairwise, takewhile
from math import ceil
from typing import TYPE_CHECKING

from droner.theory.metronome_table import TRADITIONAL_BPM

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from droner.practice.session import LadderOrder

NUMBERS = tuple(sorted({Fraction(number) * times for number in TRADITIONAL_BPM for times in (Fraction(1, 2), 1, 2)}))
"""The metronome's numbers and, an octave on either side, their halves and doubles: no other in between."""
SMALLEST_STEP_PER_CENT = 100 * (min(Fraction(high, low) for low, high in pairwise(TRADITIONAL_BPM)) - 1)
HALF = Fraction(1, 2)


def tempos(order: LadderOrder) -> tuple[Fraction, ...]:
    """Every tempo from slow to target, the target last. ValueError for a ladder that does not climb."""
    slow, target = order.from_bpm, order.to_bpm
    if target < slow:
        raise ValueError(f"a ladder climbs: its target {target} is slower than its start {slow}")
    inside = sorted({tempo for tempo in _steps(order) if slow <= tempo < target})
    below = inside or [slow] * (slow < target)
    return tuple(_finer((*below, target), target * order.fine_from / 100))


def _steps(order: LadderOrder) -> Iterable[Fraction]:
    """The tempos below the target, as the order asks for steps."""
    if order.step_bpm is None and order.step_per_cent is None:
        return NUMBERS
    if (order.step_bpm or order.step_per_cent or 0) <= 0:
        raise ValueError("a ladder climbs: its step is larger than 0")
    if order.step_bpm:
        return _added(order.from_bpm, order.step_bpm, order.to_bpm)
    return map(_whole if _is_small(order) else _number, _multiplied(order))


def _is_small(order: LadderOrder) -> bool:
    """Whether its steps are smaller than the metronome's."""
    return (order.step_per_cent or 0) < SMALLEST_STEP_PER_CENT


def _added(slow: Fraction, step: Fraction, target: Fraction) -> Iterator[Fraction]:
    return (slow + step * count for count in range(ceil((target - slow) / step)))


def _multiplied(order: LadderOrder) -> Iterator[Fraction]:
    return takewhile(lambda tempo: tempo < order.to_bpm, _grown(order.from_bpm, order.step_per_cent or Fraction(0)))


def _grown(tempo: Fraction, per_cent: Fraction) -> Iterator[Fraction]:
    while True:
        yield tempo
        tempo += tempo * per_cent / 100


def _number(tempo: Fraction) -> Fraction:
    """The metronome's number nearest by ratio, the slower of two; beyond the numbers, a whole beat a minute."""
    place = bisect_left(NUMBERS, tempo)
    if not 0 < place < len(NUMBERS):
        return NUMBERS[place] if tempo == NUMBERS[0] else _whole(tempo)
    low, high = NUMBERS[place - 1 : place + 1]
    return low if tempo * tempo <= low * high else high


def _whole(tempo: Fraction) -> Fraction:
    """The nearest whole beat a minute, the slower of two."""
    return Fraction(ceil(tempo - HALF))


def _finer(steps: tuple[Fraction, ...], edge: Fraction) -> Iterator[Fraction]:
    """The steps, each that begins at the edge or above it in two."""
    for low, high in pairwise(steps):
        yield low
        middle = _whole((low + high) / 2)
        if low >= edge and low < middle < high:
            yield middle
    yield steps[-1]
