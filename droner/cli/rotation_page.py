"""Lay the coming days of the rotation out, as a page and as data.

Rule    every day takes as many keys as the session asks for; a short day takes fewer, and the rest move on by it. Turns
        that were played before they came are passed over, as the plan does.
Units   places and items count from 0, variants and cycles from 1 as the player is shown them.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from itertools import count, islice
from typing import TYPE_CHECKING, Any

from droner.cli.rotation_played import played_data
from droner.cli.rotation_words import played_lines
from droner.cli.table import GAP, counted, table, width, wrapped
from droner.practice.remarks import short_day
from droner.practice.rotation import proof

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from droner.cli.day import Day
    from droner.cli.rotation_played import Played
    from droner.practice.pattern import Variant
    from droner.theory.key import Key

MOST_KEYS_A_LINE = 6


@dataclass(frozen=True, slots=True)
class Coming:
    """What the rotation brings on one day."""

    day: date
    turns: tuple[tuple[Key, Variant | None], ...]


def coming_days(day: Day, days: int, skipped: frozenset[int]) -> list[Coming]:
    """The days from this one on, as far as the calendar goes. `skipped`: places that come no more."""
    per_day = day.session.rotation.keys_per_day
    days = min(days, (date.max - day.plan.day).days + 1)
    places = (place for place in count(day.plan.first_place) if place not in skipped)
    return [
        Coming(
            day.plan.day + timedelta(days=ahead), tuple(day.planner.pair(place) for place in islice(places, per_day))
        )
        for ahead in range(days)
    ]


def rotation_data(day: Day, coming: Sequence[Coming], played: Played, *, with_map: bool) -> dict[str, Any]:
    """The rotation as data; with every turn of the cycle, if asked for."""
    told, order = proof(day.planner.rotation), day.session.rotation
    return {
        "session": day.session.file,
        "keys": [str(key) for key in order.keys],
        "keys_per_day": order.keys_per_day,
        "variants": len(day.planner.variants),
        "moves": _moves(day),
        "cycle": told.cycle,
        "place": day.plan.first_place,
        "days_to_complete": _days_left(day, played),
        "proof": {"different_pairs": told.different, "full_laps": told.full_laps, "holds": told.holds},
        "rule": day.planner.rotation.rule,
        "played": played_data(played, with_map=with_map) if played.kept or with_map else None,
        "days": [
            {
                "date": one.day.isoformat(),
                "items": [{"key": str(key), "variant": _number(variant)} for key, variant in one.turns],
            }
            for one in coming
        ],
    }


def page(day: Day, coming: Sequence[Coming], wide: int, played: Played) -> str:
    """The rotation as a page."""
    cycle, place, order = day.planner.rotation.cycle, day.plan.first_place, day.session.rotation
    counts = f"{counted(len(order.keys), 'key')}, {_variants(day)}, {counted(order.keys_per_day, 'key')} a day"
    left = counted(_days_left(day, played), "day")
    parts = (
        f"{counts}; moves {_moves(day)}.",
        f"Cycle {place // cycle + 1}: {_behind(day, played)} of {cycle} turns lie behind, {left} ahead.",
        *(played_lines(played, wide) if played.kept else ()),
        *_short(day, wide),
        "",
        _calendar(coming, wide),
        "",
        *_legend(coming[0], wide),
        wrapped(proof(day.planner.rotation).text, wide),
        "",
        wrapped(day.planner.rotation.rule, wide),
    )
    return "\n".join(parts)


def _short(day: Day, wide: int) -> Iterator[str]:
    """What a day does to the rotation that has no time for all its keys."""
    for told in short_day(day.plan, day.planner):
        yield wrapped(f"{told} The proof below counts the turns of whole days.", wide)


def _moves(day: Day) -> str:
    return "by the calendar" if day.session.rotation.by_calendar else "when done"


def _variants(day: Day) -> str:
    variants = day.planner.variants
    return "no variants" if variants == (None,) else counted(len(variants), "variant")


def _days_left(day: Day, played: Played) -> int:
    """Practice days until the cycle is full, if each takes its keys."""
    return day.planner.rotation.days_to_complete(_behind(day, played), day.session.rotation.keys_per_day)


def _behind(day: Day, played: Played) -> int:
    """How many turns of the cycle come no more."""
    cycle, first = day.planner.rotation.cycle, day.plan.first_place
    return first % cycle + sum(place // cycle == first // cycle for place in played.skipped)


def _number(variant: Variant | None) -> int | None:
    return variant.number if variant else None


def _calendar(coming: Sequence[Coming], wide: int) -> str:
    """Each day in as many lines as its keys need; behind each key the number of its variant."""
    days = [(f"{one.day:%a} {one.day.isoformat()}", [_turn(*turn) for turn in one.turns]) for one in coming]
    widest = max(width(cell) for _, cells in days for cell in cells)
    first = max(width(when) for when, _ in days)
    a_line = max(min((wide - first) // (widest + len(GAP)), MOST_KEYS_A_LINE), 1)
    return table([row for when, cells in days for row in _rows(when, cells, a_line)])


def _turn(key: Key, variant: Variant | None) -> str:
    return f"{key} ({variant.number})" if variant else str(key)


def _rows(when: str, cells: Sequence[str], a_line: int) -> Iterator[tuple[str, ...]]:
    for start in range(0, len(cells), a_line):
        line = cells[start : start + a_line]
        yield ("" if start else when, *line, *[""] * (a_line - len(line)))


def _legend(first: Coming, wide: int) -> list[str]:
    """What the numbers of the first day's variants stand for."""
    variants = {variant.number: variant.words for _, variant in first.turns if variant}
    rows = [(str(number), words) for number, words in variants.items()]
    return ["The first day's variants:", table(rows, right={0}, page=wide), ""] if rows else []
