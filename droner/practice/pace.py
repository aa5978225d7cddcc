"""Reckon how fast the turns of the rotation are played, and when the cycle will end if it goes on so.

Rule    what counts is the first time each turn was played, in the last `WINDOW` days: to today, once anything was
        written down today, else to yesterday. Days without practice count as days.
        The end that is expected takes the pace of the whole window. The range is no probability: it is what the end
        would be at the pace of the best `FORTNIGHT` days in a row within the window, and of the weakest. A window is
        two fortnights, so the expected end lies within. Until the logbook is as old as the window there is no end.
Units   turns a day, exact; days are the player's own.
Source  arithmetic. Two weeks and four: common practice, no source.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from itertools import accumulate
from math import ceil
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable

FORTNIGHT = 14
WINDOW = 2 * FORTNIGHT

NOTHING_YET = "nothing of this session is written down yet"
TOO_SHORT = "the logbook goes back {known} of the {window} days that are needed"
NO_TURN = f"no turn of the rotation was played in the last {WINDOW} days"
COMPLETE = "the cycle is complete"
TOO_SLOW = "at this pace the calendar ends before the cycle"


@dataclass(frozen=True, slots=True)
class Pace:
    """What was played in the last days.

    `last` is the day that they end with, `days` how many they are, `practised` on how many something was played,
    `turns` how many turns were new. `weakest` and `best`: the turns of the weakest and the best fortnight; None when
    the logbook is not old enough.
    """

    last: date
    days: int
    practised: int
    turns: int
    weakest: int | None = None
    best: int | None = None

    @property
    def per_day(self) -> Fraction:
        """Turns a day."""
        return Fraction(self.turns, self.days)

    @property
    def per_practice_day(self) -> Fraction:
        """Turns on a day on which anything was played; 0 without one."""
        return Fraction(self.turns, self.practised) if self.practised else Fraction(0)


@dataclass(frozen=True, slots=True)
class End:
    """When the cycle ends at the pace of the window, of its best fortnight and of its weakest.

    `why` says why a day cannot be told; "" when `expected` is there. `latest` None: at that pace it never ends, or not
    before the calendar does.
    """

    expected: date | None = None
    earliest: date | None = None
    latest: date | None = None
    why: str = ""


def pace_of(turn_days: Iterable[date], practice_days: Collection[date], today: date) -> Pace | None:
    """The pace on a day; None when nothing was played. `turn_days`: the first day of every turn ever played."""
    practised = {day for day in practice_days if day <= today}
    if not practised:
        return None
    last = today if today in practised else today - timedelta(1)
    days = min(WINDOW, (last - min(practised)).days + 1)
    window = [last - timedelta(back) for back in range(days)]
    turns = Counter(turn_days)
    counts = [turns[day] for day in window]
    return Pace(last, days, sum(day in practised for day in window), sum(counts), *_fortnights(counts))


def _fortnights(counts: list[int]) -> tuple[int, int] | tuple[()]:
    """The fewest and the most turns of any fortnight; nothing when there are not two."""
    if len(counts) < WINDOW:
        return ()
    until = list(accumulate(counts, initial=0))
    sums = [until[first + FORTNIGHT] - until[first] for first in range(len(counts) - FORTNIGHT + 1)]
    return min(sums), max(sums)


def end_of(pace: Pace | None, left: int) -> End:
    """When `left` turns more will have been played."""
    if not left:
        return End(why=COMPLETE)
    if pace is None:
        return End(why=NOTHING_YET)
    if pace.weakest is None or pace.best is None:
        return End(why=TOO_SHORT.format(known=pace.days, window=WINDOW))
    if not pace.turns:
        return End(why=NO_TURN)
    expected = _after(pace.last, left, pace.per_day)
    if expected is None:
        return End(why=TOO_SLOW)
    return End(
        expected,
        _after(pace.last, left, Fraction(pace.best, FORTNIGHT)),
        _after(pace.last, left, Fraction(pace.weakest, FORTNIGHT)),
    )


def _after(last: date, left: int, per_day: Fraction) -> date | None:
    """The day on which the last turn is played; None for a pace of nothing, and after the calendar's last day."""
    days = ceil(left / per_day) if per_day else None
    if days is None or days > (date.max - last).days:
        return None
    return last + timedelta(days)
