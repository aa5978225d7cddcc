"""Let a drone be silent for whole bars and come back, where it was or a little off.

Rule    bars are counted from bar 1 of each time through; lead-in and count-in sound. So many bars sound and so many
        are silent, in turn, and the last bar sounds always: a silence that would reach it is shortened, or left out.
        A drone that may come back off does so after every second silence, and after the next it is true again. So
        nothing tells sharp from flat but the ear that kept the pitch, and every time through begins and ends true.
        Where there is no time for all of that, the drone stays. Neither chords nor the guide sound beside such a drone:
        they would keep the pitch for the player. How far it is off is drawn from the seed, the item
        and the sessions before: the same day brings the same returns on every machine, and the next day others.
Units   bars as Beats of the item's meter; cents.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from random import Random
from typing import TYPE_CHECKING

from droner.theory.cents import factor_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from droner.practice.item import Item
    from droner.practice.pattern import DroneKind
    from droner.practice.performance import Repeat
    from droner.score.score import Tone
    from droner.units import Beats


@dataclass(frozen=True, slots=True)
class Sounding:
    """A stretch in which the drone sounds. `off_cents` None: it is true, and no return."""

    onset: Beats
    end: Beats
    off_cents: int | None = None


def soundings(item: Item, seed: int, sessions_before: int) -> tuple[Sounding, ...]:
    """When the drone of an item sounds, in order; stretches that touch are one."""
    found: list[Sounding] = []
    for number, repeat in enumerate(item.performance.repeats):
        draw = Random(f"{seed} {item.name} {item.variant.number if item.variant else 0} {number} {sessions_before}")
        for one in _of_repeat(item, repeat, draw):
            if found and found[-1].end == one.onset and found[-1].off_cents == one.off_cents:
                found[-1] = replace(found[-1], end=one.end)
            else:
                found.append(one)
    return tuple(found)


def _of_repeat(item: Item, repeat: Repeat, draw: Random) -> Iterator[Sounding]:
    first = repeat.phrases[0].onset
    if item.drone.only:
        if repeat.onset < first:
            yield Sounding(repeat.onset, first)
        return
    bar, bars = item.meter.bar, int((end_of(repeat) - first).ratio(item.meter.bar))
    spans = _returning(item.drone, bars) if item.drone.returns else _in_turn(item.drone, bars)
    for start, stop, is_return in spans:
        onset = first + bar * start if start else repeat.onset
        yield Sounding(onset, first + bar * stop, _drawn(item.drone.returns, draw) if is_return else None)


def end_of(repeat: Repeat) -> Beats:
    """The bar line at the end of one time through."""
    return repeat.phrases[-1].onset + repeat.phrases[-1].phrase.length


def _in_turn(kind: DroneKind, bars: int) -> Iterator[tuple[int, int, bool]]:
    """First bar and end of each sounding, counted from 0."""
    start = 0
    while kind.bars_off and (left := bars - start - kind.bars_on) > 1:
        yield start, start + kind.bars_on, False
        start += kind.bars_on + min(kind.bars_off, left - 1)
    yield start, bars, False


def _returning(kind: DroneKind, bars: int) -> Iterator[tuple[int, int, bool]]:
    """The same, true and off in turn; none off without time for a silence and a true bar after it."""
    start, turn = 0, kind.bars_on + kind.bars_off
    while start + 2 * turn < bars:
        yield start, start + kind.bars_on, False
        yield start + turn, start + turn + kind.bars_on, True
        start += 2 * turn
    yield start, bars, False


def _drawn(cents: Sequence[int], draw: Random) -> int:
    return cents[int(draw.random() * len(cents))]


def heard_in(soundings_of_item: Sequence[Sounding], tones: Sequence[Tone]) -> Iterator[Tone]:
    """What is heard of the tones, in order of onset: cut at the silences, and off where they come back off."""
    for one in soundings_of_item:
        factor = factor_of(one.off_cents or 0)
        for tone in tones:
            onset, end = max(tone.onset, one.onset), min(tone.onset + tone.length, one.end)
            if onset < end:
                yield replace(tone, onset=onset, length=end - onset, hz=tone.hz * factor)
