"""Say how many minutes a day has: what the session gives, less its rest, less what would be too much this week.

Rule    a rest counts within the minutes and takes half of them at most. The load is only limited where the session says
        by how much it may grow.
Units   whole microseconds for fitting, Seconds for showing.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from droner.practice.load import load_before
from droner.practice.portion import MICROSECONDS
from droner.units import Seconds

if TYPE_CHECKING:
    from datetime import date

    from droner.practice.history import Past
    from droner.practice.load import Load
    from droner.practice.session import Session


@dataclass(frozen=True, slots=True)
class Budget:
    """The day's minutes: `whole` with its rest, `us` of them for items.

    `shrunk`: this week allows no more; then `played` says what the six days before held, and the fullest seven.
    """

    whole: Seconds
    rest: Seconds
    us: int
    shrunk: bool = False
    played: tuple[Fraction, Fraction] = (Fraction(0), Fraction(0))


def budget_of(session: Session, history: Past, today: date) -> Budget:
    """The minutes of a day."""
    asked, load = session.minutes * 60, _load(session, history, today)
    whole = min(asked, load.allowed(session.load_growth or Fraction(0))) if load else asked
    rest = min(session.rest_minutes * 60, whole / 2)
    us, played = int((whole - rest) * MICROSECONDS), (load.week, load.fullest) if load else (Fraction(0), Fraction(0))
    return Budget(Seconds(whole), Seconds(rest), us, whole < asked, played)


def _load(session: Session, history: Past, today: date) -> Load | None:
    """The load before a day, where the session limits it."""
    if session.load_growth is None:
        return None
    return load_before({day: seconds for day, seconds in history.seconds_by_day().items() if day < today}, today)
