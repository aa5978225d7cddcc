"""Say what one block would like to play on a day, for as many keys as the day has time for.

Rule    a block in the day's keys takes one item a key. A block in one of them takes another key each lap. What can be
        divided is played in portions, see `portion`. Items that do not fit the compass cost nothing and are named.
Units   costs in whole microseconds, rounded up, so that a plan can never overrun by rounding.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from functools import lru_cache
from math import ceil
from typing import TYPE_CHECKING

from droner.practice.layout.line import DoesNotFit
from droner.practice.portion import MICROSECONDS, portion

if TYPE_CHECKING:
    from droner.practice.item import Item
    from droner.practice.items import Items
    from droner.practice.portion import Divided, Size
    from droner.practice.session import Block
    from droner.practice.standing import Standing


class How(Enum):
    """How a block goes with the rotation: the same every day, with each of its keys, or in one of them."""

    EVERY_DAY = "every day"
    EACH_KEY = "each key"
    ONE_KEY = "one key"


@dataclass(frozen=True, slots=True)
class Chosen:
    """One item taken into the day. `ahead`: how far from the rotation's place; None when it does not follow it.

    `again`: why it comes back, "" for what the day brings by itself.
    """

    item: Item
    ahead: int | None
    cut_short: bool = False
    again: str = ""


@dataclass(frozen=True, slots=True)
class Wish:
    """What one block would like. `items[k]` stands in the k-th key of the day; every day, they are all its own.

    `costs` and `picks` go with the items. `phrases` says how each of them is divided, `keys` how they are among
    themselves; empty and None when they are not.
    """

    block: Block
    how: How
    items: tuple[Item | DoesNotFit, ...]
    costs: tuple[int, ...]
    picks: tuple[Chosen | None, ...]
    phrases: tuple[Divided, ...] = ()
    keys: Divided | None = None

    @property
    def divides(self) -> bool:
        """Whether a day may take a part of it."""
        return bool(self.phrases) or self.keys is not None

    @property
    def cap_us(self) -> int | None:
        """The block's own limit."""
        return None if self.block.minutes is None else int(self.block.minutes * 60 * MICROSECONDS)

    def cost_us(self, size: Size, standing: Standing, items: Items) -> int:
        """What it takes out of a day of this size."""
        if self.divides:
            return sum(cost_us(chosen.item) for chosen in self.chosen(size, standing, items))
        return sum(self.costs[place] for place in self._places(size, standing))

    def chosen(self, size: Size, standing: Standing, items: Items) -> tuple[Chosen, ...]:
        """The items that it plays on a day of this size."""
        if self.keys:
            return self._own_keys(self.keys, size, standing)
        if self.phrases:
            return self._portion(size, standing, items)
        picks = [self.picks[place] for place in self._places(size, standing)]
        return tuple(pick for pick in picks if pick is not None)

    def unfit(self, size: Size, standing: Standing) -> tuple[DoesNotFit, ...]:
        """What does not fit the compass of all that a day of this size asks for."""
        asked = (self.items[place] for place in self._places(size, standing))
        return tuple(item for item in asked if isinstance(item, DoesNotFit))

    def has_room(self, size: Size, standing: Standing) -> bool:
        """Whether its own minutes last for the smallest part of what it divides."""
        divided = (
            [self.keys] if self.keys else [self.phrases[at] for at in self._places(size, standing) if self.phrases]
        )
        return all(each.full > 0 or each.units == 0 for each in divided)

    def _places(self, size: Size, standing: Standing) -> tuple[int, ...]:
        """Which of its items a day of this size asks for."""
        match self.how:
            case How.EVERY_DAY:
                return tuple(range(len(self.items)))
            case How.EACH_KEY:
                return tuple(sorted((*standing.aheads(size.keys), *size.more)))
        aheads = standing.aheads(size.keys)
        return (aheads[standing.lap % len(aheads)],)

    def _own_keys(self, divided: Divided, size: Size, standing: Standing) -> tuple[Chosen, ...]:
        fitting = tuple(item for item in self.items if not isinstance(item, DoesNotFit))
        if not divided.full:
            return ()
        start, count = portion(divided, size, standing)
        if count == divided.units:
            return tuple(Chosen(item, None) for item in fitting)
        taken = (fitting[place % len(fitting)] for place in range(start, start + count))
        return tuple(Chosen(item, None, cut_short=True) for item in taken)

    def _portion(self, size: Size, standing: Standing, items: Items) -> tuple[Chosen, ...]:
        (place,) = self._places(size, standing)
        item, divided = self.items[place], self.phrases[place]
        if isinstance(item, DoesNotFit) or not divided.full:
            return ()
        start, count = portion(divided, size, standing)
        if count == divided.units:
            return (Chosen(item, None),)
        return (Chosen(items.part(item, start, count), None, cut_short=True),)


@lru_cache(maxsize=8192)
def cost_us(item: Item | DoesNotFit) -> int:
    """What an item takes out of the day."""
    return 0 if isinstance(item, DoesNotFit) else ceil(item.seconds.exact * MICROSECONDS)
