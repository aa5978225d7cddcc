"""Divide what is too long for a day: a drill's phrases, a block's own keys.

Rule    what is divided is carried through the rotation: each key brings its equal share, so that whatever the days
        are like, each goes on where the one before it stopped, round and round. A day that is too short for the
        share of one key plays a part of it, and another part when that share comes again.
Units   costs in whole microseconds.
Source  arithmetic: shares are whole numbers between neighbouring multiples of one fraction, so none is missed.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING

from droner.practice.layout.line import DoesNotFit
from droner.theory.tempo import lasting
from droner.units import Seconds

if TYPE_CHECKING:
    from droner.practice.item import Item
    from droner.practice.standing import Standing

MICROSECONDS = 1_000_000
LEAST_PORTION_US = 45 * MICROSECONDS
"""A divided drill is given at least this much, or all of it. Common practice, no source."""
WHOLE = Fraction(100)


@dataclass(frozen=True, slots=True)
class Size:
    """How much a day has time for: so many keys, and with a single key one of so many parts of what is divided.

    `more`: further keys of the day, by how far they are ahead, which bring no share of what is divided. `longer`: so
    many phrases are played beyond the day's share, if there are so many; the next day goes on after its share.
    """

    keys: int
    parts: int = 1
    more: tuple[int, ...] = ()
    longer: int = 0


@dataclass(frozen=True, slots=True)
class Divided:
    """So many units, how many of them a full day plays, and how many a portion has at least."""

    units: int
    full: int
    least: int


NOTHING = Divided(0, 0, 0)


def divided_keys(costs: tuple[int, ...], cap_us: int | None) -> Divided:
    """A block's own keys; each is played whole."""
    return _within(len(costs), 1, sum(costs), max(costs), 0, cap_us) if costs else NOTHING


def divided_phrases(item: Item | DoesNotFit, whole_us: int, cap_us: int | None) -> Divided:
    """The phrases of an item."""
    if isinstance(item, DoesNotFit):
        return NOTHING
    repeats, course = item.performance.repeats, item.course
    slowest = [course.quarter_us(repeat.speed * min(course.glide or (WHOLE,)) / WHOLE) for repeat in repeats]
    longest = max(placed.phrase.length for repeat in repeats for placed in repeat.phrases)
    counts = (lasting(repeat.lead_in + repeat.count_in, each) for repeat, each in zip(repeats, slowest, strict=True))
    units = len(repeats[0].phrases)
    least = min(-(-units * LEAST_PORTION_US // whole_us), units)
    most = sum((lasting(longest, each) for each in slowest), Seconds(0))
    return _within(units, least, whole_us, _us(most), _us(sum(counts, Seconds(0))), cap_us)


def _us(length: Seconds) -> int:
    return ceil(length.exact * MICROSECONDS)


def _within(units: int, least: int, whole_us: int, most_us: int, overhead_us: int, cap_us: int | None) -> Divided:
    """What a block's own minutes allow: `most_us` a unit at most, and `overhead_us` for the count-ins."""
    full = units
    if cap_us is not None and whole_us > cap_us:
        full = min(max((cap_us - overhead_us) // most_us, 0), units)
    return Divided(units, full, min(least, full))


def portion(divided: Divided, size: Size, standing: Standing) -> tuple[int, int]:
    """The first unit that a day of this size plays, and how many."""
    units, least = divided.units, divided.least
    behind = standing.carried(size.keys)
    start, stop = (divided.full * keys // standing.keys for keys in (behind, behind + size.keys))
    count = stop - start
    if size.parts == 1 or count <= least:
        return start % units, _longer(max(count, least), divided, size)
    step = max(-(-count // size.parts), least)
    part = start // units % -(-count // step)
    return (start + min(part * step, count - step)) % units, _longer(step, divided, size)


def _longer(count: int, divided: Divided, size: Size) -> int:
    return max(count, min(count + size.longer, divided.full))
