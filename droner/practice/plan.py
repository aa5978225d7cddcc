"""Plan a day: which items, in which order, within the minutes that there are.

Rule    the rotation gives the day's keys and variants; every block that follows it takes the same keys, so a
        shorter day moves the rotation less and breaks nothing. A plan never lasts longer than its budget.
        Same session, same patterns, same day: the same plan, on any machine.
Units   lengths in Seconds; `place` is the index in the rotation, from 0.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from droner.practice.fit import Fit, fit
from droner.practice.items import Items
from droner.practice.rotation import position, rotation
from droner.units import Seconds

if TYPE_CHECKING:
    from datetime import date

    from droner.practice.fit import Chosen, LeftOut
    from droner.practice.item import Item
    from droner.practice.pattern import Patterns, Variant
    from droner.practice.session import Session
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

    def pair(self, place: int) -> tuple[Key, Variant | None]:
        """The key and the variant at a place of the rotation."""
        key, variant = self.rotation.pair(place)
        return self.session.rotation.keys[key], self.variants[variant]

    def day(self, today: date, place: int | None = None) -> Plan:
        """The plan of one day; `place` puts the rotation somewhere else than the session does."""
        order = self.session.rotation
        first = position(order, today) if place is None else place
        pairs = tuple(self.pair(first + ahead) for ahead in range(order.keys_per_day))
        lap, day_number = first // len(order.keys), first // order.keys_per_day
        budget = Seconds(self.session.minutes * 60)
        fitted = fit(Fit(self.items, pairs, lap, day_number, budget))
        items = tuple(
            PlannedItem(number, chosen.item, _place(chosen, first), chosen.cut_short)
            for number, chosen in enumerate(fitted.chosen, 1)
        )
        return Plan(today, first, fitted.keys, order.keys_per_day, items, fitted.left_out, budget)


def _place(chosen: Chosen, first: int) -> int | None:
    return None if chosen.ahead is None else first + chosen.ahead
