"""Say where the rotation stands on a day, and which of its keys a short day takes.

Rule    moved by completion, a short day takes the first of the keys and the next day goes on after them. Moved by the
        calendar, the next day goes on a whole day's keys further whatever was played; so that a session which is
        always short does not miss the same keys for ever, a short day takes others of them each time they come.
Units   places, days and keys count from 0.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import count, islice
from math import gcd
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Container

    from droner.practice.rotation import Rotation


@dataclass(frozen=True, slots=True)
class Standing:
    """The place of the day's first key, how many keys it asks for, and in which lap it lies.

    `day` is the number of the day by the calendar, None when the rotation moves by completion; `times` counts how
    often these keys have come before. `places` are the places of its keys where some were done before their turn;
    empty where they follow one another.
    """

    place: int
    keys: int
    lap: int
    day: int | None = None
    times: int = 0
    places: tuple[int, ...] = ()

    def place_of(self, ahead: int) -> int:
        """The place of a key of the day."""
        return self.places[ahead] if self.places else self.place + ahead

    def aheads(self, count: int) -> tuple[int, ...]:
        """Which keys of the day are taken when there is time for so many, in order."""
        return _taken(self.times * count % self.keys, count, self.keys)

    def others(self, count: int) -> tuple[int, ...]:
        """The keys of the day that are not taken then, in the order in which they would follow."""
        return tuple((self.times * count + step) % self.keys for step in range(count, self.keys))

    def carried(self, count: int) -> int:
        """How many keys lie behind, if every day by the calendar took so many as this one."""
        return self.place if self.day is None else self.day * count


@lru_cache(maxsize=4096)
def _taken(first: int, count: int, keys: int) -> tuple[int, ...]:
    return tuple(sorted((first + step) % keys for step in range(count)))


def by_completion(rotation: Rotation, place: int, keys: int, done: Container[int] = ()) -> Standing:
    """Where a rotation stands that moves by what is done, from a place on; `done`: places that need not come again."""
    places = tuple(islice((one for one in count(place) if one not in done), keys))
    follow = places[-1] - places[0] == keys - 1
    return Standing(places[0], keys, places[0] // rotation.keys, places=() if follow else places)


def by_calendar(rotation: Rotation, place: int, keys: int) -> Standing:
    """Where a rotation stands that moves by the calendar.

    The same keys come again after a round of days; the same pairs of key and variant after a cycle of days, and then
    the day takes the keys after those that it took the last time.
    """
    day = place // keys
    cycle, day_of_cycle = divmod(day, max(rotation.cycle // keys, 1))
    round_of_days = rotation.keys // gcd(rotation.keys, keys)
    return Standing(place, keys, place // rotation.keys, day, cycle + day_of_cycle // round_of_days)
