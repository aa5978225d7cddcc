"""Plan a day: which items, in which order, within the minutes that there are.

Rule    the rotation gives the day's keys and variants; every block that follows it takes the same keys, so a
        shorter day moves the rotation less and breaks nothing. By the calendar a short day takes the keys in turn
        that it has time for. A plan never lasts longer than its budget.
        Same session, same patterns, same day: the same plan, on any machine.
Units   lengths in Seconds; `place` is the index in the rotation, from 0.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from droner.practice.fit import Fit, fit
from droner.practice.items import Items
from droner.practice.portion import MICROSECONDS
from droner.practice.rotation import position, rotation
from droner.practice.standing import Standing, by_calendar, by_completion
from droner.practice.wishes import Wishes
from droner.units import Seconds

if TYPE_CHECKING:
    from datetime import date

    from droner.practice.fit import LeftOut
    from droner.practice.item import Item
    from droner.practice.pattern import Patterns, Variant
    from droner.practice.session import Session
    from droner.practice.wish import Chosen
    from droner.theory.key import Key

NO_VARIANTS = "none"
"""What a session says when every key is played plain."""


@dataclass(frozen=True, slots=True)
class PlannedItem:
    """One item of the day. `place` is its index in the rotation, None when it does not follow it."""

    number: int
    item: Item
    place: int | None
    cut_short: bool = False


@dataclass(frozen=True, slots=True)
class Plan:
    """The day. `first_place` is where the rotation stands; `moves_on` by how many places the day moves it."""

    day: date
    first_place: int
    moves_on: int
    keys_asked: int
    items: tuple[PlannedItem, ...]
    left_out: tuple[LeftOut, ...]
    budget: Seconds

    @property
    def sessions_before(self) -> int:
        """How many sessions there were before this one, by the calendar or by what is done."""
        return self.first_place // self.keys_asked

    @property
    def seconds(self) -> Seconds:
        """How long the day lasts, count-ins and breaths included."""
        return sum((planned.item.seconds for planned in self.items), Seconds(0))


class Planner:
    """Plans the days of one session. Items are made once and shared by all its days."""

    def __init__(self, session: Session, patterns: Patterns) -> None:
        self.session = session
        self.items = Items(session, patterns)
        self.variants: tuple[Variant | None, ...] = (
            patterns.variants_of(session.rotation.variants) if session.rotation.variants != NO_VARIANTS else (None,)
        )
        self.rotation = rotation(len(session.rotation.keys), len(self.variants))
        self._budget = Seconds(session.minutes * 60)
        self._budget_us = int(self._budget.exact * MICROSECONDS)
        self._wishes = Wishes(self.items, self.pair, self.variants)

    def pair(self, place: int) -> tuple[Key, Variant | None]:
        """The key and the variant at a place of the rotation."""
        key, variant = self.rotation.pair(place)
        return self.session.rotation.keys[key], self.variants[variant]

    def day(self, today: date, place: int | None = None) -> Plan:
        """The plan of one day; `place` puts the rotation somewhere else than the session does."""
        standing = self._standing(today, place)
        wishes = self._wishes.of_day(standing.place % self.rotation.cycle, standing.keys)
        fitted = fit(Fit(self.items, wishes, standing, self._budget_us))
        items = tuple(
            PlannedItem(number, chosen.item, _place(chosen, standing.place), chosen.cut_short)
            for number, chosen in enumerate(fitted.chosen, 1)
        )
        return Plan(today, standing.place, fitted.moves_on, standing.keys, items, fitted.left_out, self._budget)

    def _standing(self, today: date, place: int | None) -> Standing:
        order = self.session.rotation
        if place is not None or not order.by_calendar:
            first = position(order, today) if place is None else place
            return by_completion(self.rotation, first, order.keys_per_day)
        return by_calendar(self.rotation, position(order, today), order.keys_per_day)


def _place(chosen: Chosen, first: int) -> int | None:
    return None if chosen.ahead is None else first + chosen.ahead
