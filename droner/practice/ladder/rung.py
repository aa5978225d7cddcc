"""Make the rungs of a ladder, in the order in which they are climbed.

Rule    a climb by tempo goes through the tempos of its ladder, straight or in waves; each rung has the order's runs,
        then the runs that end an item. Slow and target in turn: after each run at the rung comes one at the target.
        A climb at the target has steps with names instead, and one run each.
Units   beats a minute; speeds in per cent of them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from droner.practice.ladder import climb_table as table
from droner.practice.ladder.tempos import tempos

if TYPE_CHECKING:
    from collections.abc import Iterator

    from droner.practice.session import LadderOrder

WHOLE = Fraction(100)
KEPT_ORDERS = 1024


@dataclass(frozen=True, slots=True)
class Rung:
    """One place on a ladder.

    `step`: its name, where the climb is not by tempo. `rhythm` takes the place of the manner's; `click` that of the
    item's; empty, they stay. `phrases`: only the first so many of the drill, 0 for all. `speeds`: one run each.
    """

    bpm: Fraction
    step: str = ""
    rhythm: str = ""
    click: str = ""
    phrases: int = 0
    speeds: tuple[Fraction, ...] = (WHOLE,)

    @property
    def label(self) -> str:
        """What the player calls it: its step, or its tempo."""
        return self.step or f"{float(self.bpm):g}"


@lru_cache(maxsize=KEPT_ORDERS)
def rungs(order: LadderOrder) -> tuple[Rung, ...]:
    """Every rung, first to last. ValueError for a ladder that does not climb, or an unknown climb."""
    if order.climb not in _RUNGS:
        raise ValueError(f"{order.climb!r} is none of the climbs {', '.join(_RUNGS)}")
    return tuple(_RUNGS[order.climb](order))


def _straight(order: LadderOrder) -> Iterator[Rung]:
    speeds = (*order.runs, *_end(order))
    return (Rung(bpm, speeds=speeds) for bpm in tempos(order))


def _in_waves(order: LadderOrder) -> Iterator[Rung]:
    """So many rungs up, so many back, and on from there; the last rung ends the climb."""
    straight = tuple(_straight(order))
    up, back = table.WAVES[order.climb]
    start, last = 0, len(straight) - 1
    while start + up < last:
        yield from straight[start : start + up + 1]
        start += up - back
    yield from straight[start:]


def _in_turn(order: LadderOrder) -> Iterator[Rung]:
    for bpm in tempos(order):
        target = WHOLE * order.to_bpm / bpm
        turns = (speed for run in order.runs for speed in (run, target))
        yield Rung(bpm, speeds=(*turns, *_end(order)))


def _end(order: LadderOrder) -> tuple[Fraction, ...]:
    """The slower runs that end an item."""
    return (order.end_at,) * order.end_runs


def _bursts(order: LadderOrder) -> Iterator[Rung]:
    for breaths in range(1, table.MOST_BREATHS + 1):
        yield Rung(order.to_bpm, f"{breaths} breath{'s' * (breaths > 1)}", phrases=breaths)
    yield Rung(order.to_bpm, "all of it")


def _more_notes(order: LadderOrder) -> Iterator[Rung]:
    return (Rung(order.to_bpm, rhythm, rhythm=rhythm) for rhythm in table.NOTES_A_BEAT)


def _fewer_clicks(order: LadderOrder) -> Iterator[Rung]:
    return (Rung(order.to_bpm, click, click=click) for click in table.CLICKS)


def _cold(order: LadderOrder) -> Iterator[Rung]:
    yield Rung(order.to_bpm)


_RUNGS: Mapping[str, Callable[[LadderOrder], Iterator[Rung]]] = MappingProxyType(
    {
        table.STRAIGHT: _straight,
        table.TWO_UP: _in_waves,
        table.TERRACES: _in_waves,
        table.IN_TURN: _in_turn,
        table.BURSTS: _bursts,
        table.MORE_NOTES: _more_notes,
        table.FEWER_CLICKS: _fewer_clicks,
        table.COLD: _cold,
    }
)
