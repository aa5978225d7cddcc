"""Plan a day: which items, in which order, within the minutes that there are.

Rule    the rotation gives the day's keys and variants; every block that follows it takes the same keys, so a
        shorter day moves the rotation less and breaks nothing. By the calendar a short day takes the keys in turn
        that it has time for. Ladders stand where the logbook has led them. What went badly comes back as items of its
        own, before the rotation's share of the minutes, and moves nothing. A plan never lasts longer than its budget.
        Same session, same patterns, same history, same day: the same plan, on any machine.
Units   lengths in Seconds; `place` is the index in the rotation, from 0.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from droner.practice.budget import budget_of
from droner.practice.fit import Fit, fit
from droner.practice.history import History
from droner.practice.items import Items
from droner.practice.ladders import Found, Ladders
from droner.practice.order import in_order, rest_at
from droner.practice.rotation import position, rotation
from droner.practice.standing import Standing, by_calendar, by_completion
from droner.practice.weak import weak_items
from droner.practice.wishes import Wishes
from droner.units import Seconds

if TYPE_CHECKING:
    from datetime import date

    from droner.practice.budget import Budget
    from droner.practice.fit import LeftOut
    from droner.practice.history import Past
    from droner.practice.item import Item
    from droner.practice.ladder.rung import Rung
    from droner.practice.ladder.standing import Standing as LadderStanding
    from droner.practice.pattern import Patterns, Variant
    from droner.practice.session import Block, Session
    from droner.theory.key import Key

NO_VARIANTS = "none"
"""What a session says when every key is played plain."""
NO_REST = Seconds(0)


@dataclass(frozen=True, slots=True)
class PlannedItem:
    """One item of the day. `place` is its index in the rotation, None when it does not follow it.

    `again`: why it comes back, "" for what the day brings by itself. `rest_before`: how long to rest before it.
    """

    number: int
    item: Item
    place: int | None
    cut_short: bool = False
    again: str = ""
    rest_before: Seconds = NO_REST


@dataclass(frozen=True, slots=True)
class Plan:
    """The day. `first_place` is where the rotation stands; `moves_on` by how many places the day moves it."""

    day: date
    first_place: int
    moves_on: int
    keys_asked: int
    items: tuple[PlannedItem, ...]
    left_out: tuple[LeftOut, ...]
    allotted: Budget
    sessions_before: int
    """How many sessions there were before this one: days written down, or by the calendar or what is done."""

    @property
    def budget(self) -> Seconds:
        """What the day has, its rest included."""
        return self.allotted.whole

    @property
    def seconds(self) -> Seconds:
        """How long the day lasts, count-ins, breaths and rests included."""
        return sum((planned.item.seconds + planned.rest_before for planned in self.items), Seconds(0))


class Planner:
    """Plans the days of one session. Items are made once and shared by all its days."""

    def __init__(self, session: Session, patterns: Patterns, history: Past | None = None) -> None:
        self.session = session
        self.kept = history is not None
        """Whether there is a logbook."""
        self.history: Past = (history or History()).of(session)
        self.items = Items(session, patterns)
        self.ladders = Ladders(session, patterns, self.history.runs_of)
        self.variants: tuple[Variant | None, ...] = (
            patterns.variants_of(session.rotation.variants) if session.rotation.variants != NO_VARIANTS else (None,)
        )
        self.rotation = rotation(len(session.rotation.keys), len(self.variants))
        self._wishes: dict[Found, Wishes] = {}

    @cached_property
    def turns_done(self) -> frozenset[int]:
        """The places of the rotation that are done, by what is written down."""
        fixed = frozenset(block.variant for block in self.session.blocks if block.variant)
        cycle = self.rotation.cycle
        turns = [*map(self._turn, range(cycle))]
        return self.history.turns_done(self.session.title, lambda place: turns[place % cycle], fixed)

    def pair(self, place: int) -> tuple[Key, Variant | None]:
        """The key and the variant at a place of the rotation."""
        key, variant = self.rotation.pair(place)
        return self.session.rotation.keys[key], self.variants[variant]

    def day(self, today: date, place: int | None = None) -> Plan:
        """The plan of one day; `place` puts the rotation somewhere else than the session does."""
        standing, wishes = self._standing(today, place), self._wishes_on(today)
        wished = wishes.of_day(tuple(standing.place_of(ahead) % self.rotation.cycle for ahead in range(standing.keys)))
        budget = budget_of(self.session, self.history, today)
        turns = {self._turn(standing.place_of(ahead))[0] for ahead in range(standing.keys)}
        weak, weak_us = weak_items(self.session, self.history, today, wishes, budget.us, turns)
        fitted = fit(Fit(self.items, wished, standing, budget.us - weak_us))
        ordered = in_order((*fitted.chosen, *weak), interleaved=self.session.interleaved)
        before = rest_at(ordered) if budget.rest.exact else None
        items = tuple(
            PlannedItem(
                number,
                one.item,
                None if one.ahead is None else standing.place_of(one.ahead),
                one.cut_short,
                one.again,
                budget.rest if number - 1 == before else NO_REST,
            )
            for number, one in enumerate(ordered, 1)
        )
        return Plan(
            today,
            standing.place,
            fitted.moves_on,
            standing.keys,
            items,
            fitted.left_out,
            budget,
            self._sessions_before(standing),
        )

    def _sessions_before(self, standing: Standing) -> int:
        if self.kept and self.session.rotation.by_calendar:
            return self.history.days_of(self.session.title)
        return standing.place // standing.keys

    def group(self, item: Item) -> str:
        """The group of items that its ladder climbs with; "" for the whole drill."""
        return self.ladders.group(item.block, str(item.key) if item.key else "", item.variant)

    def climbing(self, item: Item, today: date) -> LadderStanding | None:
        """Where the ladder of an item stands on a day; None without one."""
        return self.ladders.standing(item.block, self.group(item), today)

    def _wishes_on(self, today: date) -> Wishes:
        """The wishes while the ladders stand as on this day."""
        found = self.ladders.on(today).found
        if found not in self._wishes:

            def climbing(block: Block, key: Key | None, variant: Variant | None, *, opens: bool) -> Rung | None:
                taken = self.items.taken(block, variant)
                return self.ladders.rung(block, self._read(key), taken, today, opens=opens)

            self._wishes[found] = Wishes(self.items, self.pair, self.variants, climbing)
        return self._wishes[found]

    def _read(self, key: Key | None) -> str:
        """A key as the player reads it, in words; "" for none."""
        written = self.items.written(key)
        return str(written) if written else ""

    def _turn(self, place: int) -> tuple[str, int]:
        """The key, as read, and the number of the variant at a place of the rotation."""
        key, variant = self.rotation.pair(place)
        return self._names_read[key], self._variant_numbers[variant]

    @cached_property
    def _names_read(self) -> tuple[str, ...]:
        return tuple(map(self._read, self.session.rotation.keys))

    @cached_property
    def _variant_numbers(self) -> tuple[int, ...]:
        return tuple(variant.number if variant else 0 for variant in self.variants)

    def _standing(self, today: date, place: int | None) -> Standing:
        order = self.session.rotation
        if place is not None:
            return by_completion(self.rotation, place, order.keys_per_day)
        if not order.by_calendar:
            return by_completion(self.rotation, position(order, today), order.keys_per_day, self.turns_done)
        return by_calendar(self.rotation, position(order, today), order.keys_per_day)
