"""Say which key and which variant an item brings, so that every pair comes round.

Rule    item i brings key i mod K and variant (i div K + offset of that key) mod V. K items are a lap and hold
        every key; K x V items are a cycle and hold every pair once, whatever the offsets: one key meets one
        variant a lap, the next one each lap, and V laps are all of them.
        The position is a number of items. Moved by completion, a missed day or a short one changes nothing.
        Moved by the calendar, it is the days since the first one, times the keys a day; 0 before the first.
        The offsets only make a day varied: each key stands the same step past the key before it. The step
        shares no factor with V, so that a lap brings as many different variants as it can; among such steps it
        is the one whose nearest variants within any run of six items, round the end of a lap too, lie
        furthest apart in the table; among equals the nearest to the golden section.
Units   keys, variants and items count from 0; the player is shown them from 1.
Source  arithmetic: division with remainder; the proof is counted, not claimed, by `proof`.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from math import gcd
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from droner.practice.session import RotationOrder

RUN = 6
"""Neighbouring items that should differ most: the keys of a usual day."""
GOLDEN_SECTION = (3 - 5**0.5) / 2
FIRST_DAY = date(2000, 1, 1)
"""Counted from where a session moves by the calendar and names no first day. Any day would do."""

AT_LEAST_ONE = "a rotation has at least one key and one variant, and an offset for each key"

Pair = tuple[int, int]


class Walk(Protocol):
    """Anything that brings a key and a variant with each item."""

    @property
    def keys(self) -> int:
        """How many keys."""

    @property
    def variants(self) -> int:
        """How many variants."""

    def pair(self, item: int) -> Pair:
        """The key and the variant of an item."""


@dataclass(frozen=True, slots=True)
class Rotation:
    """So many keys through so many variants, with one offset a key. Build with `rotation`."""

    keys: int
    variants: int
    offsets: tuple[int, ...]

    def __post_init__(self) -> None:
        if self.keys < 1 or self.variants < 1 or len(self.offsets) != self.keys:
            raise ValueError(AT_LEAST_ONE)

    @property
    def cycle(self) -> int:
        """Items until everything has come round."""
        return self.keys * self.variants

    def pair(self, item: int) -> Pair:
        """The key and the variant of an item."""
        lap, key = divmod(item, self.keys)
        return key, (lap + self.offsets[key]) % self.variants

    def pairs(self, first: int, count: int) -> tuple[Pair, ...]:
        """The keys and variants of so many items from a position on: a day's."""
        return tuple(self.pair(item) for item in range(first, first + count))

    def days_to_complete(self, done: int, per_day: int) -> int:
        """Practice days until the cycle that `done` stands in is full. ValueError for no items a day."""
        if per_day < 1:
            raise ValueError("a day without items never completes a rotation")
        return -(-(self.cycle - done % self.cycle) // per_day)

    @property
    def rule(self) -> str:
        """The rule with its numbers, for a player who wants to reckon it again."""
        return (
            f"Item i (the first is 0) brings key i mod {self.keys} and variant "
            f"(i div {self.keys} + offset of the key) mod {self.variants}; "
            f"the offsets of the keys are {' '.join(map(str, self.offsets))}."
        )


@lru_cache(maxsize=256)
def rotation(keys: int, variants: int) -> Rotation:
    """So many keys through so many variants, with the offsets that vary a day most. ValueError for none."""
    if keys < 1 or variants < 1:
        raise ValueError(AT_LEAST_ONE)
    step = _widest_step(keys, variants)
    return Rotation(keys, variants, tuple(key * step % variants for key in range(keys)))


def _widest_step(keys: int, variants: int) -> int:
    steps = [step for step in range(1, variants + 1) if gcd(step, variants) == 1]
    golden = variants * GOLDEN_SECTION
    return max(steps, key=lambda step: (_nearest_first(keys, variants, step), -abs(step - golden)))


def _nearest_first(keys: int, variants: int, step: int) -> list[int]:
    """How far apart the variants of items within a run lie in the table, taken as a ring; the nearest first."""
    places = [item // keys + item % keys * step for item in range(keys + RUN)]
    gaps = range(1, min(RUN, variants))
    moves = [(places[item + gap] - places[item]) % variants for item in range(keys) for gap in gaps]
    return sorted(min(move, variants - move) for move in moves)


def position(order: RotationOrder, today: date) -> int:
    """Where the session's rotation stands today, in items."""
    if not order.by_calendar:
        return order.done
    return position_by_calendar(order.begins or FIRST_DAY, today, order.keys_per_day)


def position_by_calendar(begins: date, today: date, per_day: int) -> int:
    """Items due before today, played or not; 0 until the first day."""
    return max((today - begins).days, 0) * per_day


@dataclass(frozen=True, slots=True)
class Proof:
    """What one whole cycle holds, counted item by item."""

    keys: int
    variants: int
    different: int
    """Different pairs met."""
    most: int
    """How often the pair met most often was met."""
    full_laps: int
    """Laps that held every key."""

    @property
    def cycle(self) -> int:
        """How many pairs there are to meet, and items to meet them in."""
        return self.keys * self.variants

    @property
    def holds(self) -> bool:
        """Whether every pair came, so each once, since there were no more items; and every key in each lap."""
        return self.different == self.cycle and self.full_laps == self.variants

    @property
    def text(self) -> str:
        """The count in words."""
        return (
            f"{self.keys} keys x {self.variants} variants = {self.cycle} pairs. Counted over {self.cycle} items: "
            f"{self.different} different pairs, none more than {'once' if self.most == 1 else f'{self.most} times'}; "
            f"{self.full_laps} of {self.variants} laps hold every key. "
            f"{'Nothing is left out.' if self.holds else 'Something is left out.'}"
        )


def proof(walk: Walk) -> Proof:
    """Walk one cycle and count."""
    pairs = [walk.pair(item) for item in range(walk.keys * walk.variants)]
    times = Counter(pairs)
    laps = [pairs[start : start + walk.keys] for start in range(0, len(pairs), walk.keys)]
    full = sum(len({key for key, _ in lap}) == walk.keys for lap in laps)
    return Proof(walk.keys, walk.variants, len(times), max(times.values()), full)
