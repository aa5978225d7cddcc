"""Fit a day's blocks into its minutes.

Rule    first fewer keys, the same for every block that follows the rotation; long drills that can be divided give
        up their share and go on another day where they stopped; only then are blocks left out, the last in the
        file first. What is left out is said, with the reason.
Units   costs in whole microseconds, rounded up, so that a plan can never overrun by rounding.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING

from droner.practice.line import DoesNotFit

if TYPE_CHECKING:
    from droner.practice.item import Item
    from droner.practice.items import Items
    from droner.practice.pattern import Variant
    from droner.practice.session import Block
    from droner.theory.key import Key
    from droner.units import Seconds

MICROSECONDS = 1_000_000
LEAST_PORTION_US = 45 * MICROSECONDS
"""A divided drill is given at least this much, or all of it. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Fit:
    """What is to be fitted: the day's (key, variant) pairs, which lap and day it is, and the budget."""

    items: Items
    pairs: tuple[tuple[Key, Variant | None], ...]
    lap: int
    day_number: int
    budget: Seconds


@dataclass(frozen=True, slots=True)
class Chosen:
    """One item taken into the day. `ahead`: how far from the rotation's place; None when it does not follow it."""

    item: Item
    ahead: int | None
    cut_short: bool = False


@dataclass(frozen=True, slots=True)
class LeftOut:
    """What the day goes without, and why."""

    drill: str
    why: str


@dataclass(frozen=True, slots=True)
class Fitted:
    """The day's items in order, how many keys of the rotation it takes, and what it goes without."""

    chosen: tuple[Chosen, ...]
    keys: int
    left_out: tuple[LeftOut, ...]


@dataclass(frozen=True, slots=True)
class _Wish:
    """All that one block would like to play today. `rotating`: item k stands in the k-th key of the day."""

    block: Block
    items: tuple[Item | DoesNotFit, ...]
    costs: tuple[int, ...]
    rotating: bool
    flexible: bool

    @property
    def cap(self) -> int | None:
        """The block's own limit."""
        return None if self.block.minutes is None else int(self.block.minutes * 60 * MICROSECONDS)

    def whole(self, keys: int) -> int:
        """What the block costs with so many keys of the day, within its own limit."""
        cost = sum(self.costs[:keys]) if self.rotating else sum(self.costs)
        return min(cost, self.cap) if self.flexible and self.cap is not None else cost


def fit(asked: Fit) -> Fitted:
    """Choose the day's items."""
    budget = int(asked.budget.exact * MICROSECONDS)
    wishes = [_wish(block, asked) for block in asked.items.session.blocks]
    unfit = tuple(
        LeftOut(wish.block.drill, str(item)) for wish in wishes for item in wish.items if isinstance(item, DoesNotFit)
    )
    dropped: list[LeftOut] = []
    while wishes:
        keys = _keys_that_fit(wishes, asked, budget)
        if keys is not None or len(wishes) == 1:
            break
        gone = wishes.pop()
        dropped.insert(0, LeftOut(gone.block.drill, "the day is too short for it"))
    chosen, over = _choose(wishes, keys or 1, asked, budget)
    rotates = any(wish.rotating for wish in wishes)
    return Fitted(chosen, (keys or 1) if rotates else len(asked.pairs), (*unfit, *dropped, *over))


def cost_us(item: Item | DoesNotFit) -> int:
    """What an item takes out of the day."""
    return 0 if isinstance(item, DoesNotFit) else ceil(item.seconds.exact * MICROSECONDS)


def _wish(block: Block, asked: Fit) -> _Wish:
    items, drill = asked.items, asked.items.drill(block)
    variant = _fixed_variant(block, asked)
    rotating = False
    if not drill.keyed:
        found: tuple[Item | DoesNotFit, ...] = (items.item(block, None, variant or asked.pairs[0][1]),)
    elif block.keys is not None:
        found = tuple(items.item(block, key, variant or asked.pairs[0][1]) for key in block.keys)
    else:
        pairs = asked.pairs
        if drill.one_key if block.one_key is None else block.one_key:
            pairs = (pairs[asked.lap % len(pairs)],)
        else:
            rotating = True
        found = tuple(items.item(block, key, today if block.variant is None else variant) for key, today in pairs)
    flexible = not rotating and (drill.divisible or len(found) > 1)
    return _Wish(block, found, tuple(map(cost_us, found)), rotating, flexible)


def _fixed_variant(block: Block, asked: Fit) -> Variant | None:
    if not block.variant:
        return None
    return asked.items.patterns.variants[block.variant - 1]


def _keys_that_fit(wishes: list[_Wish], asked: Fit, budget: int) -> int | None:
    """The most keys of the day for which everything has its place; None when not even one has."""
    for keys in range(_most_keys(wishes, len(asked.pairs)), 0, -1):
        if sum(_least(wish, keys, wishes, budget) for wish in wishes) <= budget:
            return keys
    return None


def _most_keys(wishes: list[_Wish], asked: int) -> int:
    """The keys that every rotating block's own limit allows; at least one."""
    for wish in wishes:
        if wish.rotating and wish.cap is not None:
            while asked > 1 and sum(wish.costs[:asked]) > wish.cap:
                asked -= 1
    return asked


def _least(wish: _Wish, keys: int, wishes: list[_Wish], budget: int) -> int:
    """What a block insists on: all of it, or its share when it can be divided."""
    whole = wish.whole(keys)
    if not wish.flexible:
        return whole
    asked = sum(other.whole(len(other.costs)) for other in wishes)
    return min(whole, max(int(whole * Fraction(budget, max(asked, budget))), LEAST_PORTION_US))


def _choose(wishes: list[_Wish], keys: int, asked: Fit, budget: int) -> tuple[tuple[Chosen, ...], tuple[LeftOut, ...]]:
    """The items, block by block; what the insisted shares leave over goes to the first that can use it."""
    spare = budget - sum(_least(wish, keys, wishes, budget) for wish in wishes)
    chosen: list[Chosen] = []
    over: list[LeftOut] = []
    for wish in wishes:
        least = _least(wish, keys, wishes, budget)
        taken = _take(wish, keys, least + max(spare, 0), asked)
        cost = sum(cost_us(one.item) for one in taken)
        spare -= cost - least
        if spare < 0 and not wish.flexible:
            over.append(LeftOut(wish.block.drill, "it alone is longer than the day"))
            spare += cost
            continue
        chosen += taken
        if not taken and not any(isinstance(item, DoesNotFit) for item in wish.items):
            over.append(LeftOut(wish.block.drill, "the day is too short for any of it"))
    return tuple(chosen), tuple(over)


def _take(wish: _Wish, keys: int, allowance: int, asked: Fit) -> list[Chosen]:
    if wish.rotating:
        return [Chosen(item, ahead) for ahead, item in enumerate(wish.items[:keys]) if not isinstance(item, DoesNotFit)]
    items = [item for item in wish.items if not isinstance(item, DoesNotFit)]
    if not wish.flexible:
        return [Chosen(item, None) for item in items]
    allowance = allowance if wish.cap is None else min(allowance, wish.cap)
    if len(items) > 1:
        return _some_keys(items, allowance, asked.day_number)
    return [_portion(item, allowance, asked) for item in items]


def _some_keys(items: list[Item], allowance: int, day_number: int) -> list[Chosen]:
    """As many of a block's own keys as fit, going on each day where the day before stopped."""
    if sum(map(cost_us, items)) <= allowance:
        return [Chosen(item, None) for item in items]
    longest = max(map(cost_us, items))
    count = max(allowance // longest, 1)
    first = day_number * count
    return [Chosen(items[(first + step) % len(items)], None, cut_short=True) for step in range(count)]


def _portion(item: Item, allowance: int, asked: Fit) -> Chosen:
    """A divisible item in as few equal pieces as the allowance asks, the next piece each day."""
    whole = len(item.performance.repeats[0].phrases)
    if cost_us(item) <= allowance or whole == 1:
        return Chosen(item, None)
    for pieces in range(max(cost_us(item) // max(allowance, 1), 2), whole + 1):
        piece = asked.day_number % pieces
        start, stop = piece * whole // pieces, (piece + 1) * whole // pieces
        part = asked.items.part(item, start, stop - start)
        if cost_us(part) <= allowance:
            break
    return Chosen(part, None, cut_short=True)
