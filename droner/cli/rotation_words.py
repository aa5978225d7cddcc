"""Tell what is played of a cycle, how fast, and when the cycle ends, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.cli.table import counted, wrapped
from droner.practice.coverage import State
from droner.practice.pace import COMPLETE

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import date

    from droner.cli.rotation_played import Played
    from droner.practice.pace import Pace

NO_FOLLOWER = "No drill of this session follows the rotation key after key, so none of its turns can be played."


def played_lines(played: Played, wide: int) -> list[str]:
    """What the logbook says of the cycle."""
    return [wrapped(line, wide) for line in _told(played)]


def _told(played: Played) -> Iterator[str]:
    covered = played.coverage
    if not covered.asked.followers:
        yield NO_FOLLOWER
        return
    yield _counts(played)
    if played.pace:
        yield _pace(played.pace)
    yield _end(played)


def _counts(played: Played) -> str:
    """How much is played, by how many drills."""
    covered = played.coverage
    told = f"Played: {covered.played} of {played.turns} turns"
    if len(covered.asked.followers) > 1:
        told += f", {covered.count(State.BY_ALL)} by every drill"
        told += f" ({', '.join(f'{drill} {count}' for drill, count in covered.by_drill.items())})"
    passed = covered.count(State.PASSED)
    return f"{told}; {passed} passed without an entry." if passed else f"{told}."


def _pace(pace: Pace) -> str:
    days = "the last day" if pace.days == 1 else f"the last {pace.days} days"
    new, practised = counted(pace.turns, "new turn"), counted(pace.practised, "practice day")
    rates = f"{float(pace.per_day):.3g} a day, {float(pace.per_practice_day):.3g} a practice day"
    return f"In {days} to {_day(pace.last)}: {new} on {practised}; {rates}."


def _end(played: Played) -> str:
    """When the cycle ends, or why that cannot be told."""
    end = played.end
    if played.planned_end:
        return f"The cycle ends on {_day(played.planned_end)}: {end.why}. What has passed comes again in the next one."
    if end.why == COMPLETE:
        return "The cycle is complete."
    if not end.expected:
        return f"When the cycle ends cannot be told: {end.why}."
    best = f"on {_day(end.earliest)}" if end.earliest else "never"
    weakest = f"on {_day(end.latest)}" if end.latest else "never"
    return (
        f"At this pace the cycle ends on {_day(end.expected)}; "
        f"at that of the best fortnight of these days {best}, at that of the weakest {weakest}."
    )


def _day(day: date) -> str:
    return f"{day:%a} {day.isoformat()}"
