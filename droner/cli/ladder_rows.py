"""Find where every ladder of a session stands on a day, and what was played on it.

Rule    all that was written down up to and including the day is read, unlike for a plan. A row is a ladder: a block's,
        or that of each group of its items which climbs by itself and was played. Runs that say nothing about a ladder,
        as those of another climb's steps, are not counted on it.
Units   whole days; tempos in felt beats a minute.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter
from dataclasses import dataclass
from datetime import date
from operator import attrgetter
from typing import TYPE_CHECKING

from droner.cli.logbook import entries_of, past_with
from droner.practice.history import History
from droner.practice.ladder.fold import climbed
from droner.practice.ladder.projection import projected
from droner.practice.ladder.standing import standing
from droner.practice.ladder.way import way_of
from droner.practice.ladders import Ladders

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from droner.practice.ladder.projection import Projection
    from droner.practice.ladder.rung import Rung
    from droner.practice.ladder.standing import Standing
    from droner.practice.ladder.state import Climb
    from droner.practice.ladder.way import Way
    from droner.practice.logbook.entry import Entry
    from droner.practice.past import SessionPast
    from droner.practice.pattern import Patterns
    from droner.practice.session import Block, LadderOrder, Session

WEEK_DAYS = 7
_DAY = attrgetter("day")
Played = dict[tuple[int, str], list["Entry"]]
NO_GROUP = "in no key"
"""The group of what has no key, where keys make the groups."""


@dataclass(frozen=True, slots=True)
class Row:
    """One ladder on one day. `entries`: what was played on it, of the days asked for, in their order."""

    name: str
    block: Block
    order: LadderOrder
    group: str
    climb: Climb
    stands: Standing
    target: Projection
    entries: tuple[Entry, ...]

    @property
    def way(self) -> Way:
        """Its rungs, and what leads where."""
        return way_of(self.order)

    @property
    def label(self) -> str:
        """The drill, and which of its ladders."""
        return f"{self.name}, {self.group}" if self.group else self.name

    @property
    def secure(self) -> Rung | None:
        """The secure rung; None when nothing was clean yet."""
        clean_to = self.climb.state.clean_to
        return self.way.secure(clean_to) if clean_to else None

    def week(self, today: date) -> tuple[int, int]:
        """Clean runs and all runs of the last seven days, today's too."""
        recent = [entry for entry in self.entries if entry.day >= _week_begins(today)]
        return sum(entry.clean for entry in recent), sum(entry.total for entry in recent)


@dataclass(frozen=True, slots=True)
class Seen:
    """The ladders of a session on a day. `kept`: there is a logbook."""

    session: Session
    today: date
    logbook: Path
    kept: bool
    rows: tuple[Row, ...]

    @property
    def is_played(self) -> bool:
        """Whether anything was written down of any of them."""
        return any(row.climb.first for row in self.rows)


def seen(session: Session, patterns: Patterns, logbook: Path, today: date, *, whole: bool = False) -> Seen:
    """Where every ladder stands on a day; `whole`: with every entry, not only the last week's."""
    past = _whole(session, logbook, today) if whole else past_with(logbook, session, today)
    ladders = Ladders(session, patterns, (past or History()).runs_of)
    played = _by_ladder(session, ladders, _days_looked_at(past, today))
    rows = tuple(row for block in session.blocks for row in _rows(block, session, ladders, played, today))
    return Seen(session, today, logbook, past is not None, rows)


def _whole(session: Session, logbook: Path, today: date) -> History | None:
    """Every entry up to the day and with it; None where there is no logbook."""
    entries = entries_of(logbook)
    return None if entries is None else History(entries[: bisect_right(entries, today, key=_DAY)]).of(session)


def _days_looked_at(past: History | SessionPast | None, today: date) -> Sequence[Entry]:
    """The entries that are looked at one by one: all of them, or the last week's."""
    if past is None:
        return ()
    if isinstance(past, History):
        return past.entries
    recent = past.recent.entries
    return recent[bisect_left(recent, _week_begins(today), key=_DAY) :]


def _week_begins(today: date) -> date:
    return date.fromordinal(max(today.toordinal() - WEEK_DAYS + 1, 1))


def _rows(block: Block, session: Session, ladders: Ladders, played: Played, today: date) -> Iterator[Row]:
    """The ladders of one block; one that nothing was played on yet stands there too."""
    if block.ladder is None:
        return
    groups = sorted(group for number, group in ladders.climbs if number == block.number)
    for group in groups or [""]:
        climb = ladders.climbs.get((block.number, group)) or climbed(block.ladder, ())
        stands = standing(block.ladder, climb, today)
        yield Row(
            name=_name(block, session),
            block=block,
            order=block.ladder,
            group=group or (NO_GROUP if groups and block.ladder.each != "drill" else ""),
            climb=climb,
            stands=stands,
            target=projected(block.ladder, climb, stands, today),
            entries=tuple(played.get((block.number, group), ())),
        )


def _name(block: Block, session: Session) -> str:
    """The drill; with the number of its block where several blocks climb with it."""
    times = Counter(each.drill for each in session.blocks if each.ladder)
    return block.drill if times[block.drill] == 1 else f"{block.drill}, block {block.number}"


def _by_ladder(session: Session, ladders: Ladders, entries: Sequence[Entry]) -> Played:
    """The entries of each ladder that say something about it."""
    found: Played = {}
    for block in session.blocks:
        if block.ladder is None:
            continue
        reach = way_of(block.ladder).reach
        known: dict[tuple[int, int, str], bool] = {}
        for entry in entries:
            if entry.drill != block.drill:
                continue
            asked = (*entry.bpm.as_integer_ratio(), entry.step)
            if asked not in known:
                known[asked] = reach(entry.bpm, entry.step) is not None
            if known[asked]:
                group = ladders.group(block, entry.key, ladders.variant(entry.variant))
                found.setdefault((block.number, group), []).append(entry)
    return found
