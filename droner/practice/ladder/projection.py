"""Say by when a ladder may reach its target, as honestly as the moves allow.

Rule    counted are the days between two moves onto new ground: places never clean before. So falls, days off and the
        ways back are in them. The last `RECENT` are taken for what the next ones will be like, and as many are added up
        as there are places left. With mean m, relative spread v, n seen and k to come, the sum is k m, and 90 of 100
        sums lie between k m divided and multiplied by exp(t v sqrt(1/k + 1/n)): the spread of k more, and of a mean
        known from n alone, on a scale of ratios because no way is shorter than nothing. t is Student's for n - 1.
        Falls are rare and long, and few days may hold none: so the spread counts one more than was seen, as long
        as the usual way over the rungs that a fall leads down, and one. It is never faster than the fastest seen.
        The range begins as counted from the last new ground, and ends as if that had been found today.
        Nothing is said with fewer than `FEWEST` of them, on the way back over ground once clean, on a plateau, when
        nothing new has come for `STALLED` times the longest of them, or beyond `FURTHEST_DAYS`.
        What it cannot know: whether the ground ahead is harder than the ground behind.
Units   days; places.
Source  range for a sum of new draws: the usual prediction interval, taken on the logarithm. The fall unseen, 8, 12,
        twice, five years: our choice. Of simulated players 87 to 100 of 100 arrive inside it (tests).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from math import ceil, exp, floor, sqrt
from typing import TYPE_CHECKING

from droner.practice.ladder.state import Why
from droner.practice.ladder.student_table import T_95
from droner.practice.ladder.way import way_of

if TYPE_CHECKING:
    from droner.practice.ladder.standing import Standing
    from droner.practice.ladder.state import Climb
    from droner.practice.session import LadderOrder

FEWEST, RECENT = 8, 12
STALLED = 2
FURTHEST_DAYS = 5 * 365
TOO_EARLY, NOT_AT_THIS_PACE = "too early to say", "not at this pace"
WAY_BACK, THERE = "too early to say, on the way back", "at its target"


@dataclass(frozen=True, slots=True)
class Projection:
    """When the target may be clean: the day, and the range that holds 90 of 100; or why nothing can be said."""

    day: date | None = None
    earliest: date | None = None
    latest: date | None = None
    why: str = ""


def projected(order: LadderOrder, climb: Climb, stands: Standing, today: date) -> Projection:
    """The day on which a ladder reaches its target. `stands`: where it stands today."""
    new_ground = _new_ground(climb)
    if stands.reached:
        return Projection(why=THERE)
    if stands.plateau:
        return Projection(why=NOT_AT_THIS_PACE)
    left = len(way_of(order).rungs) - len(new_ground)
    if stands.place < climb.state.held or not left:
        return Projection(why=WAY_BACK)
    days = [(later - before).days for before, later in pairwise(new_ground)][-RECENT:]
    if len(days) < FEWEST or not any(days):
        return Projection(why=TOO_EARLY)
    unseen = (order.down_by + 1) * max(sorted(days)[len(days) // 2], 1)
    return _within(days, left, exp(_spread(days, left, unseen)), new_ground[-1], today)


def _new_ground(climb: Climb) -> list[date]:
    """The days on which a place was clean for the first time, lowest first."""
    days: list[date] = []
    for move in climb.moves:
        if move.from_place == len(days) and (move.why is Why.UP or move.why is Why.REACHED):
            days.append(move.day)
    return days


def _within(days: list[int], left: int, factor: float, last: date, today: date) -> Projection:
    """The range for so many places left, from the days between the last ones and how far their sum may stray."""
    usual = left * sum(days) / len(days)
    if (today - last).days > STALLED * max(days) or usual > FURTHEST_DAYS:
        return Projection(why=NOT_AT_THIS_PACE)
    if usual * factor > FURTHEST_DAYS:
        return Projection(why=TOO_EARLY)
    earliest = last + timedelta(max(floor(usual / factor), left * min(days)))
    latest = max(last, today) + timedelta(ceil(usual * factor))
    return Projection(max(last + timedelta(round(usual)), today), max(earliest, today), latest)


def _spread(days: list[int], left: int, unseen: float) -> float:
    """How far the logarithm of the sum may lie from that of its mean. `unseen`: days by which one more is longer."""
    count, mean = len(days), sum(days) / len(days)
    squares = sum((day - mean) ** 2 for day in days) + unseen**2
    relative = sqrt(squares / (count - 1)) / mean
    return T_95[count - 1] * relative * sqrt(1 / left + 1 / count)
