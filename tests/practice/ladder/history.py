"""Ladders and histories as the tests of the ladder write them. All of them are invented."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

from droner.practice.ladder.fold import climbed
from droner.practice.ladder.standing import Standing, standing
from droner.practice.ladder.state import Run
from droner.practice.session import LadderOrder

MONDAY = date(2025, 1, 6)
Told = tuple[int, int, int, int]
"""Days since Monday, tempo, clean runs, all runs."""


def ladder(slow: int | Fraction, target: int | Fraction, **more: Any) -> LadderOrder:
    """A ladder, with what differs from the usual one."""
    return replace(LadderOrder(Fraction(slow), Fraction(target)), **more)


def day(since_monday: int) -> date:
    """So many days after the first Monday."""
    return MONDAY + timedelta(since_monday)


def history(*told: Told, step: str = "") -> tuple[Run, ...]:
    """What was played."""
    return tuple(Run(day(since), Fraction(bpm), step, clean, total) for since, bpm, clean, total in told)


def stands(order: LadderOrder, runs: Iterable[Run], today: date) -> Standing:
    """Where a ladder stands on a day after a history."""
    return standing(order, climbed(order, runs), today)


def tempo_after(order: LadderOrder, *told: Told) -> Fraction:
    """The tempo on the day of the last entry."""
    return stands(order, history(*told), day(max(since for since, *_ in told))).rung.bpm


def play(order: LadderOrder, days: Iterable[int], clean: dict[int, int], runs: int = 3) -> list[Run]:
    """A player who follows the plan: on each day `runs` runs at its tempo, so many of them clean from a tempo on."""
    played: list[Run] = []
    for since in days:
        rung = stands(order, played, day(since)).rung
        best = max((bpm for bpm in clean if bpm <= rung.bpm), default=min(clean))
        played.append(Run(day(since), rung.bpm, rung.step, clean[best], runs))
    return played
