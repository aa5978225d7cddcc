"""Find what the logbook says of a cycle of the rotation: what is played, how fast, when it ends.

Rule    what was written down before the day and on it counts, later entries do not. By the calendar a cycle ends when
        the calendar says so, whatever was played; when done, at the player's pace.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from droner.practice.coverage import Coverage, State, asked_of, coverage, first_entries
from droner.practice.pace import End, Pace, end_of, pace_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from droner.cli.day import Day
    from droner.practice.coverage import Turn
    from droner.practice.logbook.entry import Entry

OVER, NOT_BEGUN = "this cycle is over", "this cycle has not begun"
BY_CALENDAR = "it moves by the calendar, whatever is played"


@dataclass(frozen=True, slots=True)
class Played:
    """What is played of a cycle.

    `kept`: whether there is a logbook. `current`: the cycle in which the rotation stands, from 0. `skipped`: the places
    that come no more although they lie ahead. `planned_end`: by the calendar, None when the rotation moves when done.
    """

    coverage: Coverage
    kept: bool
    current: int
    skipped: frozenset[int]
    pace: Pace | None
    end: End
    planned_end: date | None = None

    @property
    def turns(self) -> int:
        """How many turns its cycle has."""
        return len(self.coverage.turns)


def played_of(day: Day, *, cycle: int | None = None, placed: bool = False) -> Played:
    """What is played of a cycle, the current one unless told. `placed`: the player said where the rotation stands."""
    asked, first, order = asked_of(day.planner), day.plan.first_place, day.session.rotation
    done = frozenset[int]() if placed or order.by_calendar else day.planner.turns_done
    entries = tuple(_own_entries(day))
    firsts, current = first_entries(asked, entries), first // asked.walk.cycle
    shown = current if cycle is None else cycle
    covered = coverage(asked, firsts, shown, lambda place: place < first or place in done)
    turn_days = [min(entry.day for entry in each if entry) for each in firsts.values()]
    pace = pace_of(turn_days, {entry.day for entry in entries}, day.plan.day)
    end, planned_end = _end(day, covered, current, pace)
    skipped = frozenset(place for place in done if place > first)
    return Played(covered, day.planner.kept, current, skipped, pace, end, planned_end)


def _own_entries(day: Day) -> Iterator[Entry]:
    """What was written down of this session and instrument, to the day itself."""
    title, instrument = day.session.title, day.session.instrument.name
    for entry in (*day.entries, *day.logged):
        if entry.session == title and entry.instrument == instrument:
            yield entry


def _end(day: Day, covered: Coverage, current: int, pace: Pace | None) -> tuple[End, date | None]:
    """When the cycle ends at the player's pace, and when by the calendar."""
    if covered.cycle != current:
        return End(why=OVER if covered.cycle < current else NOT_BEGUN), None
    if day.session.rotation.by_calendar:
        return End(why=BY_CALENDAR), _planned_end(day)
    return end_of(pace, covered.count(State.AHEAD)), None


def _planned_end(day: Day) -> date | None:
    """The day that brings the last turn of the current cycle; None after the calendar's last day."""
    order = day.session.rotation
    days = day.planner.rotation.days_to_complete(day.plan.first_place, order.keys_per_day)
    begins = max(day.plan.day, order.begins or day.plan.day)
    try:
        return begins + timedelta(days - 1)
    except OverflowError:
        return None


def played_data(played: Played, *, with_map: bool) -> dict[str, Any]:
    """What is played as data; with every turn, if asked for."""
    covered = played.coverage
    data = {
        "cycle": covered.cycle + 1,
        "turns": played.turns,
        "played": covered.played,
        "played_by_all": covered.count(State.BY_ALL),
        "passed_without_an_entry": covered.count(State.PASSED),
        "ahead": covered.count(State.AHEAD),
        "by_drill": covered.by_drill,
        "pace": _pace_data(played.pace),
        "planned_end": _iso(played.planned_end),
        "end": {
            "expected": _iso(played.end.expected),
            "at_best_fortnight": _iso(played.end.earliest),
            "at_weakest_fortnight": _iso(played.end.latest),
            "why_not": played.end.why or None,
        },
    }
    return data | {"map": [_turn_data(turn, covered) for turn in covered.turns]} if with_map else data


def _pace_data(pace: Pace | None) -> dict[str, Any] | None:
    if pace is None:
        return None
    return {
        "last_day": pace.last.isoformat(),
        "days": pace.days,
        "practice_days": pace.practised,
        "turns": pace.turns,
        "turns_a_day": float(pace.per_day),
        "turns_a_practice_day": float(pace.per_practice_day),
        "weakest_fortnight": pace.weakest,
        "best_fortnight": pace.best,
    }


def _turn_data(turn: Turn, covered: Coverage) -> dict[str, Any]:
    key, variant = covered.asked.brought(turn.place)
    followers = covered.asked.followers
    return {
        "place": turn.place,
        "key": key,
        "variant": variant or None,
        "state": turn.state.value,
        "first_day": _iso(turn.first_day),
        "by": {
            follower.drill: {"date": entry.day.isoformat(), "entry": entry.name}
            for follower, entry in zip(followers, turn.firsts, strict=True)
            if entry
        },
    }


def _iso(day: date | None) -> str | None:
    return day.isoformat() if day else None
