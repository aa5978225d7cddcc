"""Play an item otherwise than it was planned: at another tempo, on another rung, one run of it.

Rule    the notes stay those that were planned, also where a day has only a part of the drill; what is breathed and how
        long it lasts is worked out anew. Slower and faster go to the next number of the traditional metronome; the
        tempo is the one that is played, also where a dense rhythm has slowed the beat.
Units   felt beats a minute; speeds in per cent of them.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from droner.practice.density import slowed_bpm
from droner.practice.history import History
from droner.practice.ladders import Ladders
from droner.practice.layout.line import DoesNotFit, Line
from droner.practice.performance import NO_LEAD_IN, perform

if TYPE_CHECKING:
    from collections.abc import Sequence
    from fractions import Fraction

    from droner.cli.day import Day
    from droner.practice.history import LoggedRun
    from droner.practice.item import Item
    from droner.practice.ladder.rung import Rung
    from droner.practice.layout.line import LaidNote
    from droner.practice.logbook.entry import Entry


def at_tempo(item: Item, bpm: Fraction) -> Item:
    """The item at a tempo that is played."""
    return item if bpm == item.bpm else _again(item, bpm=bpm)


def run_of(item: Item, number: int, planned: Item) -> Item:
    """One run of an item, as an item of its own: only the first has a lead-in.

    On a rung with other runs than `planned` it goes at the speed that was planned.
    """
    speeds = item.speeds if len(item.speeds) == len(planned.speeds) else planned.speeds
    return _again(item, speeds=(speeds[number],), lead_in=NO_LEAD_IN if number else item.course.lead_in)


def rung_now(day: Day, item: Item, played_today: Sequence[Entry]) -> Rung | None:
    """Where the ladder of an item stands after what was played today; None without one."""
    today = History((*day.logged, *played_today)).of(day.session)

    def runs_of(drill: str) -> Sequence[LoggedRun]:
        return [*day.planner.history.runs_of(drill), *today.runs_of(drill)]

    ladders = Ladders(day.session, day.patterns, runs_of)
    key = str(item.key) if item.key else ""
    return ladders.rung(item.block, key, item.variant, day.plan.day, opens=False)


def on_rung(day: Day, item: Item, rung: Rung) -> Item:
    """The item on another rung of its ladder."""
    if item.course.portion is not None and not rung.phrases and item.portion is not None:
        bpm = slowed_bpm(rung.bpm, item.manner.rhythm, item.meter.beat)
        return replace(_again(item, bpm=bpm, speeds=rung.speeds), rung=rung)
    made = day.planner.items.item(item.block, _of_rotation(day, item), item.variant, rung)
    return item if isinstance(made, DoesNotFit) else made


def is_same_rung(one: Rung, other: Rung) -> bool:
    """Whether two rungs are one place of a ladder, however many runs the day's first item has."""
    return replace(one, speeds=()) == replace(other, speeds=())


def _of_rotation(day: Day, item: Item) -> Any:
    """The key as the rotation has it: as it sounds, where the session says so."""
    session = day.session
    if item.key is None or not session.concert_keys:
        return item.key
    return item.key.transposed(session.instrument.sounding)


def _again(item: Item, **changes: Any) -> Item:
    """The same notes with another course."""
    line = item.line if item.course.portion is None else _played(item)
    course = replace(item.course, portion=None, **changes)
    return replace(item, line=line, course=course, bpm=course.bpm, performance=perform(line, course))


def _played(item: Item) -> Line:
    """The notes of an item's first run. One on which a phrase stops and the next starts counts once."""
    notes: list[LaidNote] = []
    for placed in item.performance.repeats[0].phrases:
        laid = placed.phrase.laid
        notes += laid[1:] if notes and laid[0] is notes[-1] else laid
    return Line(tuple(notes), item.line.home)
