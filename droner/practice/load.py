"""Keep the load from growing too fast: how many minutes a day may have, after the weeks before it.

Rule    seven days may hold as much as the fullest seven days of the four weeks before them, and the share more that the
        session allows. Days of rest never lower it; where there are no four weeks to look at, nothing is limited.
        A day is never cut below the least that a session may have.
Units   seconds of playing, as written down.
Source  sudden increases of load are the risk: Chan & Ackermann 2014, doi 10.3389/fpsyg.2014.00706. The size, 10 to 15
        per cent a week at most: common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

WEEK_DAYS = 7
LOOKED_AT_DAYS = 28
LOAD_DAYS = WEEK_DAYS - 1 + LOOKED_AT_DAYS
"""So many days before a day are looked at."""
LEAST_SECONDS = 5 * 60


@dataclass(frozen=True, slots=True)
class Load:
    """What the six days before a day held, and the fullest seven of the four weeks before; in seconds."""

    week: Fraction
    fullest: Fraction

    def allowed(self, growth_per_cent: Fraction) -> Fraction:
        """How long the day may be."""
        return max(self.fullest * (1 + growth_per_cent / 100) - self.week, Fraction(LEAST_SECONDS))


def load_before(played: Mapping[date, Fraction], today: date) -> Load | None:
    """The load before a day; None where there is nothing to compare with."""
    first = today - timedelta(days=WEEK_DAYS - 1)
    before = [_days(played, first - timedelta(days=WEEK_DAYS + back)) for back in range(LOOKED_AT_DAYS - WEEK_DAYS + 1)]
    return Load(_days(played, first, WEEK_DAYS - 1), max(before)) if any(before) else None


def _days(played: Mapping[date, Fraction], first: date, count: int = WEEK_DAYS) -> Fraction:
    """What so many days held."""
    return sum((played.get(first + timedelta(days=ahead), Fraction(0)) for ahead in range(count)), Fraction(0))
