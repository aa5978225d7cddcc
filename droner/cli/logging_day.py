"""Write entries of the day's items: what the plan knows, and how it went.

Rule    an entry holds what the plan says of its item; the player adds how many runs were clean, and what was
        otherwise. A tempo is told as it was played: where a dense rhythm slowed the beat, the ladder's tempo is found
        from it.
Units   beats a minute; seconds.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from fractions import Fraction
from os import urandom
from typing import TYPE_CHECKING

from droner.practice.logbook.entry import BY_EAR, Entry
from droner.practice.played_tempo import on_the_ladder, slowing_of_item

if TYPE_CHECKING:
    from droner.cli.day import Day
    from droner.practice.item import Item
    from droner.practice.plan import PlannedItem

NAME_BYTES = 16


@dataclass(frozen=True, slots=True)
class Told:
    """What the player tells of an item. `bpm` None: as planned; `minutes` None: as long as its runs take."""

    clean: int
    total: int
    bpm: Fraction | None = None
    minutes: Fraction | None = None
    note: str = ""
    judged: str = BY_EAR


def entry_of(planned: PlannedItem, day: Day, told: Told, corrects: str = "") -> Entry:
    """The entry of one item of the plan. ValueError for what cannot be."""
    item = planned.item
    return Entry(
        name=urandom(NAME_BYTES).hex(),
        written=datetime.now(UTC),
        day=day.plan.day,
        session=day.session.title,
        instrument=day.session.instrument.name,
        drill=item.drill.name,
        key=str(item.key) if item.key else "",
        variant=item.variant.number if item.variant else 0,
        place=planned.place,
        bpm=_on_the_ladder(item, told.bpm),
        step=item.rung.step,
        clean=told.clean,
        total=told.total,
        seconds=told.minutes * 60 if told.minutes is not None else _seconds(item, told.total),
        judged=told.judged,
        note=told.note,
        corrects=corrects,
    )


def logged(planned: PlannedItem, day: Day) -> list[Entry]:
    """What was written down of an item today."""
    item = planned.item
    mine = (item.drill.name, str(item.key) if item.key else "", item.variant.number if item.variant else 0)
    return [
        entry
        for entry in day.logged
        if (entry.drill, entry.key, entry.variant) == mine and entry.place == planned.place
    ]


def logged_words(entries: list[Entry]) -> str:
    """How often it was clean: "4 of 5 clean"."""
    return f"{sum(entry.clean for entry in entries)} of {sum(entry.total for entry in entries)} clean"


def _on_the_ladder(item: Item, played_bpm: Fraction | None) -> Fraction:
    return item.asked_bpm if played_bpm is None else on_the_ladder(played_bpm, item.asked_bpm, slowing_of_item(item))


def _seconds(item: Item, runs: int) -> Fraction:
    """The item as often as its runs were played, to the millisecond."""
    return Fraction(round(item.seconds.exact * runs / item.judged_runs * 1000), 1000)
