"""Read of the logbook what a day's plan asks of it, and no more, so that a lifetime costs a fifth of a second.

Rule    the answers are those that `History` gives of all the entries that hold. Only days that a correction touches,
        at either end, can hold other than what was written down on them: these days are read whole, and what holds is
        found as ever (`effective`). Of all other days a run is read with no more than a ladder counts. Whole entries
        are read of the last days: that far back do weak keys and the load of the weeks look.
Units   days are the player's own.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from functools import partial
from itertools import islice, repeat
from operator import attrgetter
from typing import TYPE_CHECKING, Any, NamedTuple

from droner.practice.history import LOOKED_BACK_DAYS, History, LoggedRun, are_turns
from droner.practice.ladder.groups import WHOLE_DRILL
from droner.practice.logbook.effective import effective
from droner.practice.logbook.rows import FIELDS, ReadOnce, entries_of

if TYPE_CHECKING:
    from droner.practice.history import Turn
    from droner.practice.logbook.entry import Entry
    from droner.practice.logbook.store import Ask
    from droner.practice.session import Session

_TOUCHED = """
SELECT day FROM entry WHERE corrects <> ''
UNION SELECT day FROM entry WHERE name IN (SELECT corrects FROM entry WHERE corrects <> '')
"""
_UNTOUCHED = f"day NOT IN ({_TOUCHED})"
_WHOLE = f"SELECT {', '.join(FIELDS)} FROM entry WHERE day BETWEEN ? AND ?"  # noqa: S608 - the same
_WHOLE_TOUCHED = f"SELECT {', '.join(FIELDS)} FROM entry WHERE day IN ({_TOUCHED})"  # noqa: S608 - the same
_OF_SESSION = "session = ? AND instrument = ?"
_OF_SESSION_IN_TURN = "+session = ? AND +instrument = ?"
"""The plus keeps SQLite from an index that does not hold what is counted: to read all rows in turn is faster."""
_DAY = attrgetter("day")
ROWS_AT_ONCE = 1000
"""So many rows stay in the processor's memory."""


class _Run(NamedTuple):
    """A run as a ladder counts it."""

    day: date
    bpm: Fraction
    step: str
    clean: int
    total: int
    key: str
    variant: int


@dataclass(frozen=True, slots=True, eq=False)
class SessionPast:
    """What was played before a day, as far as the plans of one session from that day on ask for it.

    `recent`: the last days, whole. `runs`: of every drill that the session climbs with, all of them. `places`: what was
    played where in the rotation. `played_days`: on how many days the session was played.
    """

    recent: History
    runs: Mapping[str, Sequence[LoggedRun]]
    places: Collection[tuple[int, str, int]]
    played_days: int
    last_day: date | None

    def of(self, _: Session) -> SessionPast:
        """It was read for one session."""
        return self

    def runs_of(self, drill: str) -> Sequence[LoggedRun]:
        """All runs of a drill that the session climbs with, in their order."""
        return self.runs[drill]

    def turns_done(self, _: str, turn: Turn, fixed: frozenset[int] = frozenset()) -> frozenset[int]:
        """The places of the session's rotation that are done."""
        return are_turns(self.places, turn, fixed)

    def days_of(self, _: str) -> int:
        """On how many days the session was played."""
        return self.played_days

    def weak(self, today: date) -> tuple[Entry, ...]:
        """The last entries of what went badly in the last days, the worst first."""
        return self.recent.weak(today)

    def seconds_by_day(self) -> dict[date, Fraction]:
        """How long was played on each of the last days."""
        return self.recent.seconds_by_day()


def past_before(ask: Ask, session: Session, today: date) -> tuple[SessionPast, tuple[Entry, ...]]:
    """What a session's plan asks of the days before one; and the entries that hold of the day itself."""
    asked = _Asked(ask, session, "<", today)
    by_calendar = session.rotation.by_calendar
    return asked.past(places=not by_calendar, days=by_calendar), asked.of_the_day


def past_until(ask: Ask, session: Session, today: date) -> SessionPast:
    """What the session's ladders ask of the days up to one and with it."""
    return _Asked(ask, session, "<=", today).past(places=False, days=False)


class _Asked:
    """The queries of one reading. `until`: how a day compares that is still read."""

    def __init__(self, ask: Ask, session: Session, until: str, today: date) -> None:
        self._ask, self._session, self._today = ask, session, today
        self._instrument = session.instrument.name
        touched = self._touched_days = {date.fromisoformat(day) for (day,) in ask(_TOUCHED)}
        since = date.fromordinal(max(today.toordinal() - LOOKED_BACK_DAYS, 1))
        rows = {row[0]: row for row in ask(_WHOLE, (since.isoformat(), today.isoformat()))}
        if touched:
            rows |= {row[0]: row for row in ask(_WHOLE_TOUCHED)}
        whole = effective(entries_of(rows.values()))
        self.of_the_day = tuple(entry for entry in whole if entry.day == today)
        read = [entry for entry in whole if entry.instrument == self._instrument and self._is_read(entry.day, until)]
        self._recent = tuple(entry for entry in read if entry.day >= since)
        self._touched = tuple(entry for entry in read if entry.day in touched)
        self._until = f"day {until} ?"
        self._untouched = f"AND {_UNTOUCHED}" if touched else ""

    def _is_read(self, day: date, until: str) -> bool:
        return day < self._today or (until == "<=" and day == self._today)

    def past(self, *, places: bool, days: bool) -> SessionPast:
        """The answers; about the rotation's places and the days played only where they are asked for."""
        return SessionPast(
            History(self._recent),
            {drill: self._runs(drill, grouped=grouped) for drill, grouped in self._climbing().items()},
            self._places() if places else (),
            self._played_days() if days else 0,
            self._last_day(),
        )

    def _climbing(self) -> dict[str, bool]:
        """The drills that the session climbs with; whether any of their ladders asks for the key or the variant."""
        found: dict[str, bool] = {}
        for block in self._session.blocks:
            if block.ladder:
                found[block.drill] = found.get(block.drill, False) or block.ladder.each != WHOLE_DRILL
        return found

    def _runs(self, drill: str, *, grouped: bool) -> Sequence[LoggedRun]:
        columns = "day, bpm, step, clean, total" + ", key, variant" * grouped
        rows = self._rows(columns, "instrument = ? AND drill = ?", self._instrument, drill, order="day, written, name")
        runs = _runs_of(iter(rows))
        if not self._touched_days:
            return runs
        untouched = (run for run in runs if run.day not in self._touched_days)
        return sorted([*untouched, *(entry for entry in self._touched if entry.drill == drill)], key=_DAY)

    def _places(self) -> Collection[tuple[int, str, int]]:
        where = f"place IS NOT NULL AND {_OF_SESSION} {self._untouched}"
        rows = self._rows("DISTINCT place, key, variant", where, *self._of_session)
        corrected = ((entry.place, entry.key, entry.variant) for entry in self._corrected_of_session())
        return [*rows, *((place, key, row) for place, key, row in corrected if place is not None)]

    def _played_days(self) -> int:
        ((days,),) = self._rows("count(DISTINCT day)", f"{_OF_SESSION_IN_TURN} {self._untouched}", *self._of_session)
        return int(days) + len({entry.day for entry in self._corrected_of_session()})

    def _last_day(self) -> date | None:
        where = f"+instrument = ? {self._untouched}"
        last = self._rows("day", where, self._instrument, order="day DESC LIMIT 1")
        days = [*(entry.day for entry in self._touched), *(date.fromisoformat(day) for (day,) in last)]
        return max(days, default=None)

    def _corrected_of_session(self) -> Iterable[Entry]:
        return (entry for entry in self._touched if entry.session == self._session.title)

    @property
    def _of_session(self) -> tuple[str, str]:
        return self._session.title, self._instrument

    def _rows(self, columns: str, where: str, *values: str, order: str = "") -> Iterable[tuple[Any, ...]]:
        query = f"SELECT {columns} FROM entry WHERE {where} AND {self._until}"  # noqa: S608 - our own words
        return self._ask(query + f" ORDER BY {order}" * bool(order), (*values, self._today.isoformat()))


def _runs_of(rows: Iterator[tuple[Any, ...]]) -> list[LoggedRun]:
    """Runs of their rows, column by column of some rows at a time: a lifetime's come twice as fast as one by one."""
    day_of, fraction_of = ReadOnce(date.fromisoformat).__getitem__, ReadOnce(Fraction).__getitem__
    runs: list[LoggedRun] = []
    while some := [*islice(rows, ROWS_AT_ONCE)]:
        days, bpms, *others = zip(*some, strict=True)
        without_group = (repeat(""), repeat(0)) if len(others) < len(_Run._fields) - 2 else ()
        columns = zip(map(day_of, days), map(fraction_of, bpms), *others, *without_group, strict=False)
        runs += map(partial(tuple.__new__, _Run), columns)
    return runs
