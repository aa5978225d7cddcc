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
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from droner.practice.logbook.entry import Entry
    from droner.practice.session import Session

WEAK_BELOW = Fraction(7, 10)
WEAK_DAYS = 14


@dataclass(frozen=True, slots=True)
class History:
    """The entries that hold, in the order of the days, of one player."""

    entries: tuple[Entry, ...] = ()

    def of(self, session: Session) -> History:
        """Those of the session's instrument."""
        return History(tuple(entry for entry in self.entries if entry.instrument == session.instrument.name))

    def turns_done(
        self, title: str, turn: Callable[[int], tuple[str, int]], fixed: frozenset[int] = frozenset()
    ) -> frozenset[int]:
        """The places of a session's rotation that are done.

        `turn`: the key and the variant's number at a place. `fixed`: variants that blocks play whatever it brings.
        """
        found = {
            (entry.place, entry.key, entry.variant)
            for entry in self.entries
            if entry.place is not None and entry.session == title
        }
        return frozenset(place for place, key, variant in found if _is_turn(turn(place), key, variant, fixed))

    def days_of(self, title: str) -> int:
        """On how many days a session was played."""
        return len({entry.day for entry in self.entries if entry.session == title})

    def weak(self, today: date) -> tuple[Entry, ...]:
        """The last entries of what went badly in the last days, the worst first."""
        last = {(entry.drill, entry.key): entry for entry in self.entries if entry.day < today}
        recent = (entry for entry in last.values() if today - entry.day <= timedelta(days=WEAK_DAYS))
        weak = [entry for entry in recent if Fraction(entry.clean, entry.total) < WEAK_BELOW]
        return tuple(sorted(weak, key=lambda entry: (Fraction(entry.clean, entry.total), -entry.day.toordinal())))

    def seconds_by_day(self) -> dict[date, Fraction]:
        """How long was played on each day, as far as it was written down."""
        days: dict[date, Fraction] = defaultdict(Fraction)
        for entry in self.entries:
            days[entry.day] += entry.seconds or 0
        return dict(days)


def _is_turn(brought: tuple[str, int], key: str, variant: int, fixed: frozenset[int]) -> bool:
    """Whether this is what the rotation brings; a drill that is always played plain goes with any variant."""
    return key == brought[0] and (variant in {brought[1], 0} or variant in fixed)
