"""Tell in words what the page, the chart and the data of the ladders share.

Rule    plain words, with the numbers that decided. No praise, no scolding, no counting of days in a row.
Units   beats a minute; days by name.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.practice.ladder.climb_table import STRAIGHT
from droner.practice.ladder.day_words import day_name
from droner.practice.ladder.state import Why
from droner.practice.ladder.words import TIMES

if TYPE_CHECKING:
    from datetime import date

    from droner.cli.ladder_rows import Row, Seen
    from droner.practice.ladder.projection import Projection
    from droner.practice.ladder.state import Move

NO_LADDER = (
    "No block of this session has a ladder. Give one a slow tempo and a target, in place of its tempo: "
    "ladder = { from = 60, to = 126 }"
)
NOTHING_YET = "write down how it went with droner log, and the ladders climb by it."


def remark(shown: Seen) -> str:
    """What is to be done where nothing was written down; "" where something was."""
    if not shown.rows or shown.is_played:
        return ""
    if not shown.kept:
        return f"There is no logbook yet: {NOTHING_YET}"
    return f"The logbook has nothing of these drills up to this day: {NOTHING_YET}"


def move_words(row: Row, move: Move) -> str:
    """One move: "3 clean in a row at 84, up to 88"."""
    rungs = row.way.rungs
    old, new = rungs[move.from_place], rungs[move.to_place]
    if move.why is Why.RESTART:
        return f"{move.count} days since the last time, from {old.label} back to {new.label}"
    if move.why is Why.DOWN:
        missed = f"missed {TIMES.get(move.count, f'{move.count} times')}" + " in a row" * (move.count > 1)
        return f"{missed} at {old.label}, down to {new.label}"
    clean = f"clean at {old.label}" if move.count == 1 else f"{move.count} clean in a row at {old.label}"
    if move.why is Why.REACHED:
        return f"{clean}, its {'target' if row.way.by_tempo else 'last step'}"
    return f"{clean}, {'on' if new.bpm < old.bpm else 'up'} to {new.label}"


def target_words(target: Projection, today: date) -> str:
    """When the target may be reached, or why nothing can be said."""
    if target.day is None or target.earliest is None or target.latest is None:
        return target.why
    day, *ends = (day_name(each, today) for each in (target.day, target.earliest, target.latest))
    return f"{day} ({' to '.join(ends)})" if target.earliest < target.latest else day


def target_label(row: Row, today: date) -> str:
    """The target with it, for a chart: "target 126: too early to say"."""
    told = target_words(row.target, today)
    return told if row.stands.reached else f"target {row.way.rungs[-1].label}: {told}"


def climb_words(row: Row) -> str:
    """How it climbs, where that is not straight up; "" where it is."""
    if row.order.climb == STRAIGHT:
        return ""
    return row.order.climb if row.way.by_tempo else f"{row.order.climb} at {float(row.order.to_bpm):g}"
