"""Choose the days that are named along an axis of days.

Rule    as many as have room, evenly by the calendar: Mondays, every second one, then months, quarters, years. The year
        stands with the first and where a new one begins.
Units   days as the calendar counts them (`date.toordinal`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, timedelta

from droner.practice.ladder.day_words import MONTHS

WEEK_DAYS, MONTHS_A_YEAR = 7, 12
WEEKS = (1, 2, 4)
MONTH_STEPS = (1, 3, 12, 60, 120)
LAST_YEAR = date.max.year


def named_days(first: date, last: date, most: int) -> list[tuple[date, str]]:
    """The days to name from the first to the last, at most so many, each with its name."""
    days: list[date] = []
    for days, name in _choices(first, last):
        if len(days) <= most:
            return [*_with_years(days, name)]
    return [*_with_years(days[:: -(-len(days) // most)], _month)]


def _choices(first: date, last: date) -> Iterator[tuple[list[date], Callable[[date], str]]]:
    for weeks in WEEKS:
        yield _mondays(first, last, weeks), _day
    for months in MONTH_STEPS:
        yield _firsts(first, last, months), _month


def _mondays(first: date, last: date, weeks: int) -> list[date]:
    monday = first + timedelta((-first.weekday()) % WEEK_DAYS)
    return [monday + timedelta(ahead) for ahead in range(0, (last - monday).days + 1, weeks * WEEK_DAYS)]


def _firsts(first: date, last: date, months: int) -> list[date]:
    """The first days of every so many months, counted from January of the year 0."""
    start = first.year * MONTHS_A_YEAR + first.month - 1 + (first.day > 1)
    end = last.year * MONTHS_A_YEAR + last.month - 1
    return [
        date(*_year_and_month(month), 1)
        for month in range(start + (-start) % months, end + 1, months)
        if month < (LAST_YEAR + 1) * MONTHS_A_YEAR
    ]


def _year_and_month(month: int) -> tuple[int, int]:
    year, months = divmod(month, MONTHS_A_YEAR)
    return year, months + 1


def _day(day: date) -> str:
    return f"{day.day} {MONTHS[day.month - 1]}"


def _month(day: date) -> str:
    return MONTHS[day.month - 1]


def _with_years(days: list[date], name: Callable[[date], str]) -> Iterator[tuple[date, str]]:
    year = 0
    for day in days:
        yield day, f"{name(day)}\n{day.year}" if day.year != year else name(day)
        year = day.year
