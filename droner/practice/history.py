"""Look at what was played: which turns of the rotation are done, which keys went badly, how long each day was.

Rule    only what holds is looked at: corrected entries have made way. A turn of the rotation is done once anything was
        played at its place in its key and variant; an entry of another order of keys proves nothing.
        A key went badly when the last entry of a drill in it had fewer clean runs than `WEAK_BELOW`; once it is
        played again, that entry decides. After `WEAK_DAYS` days it is left to the rotation.
Units   seconds of playing; dates are the player's own days.
Source  70 per cent, two weeks: common practice, no source.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from typing import TYPE_CHECKING, Protocol

from droner.practice.ladder.state import Played
from droner.practice.load import LOAD_DAYS

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from droner.practice.logbook.entry import Entry
    from droner.practice.session import Session

WEAK_BELOW = Fraction(7, 10)
WEAK_DAYS = 14
LOOKED_BACK_DAYS = max(WEAK_DAYS, LOAD_DAYS)
"""So far back the days are looked at one by one; of those before them only the turns done and the runs of a ladder."""
Turn = Callable[[int], tuple[str, int]]
"""The key and the number of the variant that a place of a rotation brings."""


class LoggedRun(Played, Protocol):
    """A run as a ladder's groups see it."""

    @property
    def key(self) -> str:
        """The key as the player reads it, "" for none."""

    @property
    def variant(self) -> int:
        """The number of its row, 0 for plain."""


class Past(Protocol):
    """What a plan asks of what was played."""

    def of(self, session: Session) -> Past:
        """That of the session's instrument."""

    def runs_of(self, drill: str) -> Sequence[LoggedRun]:
        """All runs of a drill, in their order."""

    def turns_done(self, title: str, turn: Turn, fixed: frozenset[int] = frozenset()) -> frozenset[int]:
        """The places of a session's rotation that are done."""

    def days_of(self, title: str) -> int:
        """On how many days a session was played."""

    @property
    def last_day(self) -> date | None:
        """The last day on which anything was played."""

    def weak(self, today: date) -> tuple[Entry, ...]:
        """The last entries of what went badly in the last days, the worst first."""

    def seconds_by_day(self) -> dict[date, Fraction]:
        """How long was played on each day, as far as it was written down; at least the last days."""


@dataclass(frozen=True, slots=True)
class History:
    """The entries that hold, in the order of the days, of one player."""

    entries: tuple[Entry, ...] = ()

    def of(self, session: Session) -> History:
        """Those of the session's instrument."""
        return History(tuple(entry for entry in self.entries if entry.instrument == session.instrument.name))

    def runs_of(self, drill: str) -> tuple[Entry, ...]:
        """All runs of a drill, in their order."""
        return tuple(entry for entry in self.entries if entry.drill == drill)

    def turns_done(self, title: str, turn: Turn, fixed: frozenset[int] = frozenset()) -> frozenset[int]:
        """The places of a session's rotation that are done.

        `fixed`: variants that blocks play whatever it brings.
        """
        found = {
            (entry.place, entry.key, entry.variant)
            for entry in self.entries
            if entry.place is not None and entry.session == title
        }
        return are_turns(found, turn, fixed)

    def days_of(self, title: str) -> int:
        """On how many days a session was played."""
        return len({entry.day for entry in self.entries if entry.session == title})

    @property
    def last_day(self) -> date | None:
        """The last day on which anything was played."""
        return self.entries[-1].day if self.entries else None

    def weak(self, today: date) -> tuple[Entry, ...]:
        """The last entries of what went badly in the last days, the worst first, the latest of equals."""
        backwards = (entry for entry in reversed(self.entries) if entry.day < today)
        last: dict[tuple[str, str], Entry] = {}
        for entry in backwards:
            last.setdefault((entry.drill, entry.key), entry)
        recent = (entry for entry in last.values() if today - entry.day <= timedelta(days=WEAK_DAYS))
        weak = [entry for entry in recent if Fraction(entry.clean, entry.total) < WEAK_BELOW]
        return tuple(sorted(weak, key=lambda entry: (Fraction(entry.clean, entry.total), -entry.day.toordinal())))

    def seconds_by_day(self) -> dict[date, Fraction]:
        """How long was played on each day, as far as it was written down."""
        days: dict[date, Fraction] = defaultdict(Fraction)
        for entry in self.entries:
            days[entry.day] += entry.seconds or 0
        return dict(days)


def are_turns(found: Iterable[tuple[int, str, int]], turn: Turn, fixed: frozenset[int]) -> frozenset[int]:
    """The places at which what was played (place, key, variant) is what the rotation brings there.

    A drill that is always played plain goes with any variant.
    """
    as_well = fixed | {0}
    done = set()
    for place, key, variant in found:
        brought, row = turn(place)
        if key == brought and (variant == row or variant in as_well):
            done.add(place)
    return frozenset(done)
