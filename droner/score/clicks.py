"""Write the click: the count-in with its own sound, then the item's click pattern over its bars.

Rule    clicks fall on the felt pulses of the meter, or at parts of them; the first pulse of a bar is the accent.
        A click between the beats is as many notes before the next pulse whatever the pulse holds: the half of a
        beat is its last eighth and the last sixteenth its last sixteenth, in four-four, in twelve-eight and in
        the groups of seven-eight. Thirds and fifths of a beat are meant as they are written.
        What a pattern leaves out, it leaves out of all its clicks, those on the notes and the pulses too.
        Dropped clicks are drawn from the seed, so the same day drops the same ones on every machine.
"""

from __future__ import annotations

from fractions import Fraction
from random import Random
from typing import TYPE_CHECKING

from droner.score.score import Click, ClickKind
from droner.units import Beats

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from droner.practice.item import Item
    from droner.practice.pattern import ClickPattern
    from droner.practice.performance import PlacedPhrase, Repeat
    from droner.theory.meter import Meter

PLAIN_PARTS = 2
"""A plain beat is two of the notes that its meter divides it into; a dotted one three, a group as many as it has."""
COUNT_GAIN = 0.6
"""Of the counts after the first of a bar: 4.4 dB softer, so that the bar is heard. Common practice, no source."""
_LOUDEST_FIRST = (ClickKind.COUNT, ClickKind.ACCENT, ClickKind.BEAT, ClickKind.SUBDIVISION)


def click_part(item: Item, seed: int) -> tuple[Click, ...]:
    """The click part of an item, in order of onset, at most one click at a moment."""
    clicks: list[Click] = []
    for number, repeat in enumerate(item.performance.repeats):
        draw = Random(f"{seed} {item.name} {item.variant.number if item.variant else 0} {number}")
        clicks += count_in_clicks(item.meter, repeat.counted, repeat.count_in)
        clicks += _played(item, repeat, draw)
    return tuple(clicks)


def count_in_clicks(meter: Meter, onset: Beats, length: Beats) -> Iterator[Click]:
    """A count on every pulse of the bars from `onset`, the first of each bar stronger."""
    for bar in range(int(length.ratio(meter.bar))):
        for place, pulse in enumerate(meter.pulses):
            yield Click(onset + meter.bar * bar + pulse, ClickKind.COUNT, COUNT_GAIN if place else 1.0)


def heard_in_bar(pattern: ClickPattern, bar: int, clicks: Iterable[Click], draw: Random) -> Iterator[Click]:
    """What is heard of the clicks of one bar, counted from 0: bars off, fading and dropped clicks left out."""
    gain = max(1 - bar / pattern.fade_bars, 0.0) if pattern.fade_bars else 1.0
    if pattern.silent or not gain or bar % (pattern.bars_on + pattern.bars_off) >= pattern.bars_on:
        return
    for click in _one_a_moment(clicks):
        if not (pattern.drop and draw.random() < pattern.drop):
            yield Click(click.onset, click.kind, gain)


def bar_clicks(meter: Meter, pattern: ClickPattern, onset: Beats) -> Iterator[Click]:
    """What a pattern writes in one bar; never beyond its bar line."""
    stops = [*meter.pulses[1:], meter.bar]
    first = ClickKind.BEAT if pattern.offset else ClickKind.ACCENT
    for number, (pulse, stop) in enumerate(zip(meter.pulses, stops, strict=True), 1):
        if pattern.beats and number not in pattern.beats:
            continue
        span = stop - pulse
        late, count = _late(pattern.offset, _parts(meter, span)), _count(pattern, meter, span)
        for part in range(count):
            kind = ClickKind.SUBDIVISION if part else first if number == 1 else ClickKind.BEAT
            yield Click(onset + pulse + span * ((late + Fraction(part, count)) % 1), kind)


def _parts(meter: Meter, span: Beats) -> int:
    """The notes that a pulse divides into: the eighths of a dotted beat or of a group, halves of a plain beat."""
    if meter.kind != "additive":
        return meter.divisions
    return max(int(span.ratio(Beats(4, meter.unit))), PLAIN_PARTS)


def _count(pattern: ClickPattern, meter: Meter, span: Beats) -> int:
    """So many clicks a pulse. A group has more where it is longer: four to a plain beat are six to a group of three."""
    parts = _parts(meter, span)
    if pattern.divide <= 1 or meter.kind != "additive":
        return pattern.divide or parts
    even = Fraction(pattern.divide * parts, PLAIN_PARTS)
    return int(even) if even.denominator == 1 else pattern.divide


def _late(offset: Fraction, parts: int) -> Fraction:
    """The part of a pulse by which a click is late."""
    is_binary = offset.denominator & (offset.denominator - 1) == 0
    return 1 - (1 - offset) * PLAIN_PARTS / parts if offset and is_binary else offset


def _played(item: Item, repeat: Repeat, draw: Random) -> Iterator[Click]:
    pattern, meter, number = item.click, item.meter, 0
    for placed in repeat.phrases:
        on_notes = [Click(moment, ClickKind.SUBDIVISION) for moment in _moments(item, placed)]
        for bar in range(int(placed.phrase.length.ratio(meter.bar))):
            onset = placed.onset + meter.bar * bar
            own = [click for click in on_notes if onset <= click.onset < onset + meter.bar]
            for click in heard_in_bar(pattern, number, [*bar_clicks(meter, pattern, onset), *own], draw):
                if pattern.only != "breaths" or _in_breath(click.onset, placed):
                    yield click
            number += 1


def _in_breath(moment: Beats, placed: PlacedPhrase) -> bool:
    return moment >= placed.onset + placed.phrase.length - placed.phrase.rest


def _moments(item: Item, placed: PlacedPhrase) -> Iterator[Beats]:
    """Where quiet clicks fall: on the drill's own notes, where asked, and on the pulses of measured vibrato."""
    beat = item.meter.beat
    for timed in placed.phrase.notes:
        onset, pulses = placed.onset + timed.onset, timed.laid.pulses
        if item.click.on_rhythm:
            yield onset
        if pulses > 1:
            for pulse in range(int(timed.length.ratio(beat)) * pulses):
                yield onset + beat * Fraction(pulse, pulses)


def _one_a_moment(clicks: Iterable[Click]) -> list[Click]:
    ordered = sorted(clicks, key=lambda click: (click.onset.exact, _LOUDEST_FIRST.index(click.kind)))
    return [click for place, click in enumerate(ordered) if place == 0 or click.onset != ordered[place - 1].onset]
