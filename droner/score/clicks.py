"""Write the click: the count-in with its own sound, then the item's click pattern over its bars.

Rule    clicks fall on the felt pulses of the meter, or at parts of them; the first pulse of a bar is the accent.
        Dropped clicks are drawn from the seed, so the same day drops the same ones on every machine.
        In compound time the half of a beat is its last third: what lies between two beats there.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from random import Random
from typing import TYPE_CHECKING

from droner.score.score import Click, ClickKind
from droner.units import Beats

if TYPE_CHECKING:
    from collections.abc import Iterator

    from droner.practice.item import Item
    from droner.practice.pattern import ClickPattern
    from droner.practice.performance import PlacedPhrase, Repeat
    from droner.theory.meter import Meter

LAST_THIRD = Fraction(2, 3)


@dataclass(frozen=True, slots=True)
class _BarOfClicks:
    """One played bar: where it starts, its number in the repeat from 0, and the phrase it belongs to."""

    onset: Beats
    number: int
    placed: PlacedPhrase


def click_part(item: Item, seed: int) -> tuple[Click, ...]:
    """The click part of an item, in order of onset, at most one click at a moment."""
    clicks: list[Click] = []
    for number, repeat in enumerate(item.performance.repeats):
        draw = Random(f"{seed} {item.name} {item.variant.number if item.variant else 0} {number}")
        clicks += _count_in(item.meter, repeat)
        clicks += _played(item, repeat, draw)
    return _one_a_moment(clicks)


def count_in_clicks(meter: Meter, onset: Beats, length: Beats) -> Iterator[Click]:
    """A count on every pulse of the bars from `onset`."""
    for bar in range(int(length.ratio(meter.bar))):
        for pulse in meter.pulses:
            yield Click(onset + meter.bar * bar + pulse, ClickKind.COUNT)


def bar_clicks(meter: Meter, pattern: ClickPattern, onset: Beats, gain: float = 1.0) -> Iterator[Click]:
    """What a pattern clicks in one bar."""
    stops = [*meter.pulses[1:], meter.bar]
    for number, (pulse, stop) in enumerate(zip(meter.pulses, stops, strict=True), 1):
        if pattern.beats and number not in pattern.beats:
            continue
        span = stop - pulse
        parts = pattern.divide or max(int(span.ratio(Beats(4, meter.unit))), meter.divisions)
        if meter.kind != "additive" and not pattern.divide:
            parts = meter.divisions
        start = onset + pulse + span * _late(pattern, meter)
        first = ClickKind.ACCENT if number == 1 and not pattern.offset else ClickKind.BEAT
        for part in range(parts):
            yield Click(start + span * Fraction(part, parts), ClickKind.SUBDIVISION if part else first, gain)


def _late(pattern: ClickPattern, meter: Meter) -> Fraction:
    return LAST_THIRD if pattern.offset and meter.divisions == 3 else pattern.offset


def _count_in(meter: Meter, repeat: Repeat) -> Iterator[Click]:
    return count_in_clicks(meter, repeat.onset, repeat.count_in)


def _played(item: Item, repeat: Repeat, draw: Random) -> Iterator[Click]:
    pattern = item.click
    for bar in _bars(item.meter, repeat):
        if pattern.silent or not is_heard(pattern, bar.number):
            continue
        gain = 1.0 if not pattern.fade_bars else max(1 - bar.number / pattern.fade_bars, 0.0)
        for click in bar_clicks(item.meter, pattern, bar.onset, gain):
            dropped = pattern.drop and draw.random() < pattern.drop
            elsewhere = pattern.only == "breaths" and not _in_breath(click.onset, bar.placed)
            if gain and not dropped and not elsewhere:
                yield click
    if not pattern.silent:
        yield from _on_notes(item, repeat)


def is_heard(pattern: ClickPattern, bar: int) -> bool:
    """Whether a bar, counted from 0, is one of the bars that are heard."""
    return bar % (pattern.bars_on + pattern.bars_off) < pattern.bars_on


def _bars(meter: Meter, repeat: Repeat) -> Iterator[_BarOfClicks]:
    number = 0
    for placed in repeat.phrases:
        for bar in range(int(placed.phrase.length.ratio(meter.bar))):
            yield _BarOfClicks(placed.onset + meter.bar * bar, number, placed)
            number += 1


def _in_breath(moment: Beats, placed: PlacedPhrase) -> bool:
    return moment >= placed.onset + placed.phrase.length - placed.phrase.rest


def _on_notes(item: Item, repeat: Repeat) -> Iterator[Click]:
    """Quiet clicks on the drill's own notes, where asked, and on the pulses of measured vibrato."""
    for placed in repeat.phrases:
        for timed in placed.phrase.notes:
            onset = placed.onset + timed.onset
            if item.click.on_rhythm:
                yield Click(onset, ClickKind.SUBDIVISION)
            pulses = timed.laid.pulses
            if pulses > 1:
                beats = int(timed.length.ratio(item.meter.beat))
                for pulse in range(beats * pulses):
                    yield Click(onset + item.meter.beat * Fraction(pulse, pulses), ClickKind.SUBDIVISION)


_LOUDEST_FIRST = (ClickKind.COUNT, ClickKind.ACCENT, ClickKind.BEAT, ClickKind.SUBDIVISION)


def _one_a_moment(clicks: list[Click]) -> tuple[Click, ...]:
    ordered = sorted(clicks, key=lambda click: (click.onset.exact, _LOUDEST_FIRST.index(click.kind)))
    return tuple(click for place, click in enumerate(ordered) if place == 0 or click.onset != ordered[place - 1].onset)
