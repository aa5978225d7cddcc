"""Say where a ladder stands on a day: its rung, how the day opens, and why.

Rule    days away are counted to the day that is asked for, so that where it stands follows from history and date alone.
        A day before the last one, as across the date line, is no day away.
Units   places from 0; per cent; days.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from droner.practice.ladder.way import days_away, way_of
from droner.practice.ladder.words import Told, plateau, why

if TYPE_CHECKING:
    from datetime import date
    from fractions import Fraction

    from droner.practice.ladder.rung import Rung
    from droner.practice.ladder.state import Climb
    from droner.practice.session import LadderOrder


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a ladder stands on one day: at `place` (from 0) of so many rungs.

    `opening_bpm`: the tempo of the drill's first run today, None where it is no slower than the others.
    `plateau`: whether enough days have failed where it stands, or where a fall from there leads; then
    `plateau_words` says what to change instead of the tempo.
    `reached`: whether the target was clean, and nothing has led down from it since.
    """

    rung: Rung
    place: int
    of: int
    opening_bpm: Fraction | None
    plateau: bool
    reached: bool
    why: str
    plateau_words: str = ""


def standing(order: LadderOrder, climb: Climb, today: date) -> Standing:
    """Where it stands. ValueError for a ladder that does not climb."""
    way, state = way_of(order), climb.state
    days = days_away(state.day, today)
    place = way.resumed(state.place, state.clean_to, state.returned, days)
    told = Told(order, way, climb, today, place)
    stuck = state.failing >= order.plateau_days and place >= way.falls[state.stuck]
    return Standing(
        rung=told.rung,
        place=place,
        of=len(way.rungs),
        opening_bpm=way.opening(place, state.clean_to, days),
        plateau=stuck,
        reached=told.is_reached,
        why=why(told),
        plateau_words=plateau(told) if stuck else "",
    )
