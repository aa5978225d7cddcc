"""Keep the load from growing too fast: how many minutes a day may have, after the weeks before it.

Rule    seven days may hold as much as the fullest seven days of the four weeks before them, and the share more that the
        session allows. Days of rest never lower it; where there are no four weeks to look at, nothing is limited.
        A day is never cut below the least that a session may have.
Units   seconds of playing, as written down.
Source  sudden increases of load are the risk: Chan & Ackermann 2014, doi 10.3389/fpsyg.2014.00706. The size, 10 to 15
        per cent a week at most: common practice, no source.
"""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

WEEK_DAYS = 7
LOOKED_AT_DAYS = 28
LEAST_SECONDS = 5 * 60


def allowed_seconds(played: Mapping[date, Fraction], today: date, growth_per_cent: Fraction) -> Fraction | None:
    """How long today may be; None where nothing limits it."""
    first = today - timedelta(days=WEEK_DAYS - 1)
    before = [_week(played, first - timedelta(days=WEEK_DAYS + back)) for back in range(LOOKED_AT_DAYS - WEEK_DAYS + 1)]
    if not any(before):
        return None
    week = sum((played.get(first + timedelta(days=ahead), Fraction(0)) for ahead in range(WEEK_DAYS - 1)), Fraction(0))
    return max(max(before) * (1 + growth_per_cent / 100) - week, Fraction(LEAST_SECONDS))


def _week(played: Mapping[date, Fraction], first: date) -> Fraction:
    """What seven days held."""
    return sum((played.get(first + timedelta(days=ahead), Fraction(0)) for ahead in range(WEEK_DAYS)), Fraction(0))
