"""Fit a day's blocks into its minutes.

Rule    first fewer keys, the same for every block that follows the rotation, and with each key less what is divided
        among the keys gives up its share; then with one key smaller parts; only then are blocks left out, the last
        in the file first. A block that could not be played even alone makes way before the others do. What is left
        out is said, with the reason.
        By the calendar a key that is not taken comes back in a later cycle only. So those follow without their share,
        in their order, that the minutes still hold, and phrases beyond their share fill what is left. Moved by
        completion they are the next day's first, and bring their share with them: what is divided goes on there where
        it stopped.
Units   costs in whole microseconds.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from droner.practice.portion import Size
from droner.practice.wish import How

if TYPE_CHECKING:
    from droner.practice.items import Items
    from droner.practice.standing import Standing
    from droner.practice.wish import Chosen, Wish

PARTS = (2, 4, 8, 16)
ALONE_TOO_LONG = "it alone is longer than the day"
TOO_SHORT_A_DAY = "the day is too short for it"
OWN_MINUTES = "its own minutes are too few for it"


@dataclass(frozen=True, slots=True)
class LeftOut:
    """What the day goes without, and why."""

    drill: str
    why: str


@dataclass(frozen=True, slots=True)
class Fitted:
    """The day's items in order, how many keys the rotation moves on, and what the day goes without."""

    chosen: tuple[Chosen, ...]
    moves_on: int
    left_out: tuple[LeftOut, ...]


@dataclass(frozen=True, slots=True)
class Fit:
    """What is to be fitted: the blocks' wishes, where the rotation stands, and the budget in microseconds."""

    items: Items
    wishes: tuple[Wish, ...]
    standing: Standing
    budget_us: int

    def sizes(self) -> Iterator[Size]:
        """Every size of a day, from all its keys to the smallest part of one."""
        yield from (Size(keys) for keys in range(self.standing.keys, 0, -1))
        yield from (Size(1, parts) for parts in PARTS)

    def keeps_to(self, wish: Wish, size: Size) -> bool:
        """Whether a block keeps to its own minutes on a day of this size."""
        if wish.cap_us is None:
            return True
        return self.cost_us(wish, size) <= wish.cap_us and wish.has_room(size, self.standing)

    def is_fitted(self, wishes: tuple[Wish, ...], size: Size) -> bool:
        """Whether all these blocks have their place on a day of this size."""
        left = self.budget_us
        for wish in wishes:
            left -= self.cost_us(wish, size)
            if left < 0:
                return False
        return all(self.keeps_to(wish, size) for wish in wishes)

    def cost_us(self, wish: Wish, size: Size) -> int:
        """What a block takes out of a day of this size."""
        return wish.cost_us(size, self.standing, self.items)


def fit(asked: Fit) -> Fitted:
    """Choose the day's items."""
    wishes, size = asked.wishes, Size(asked.standing.keys)
    left_out: tuple[LeftOut, ...] = ()
    if not asked.is_fitted(wishes, size):
        wishes, left_out = _possible(asked)
        size = next(size for size in asked.sizes() if asked.is_fitted(wishes, size))
        size = _filled(asked, wishes, replace(size, more=_more_keys(asked, wishes, size)))
    chosen = tuple(one for wish in wishes for one in wish.chosen(size, asked.standing, asked.items))
    unfit = [LeftOut(wish.block.drill, str(one)) for wish in wishes for one in wish.unfit(size, asked.standing)]
    return Fitted(chosen, _moves_on(asked, wishes, size), (*unfit, *left_out))


def _possible(asked: Fit) -> tuple[tuple[Wish, ...], tuple[LeftOut, ...]]:
    """The blocks that have their place together on the smallest of days, and those left out."""
    smallest = Size(1, PARTS[-1])
    reasons = [(wish, _why_never(asked, wish, smallest)) for wish in asked.wishes]
    wishes = tuple(wish for wish, why in reasons if not why)
    never = tuple(LeftOut(wish.block.drill, why) for wish, why in reasons if why)
    count = next(count for count in range(len(wishes), -1, -1) if asked.is_fitted(wishes[:count], smallest))
    short = tuple(LeftOut(wish.block.drill, TOO_SHORT_A_DAY) for wish in wishes[count:])
    return wishes[:count], (*never, *short)


def _why_never(asked: Fit, wish: Wish, smallest: Size) -> str:
    """Why a block cannot be played on this day whatever the others do; "" when it can."""
    if not asked.keeps_to(wish, smallest):
        return OWN_MINUTES
    return ALONE_TOO_LONG if asked.cost_us(wish, smallest) > asked.budget_us else ""


def _more_keys(asked: Fit, wishes: tuple[Wish, ...], size: Size) -> tuple[int, ...]:
    """The keys, by the calendar, that follow on those of a size without their share of what is divided."""
    follow = [wish for wish in wishes if wish.how is How.EACH_KEY]
    if asked.standing.day is None or not follow:
        return ()
    left_us = asked.budget_us - sum(asked.cost_us(wish, size) for wish in wishes)
    rooms_us = [left_us if wish.cap_us is None else wish.cap_us - asked.cost_us(wish, size) for wish in follow]
    more: list[int] = []
    for ahead in asked.standing.others(size.keys):
        costs_us = [wish.costs[ahead] for wish in follow]
        if sum(costs_us) <= left_us and all(cost <= room for cost, room in zip(costs_us, rooms_us, strict=True)):
            more.append(ahead)
            left_us -= sum(costs_us)
            rooms_us = [room - cost for cost, room in zip(costs_us, rooms_us, strict=True)]
    return tuple(more)


def _filled(asked: Fit, wishes: tuple[Wish, ...], size: Size) -> Size:
    """The size with as many more phrases, by the calendar, as the minutes still hold."""
    divided = [each for wish in wishes for each in wish.phrases]
    if asked.standing.day is None or not divided:
        return size
    fits, too_many = 0, max(each.full for each in divided) + 1
    while too_many - fits > 1:
        longer = (fits + too_many) // 2
        if asked.is_fitted(wishes, replace(size, longer=longer)):
            fits = longer
        else:
            too_many = longer
    return replace(size, longer=fits)


def _moves_on(asked: Fit, wishes: tuple[Wish, ...], size: Size) -> int:
    """How many keys the rotation moves on: none when all that follows it had to be left out for want of time."""
    if not wishes:
        return 0
    follow = [wish for wish in asked.wishes if wish.how is How.EACH_KEY]
    return size.keys + len(size.more) if not follow or any(wish in wishes for wish in follow) else 0
