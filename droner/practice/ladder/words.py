"""Say in plain words why a ladder stands where it stands.

Rule    what a teacher would say, with the numbers that decided. No praise, no scolding, no counting of days played.
        One reason, the weightiest: nothing played yet, days away, a target reached, the last move, the counts since.
Units   beats a minute; per cent; days.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from types import MappingProxyType
from typing import TYPE_CHECKING

from droner.practice.ladder.climb_table import COLD
from droner.practice.ladder.day_words import day_name, on_day
from droner.practice.ladder.plateau_table import suggestion
from droner.practice.ladder.state import Move, Why
from droner.practice.ladder.way import days_away

if TYPE_CHECKING:
    from droner.practice.ladder.rung import Rung
    from droner.practice.ladder.state import Climb
    from droner.practice.ladder.way import Way
    from droner.practice.session import LadderOrder

LATELY_DAYS = 7
"""A fall is told of for so long."""
TIMES: Mapping[int, str] = MappingProxyType({1: "once", 2: "twice"})


@dataclass(frozen=True, slots=True)
class Told:
    """What there is to tell from: the order and its way, what was climbed, today, and the place it stands at."""

    order: LadderOrder
    way: Way
    climb: Climb
    today: date
    place: int

    @property
    def rung(self) -> Rung:
        """Where it stands."""
        return self.way.rungs[self.place]

    @property
    def is_reached(self) -> bool:
        """Whether it stands at its target, and the target was clean."""
        return self.place == self.way.top and self.climb.state.held > self.way.top


def why(told: Told) -> str:
    """The reason, in one sentence without a full stop."""
    state, moves = told.climb.state, told.climb.moves
    if told.order.climb == COLD:
        return _cold(told)
    if state.day is None:
        return _first(told)
    if told.place < state.place:
        return _away(told, days_away(state.day, told.today), told.today, state.place)
    if told.is_reached:
        return f"at its {_target(told)} since {_since(told)}"
    if moves and not state.counted:
        return _MOVED[moves[-1].why](told, moves[-1])
    return _counted(told)


def _counted(told: Told) -> str:
    """Where it stands while runs are counted; of a fall that lately led there."""
    last = told.climb.moves[-1] if told.climb.moves else None
    if last and last.why is Why.DOWN and (told.today - last.day).days <= LATELY_DAYS:
        return f"{_down(told, last)}; {_counts(told)}"
    return f"stands at {told.rung.label}{_last_words(told)}: {_counts(told)}"


def plateau(told: Told) -> str:
    """What to change instead of the tempo."""
    days, stuck = told.climb.state.failing, told.way.rungs[told.climb.state.stuck].label
    tried = "1 day" if days == 1 else f"{days} days"
    if told.climb.state.stuck == 0 and told.way.by_tempo:
        return f"{tried} did not get past {stuck}, the slowest: begin lower, with a smaller from"
    back = "once back there, " * (told.place < told.climb.state.stuck)
    return f"{tried} did not get past {stuck}: {back}leave the tempo, try {suggestion(told.today)}"


def _first(told: Told) -> str:
    slow, target = (f"{float(bpm):g}" for bpm in (told.way.rungs[0].bpm, told.order.to_bpm))
    if told.way.by_tempo:
        return f"first tempo of its ladder from {slow} to {target}"
    return f"first step of its ladder at {target}: {told.rung.label}"


def _cold(told: Told) -> str:
    run = f"one cold run at its target {told.rung.label}"
    return f"{run}, first clean {on_day(_reached(told), told.today)}" if told.is_reached else f"{run}, not clean yet"


def _target(told: Told) -> str:
    return f"target {told.rung.label}" if told.way.by_tempo else f"last step, {told.rung.label},"


def _since(told: Told) -> str:
    return day_name(_reached(told), told.today)


def _reached(told: Told) -> date:
    return next(move.day for move in reversed(told.climb.moves) if move.why is Why.REACHED)


def _last_words(told: Told) -> str:
    if told.place < told.way.top:
        return ""
    return ", its target" if told.way.by_tempo else ", its last step"


def _up(told: Told, move: Move) -> str:
    rungs, on = told.way.rungs, on_day(move.day, told.today)
    old, new = rungs[move.from_place], rungs[move.to_place]
    in_a_row = f"{move.count} clean in a row" if move.count > 1 else "clean"
    row = f"{in_a_row} at {old.label}, the last {on}"
    clean = f"clean at {old.label} {on}, on the way back" if move.count == 1 and told.way.up_after > 1 else row
    return f"{clean}: {'on' if new.bpm < old.bpm else 'up'} to {new.label}"


def _down(told: Told, move: Move) -> str:
    old, new = told.way.rungs[move.from_place], told.way.rungs[move.to_place]
    times = TIMES.get(move.count, f"{move.count} times")
    in_a_row = f"missed {times} in a row" if move.count > 1 else "missed"
    return f"{in_a_row} at {old.label}, the last {on_day(move.day, told.today)}: down to {new.label}"


def _restarted(told: Told, move: Move) -> str:
    return _away(told, move.count, move.day, move.from_place)


def _away(told: Told, days: int, day: date, from_place: int) -> str:
    """After days away, on a day: how far back from a place, and by which rule."""
    when = "" if day == told.today else f" {on_day(day, told.today)}"
    away = f"{days} days since the last time"
    if not told.way.by_tempo:
        return f"{away}: back from {told.way.rungs[from_place].label} to {told.rung.label}{when}"
    share, clean = told.way.share(days), told.way.secure(told.climb.state.clean_to)
    return f"{away}: down to {told.rung.label}{when}, {_at_most(told, share)} your secure {clean.label}"


def _at_most(told: Told, share: Fraction) -> str:
    """By how much slower; the first rung may still be faster than that."""
    slow_enough = told.rung.bpm * 100 <= told.way.secure(told.climb.state.clean_to).bpm * share
    return f"at most {float(share):g} per cent of" if slow_enough else "its first tempo, after"


def _counts(told: Told) -> str:
    """What was counted since the last move, and what it takes to go on."""
    state, order = told.climb.state, told.order
    asked = 1 if told.place < state.held else told.way.up_after
    if state.total and told.today == state.day and state.clean * 100 < order.clean_share * state.total:
        share = f"{float(order.clean_share):g} per cent lead up"
        return f"{state.clean} of {state.total} clean there today, {share}"
    if asked == 1 and told.place < state.held:
        return "it was clean before, one clean run leads up"
    if state.row >= asked:
        return f"{asked} clean in a row, though too few of that day's were: one clean run more leads up"
    return f"{state.row} of {asked} clean in a row so far"


_MOVED: Mapping[Why, Callable[[Told, Move], str]] = MappingProxyType(
    {Why.UP: _up, Why.DOWN: _down, Why.RESTART: _restarted}
)
"""How to tell of the last move; of a target reached, `why` tells before it."""
