"""Say how many minutes a day has: what the session gives, less its rest, less what would be too much this week.

Rule    a rest counts within the minutes and takes half of them at most. The load is only limited where the session says
        by how much it may grow.
Units   whole microseconds for fitting, Seconds for showing.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from droner.practice.load import allowed_seconds
from droner.practice.portion import MICROSECONDS
from droner.units import Seconds

if TYPE_CHECKING:
    from datetime import date
    from fractions import Fraction

    from droner.practice.history import History
    from droner.practice.session import Session


@dataclass(frozen=True, slots=True)
class Budget:
    """The day's minutes: `whole` with its rest, `us` of them for items. `shrunk`: this week allows no more."""

    whole: Seconds
    rest: Seconds
    us: int
    shrunk: bool = False


def budget_of(session: Session, history: History, today: date) -> Budget:
    """The minutes of a day."""
    asked = session.minutes * 60
    allowed = _allowed(session, history, today)
    whole = asked if allowed is None else min(asked, allowed)
    rest = min(session.rest_minutes * 60, whole / 2)
    return Budget(Seconds(whole), Seconds(rest), int((whole - rest) * MICROSECONDS), shrunk=whole < asked)


def _allowed(session: Session, history: History, today: date) -> Fraction | None:
    if session.load_growth is None:
        return None
    before = {day: seconds for day, seconds in history.seconds_by_day().items() if day < today}
    return allowed_seconds(before, today, session.load_growth)
