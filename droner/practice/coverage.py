"""Count which keys were played in which variants: the map of one cycle of the rotation.

Rule    a turn is played by a drill once the logbook has an entry of it, of this session and instrument, at the turn's
        place, in its key, and in the variant in which the drill is played at that turn. An entry without a place counts
        for no turn: it belongs to no cycle, and the rotation will still bring its pair. So a turn that is played here
        is one that the rotation does not bring again before the next cycle.
        Places from one cycle's length on belong to the next cycle, and so on.
Units   places, keys, variants and cycles are numbers from 0. Time grows with the number of entries.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from typing import TYPE_CHECKING

from droner.practice.wish import How
from droner.practice.wishes import how_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping
    from datetime import date

    from droner.practice.drill import Drill
    from droner.practice.logbook.entry import Entry
    from droner.practice.plan import Planner
    from droner.practice.rotation import Rotation
    from droner.practice.session import Block

PLAIN = 0
"""The number that stands for no variant."""


class State(Enum):
    """What has become of a turn."""

    BY_ALL = "played by all"
    BY_SOME = "played by some"
    PASSED = "passed without an entry"
    AHEAD = "ahead"


@dataclass(frozen=True, slots=True)
class Follower:
    """A drill that follows the rotation, key after key.

    `turning`: played in the variant that the turn brings; `own`: in these variants whatever the turn brings. Both,
    where two blocks ask for one drill.
    """

    drill: str
    turning: bool = True
    own: tuple[int, ...] = ()

    def plays(self, variant: int, brought: int) -> bool:
        """Whether the drill is played in this variant at a turn that brings that one."""
        return (self.turning and variant == brought) or variant in self.own


@dataclass(frozen=True, slots=True)
class Asked:
    """What the rotation of a session asks for, in the words of its logbook.

    `keys` as the player reads them; `variants` by their numbers in the table, 0 for plain.
    """

    title: str
    instrument: str
    walk: Rotation
    keys: tuple[str, ...]
    variants: tuple[int, ...]
    followers: tuple[Follower, ...]

    def brought(self, place: int) -> tuple[str, int]:
        """The key and the variant of a turn."""
        key, variant = self.walk.pair(place)
        return self.keys[key], self.variants[variant]


Firsts = tuple["Entry | None", ...]
"""The first entry of each follower at one place."""


@dataclass(frozen=True, slots=True)
class Turn:
    """One turn of a cycle: its place, the indexes of its key and its variant, and who has played it.

    `passed`: the rotation will not bring it any more in this cycle.
    """

    place: int
    key: int
    variant: int
    firsts: Firsts
    passed: bool = False

    @property
    def state(self) -> State:
        """What has become of it."""
        entered = [entry is not None for entry in self.firsts]
        if any(entered):
            return State.BY_ALL if all(entered) else State.BY_SOME
        return State.PASSED if self.passed else State.AHEAD

    @property
    def is_played(self) -> bool:
        """Whether any drill has played it."""
        return any(self.firsts)

    @property
    def first_day(self) -> date | None:
        """The first day on which it was played."""
        return min((entry.day for entry in self.firsts if entry), default=None)


@dataclass(frozen=True, slots=True)
class Coverage:
    """One cycle, turn by turn in the order of the places."""

    asked: Asked
    cycle: int
    turns: tuple[Turn, ...]

    def count(self, *states: State) -> int:
        """How many turns are in one of these states."""
        return sum(turn.state in states for turn in self.turns)

    @property
    def played(self) -> int:
        """How many turns are played by one drill at least."""
        return sum(turn.is_played for turn in self.turns)

    @property
    def by_drill(self) -> dict[str, int]:
        """How many turns each drill has played."""
        return {
            follower.drill: sum(turn.firsts[number] is not None for turn in self.turns)
            for number, follower in enumerate(self.asked.followers)
        }

    @property
    def rows(self) -> tuple[tuple[Turn, ...], ...]:
        """The map: a row for each key, in it the turns in the order of the variants."""
        width = self.asked.walk.variants
        at = {turn.key * width + turn.variant: turn for turn in self.turns}
        return tuple(
            tuple(at[key * width + variant] for variant in range(width)) for key in range(self.asked.walk.keys)
        )


def asked_of(planner: Planner) -> Asked:
    """What the rotation of a planner's session asks for."""
    session, items = planner.session, planner.items
    return Asked(
        session.title,
        session.instrument.name,
        planner.rotation,
        tuple(str(items.written(key)) for key in session.rotation.keys),
        tuple(variant.number if variant else PLAIN for variant in planner.variants),
        _followers([(block, items.drill(block)) for block in session.blocks]),
    )


def _followers(blocks: Iterable[tuple[Block, Drill]]) -> tuple[Follower, ...]:
    """The drills that are played in each key of the day, in the order of the session; each once."""
    found: dict[str, Follower] = {}
    for block, drill in blocks:
        if how_of(block, drill) is How.EACH_KEY:
            old = found.get(drill.name, Follower(drill.name, turning=False))
            found[drill.name] = _with(old, block.variant if drill.varies else PLAIN)
    return tuple(found.values())


def _with(old: Follower, variant: int | None) -> Follower:
    """The drill, played in a variant more; None for the turn's."""
    return replace(old, turning=True) if variant is None else replace(old, own=(*old.own, variant))


def first_entries(asked: Asked, entries: Iterable[Entry]) -> dict[int, Firsts]:
    """The first entry of each follower at every place that was played, whatever its cycle.

    `entries` that hold, in the order of the days.
    """
    numbers = {follower.drill: number for number, follower in enumerate(asked.followers)}
    found: dict[int, list[Entry | None]] = {}
    for entry in entries:
        number = numbers.get(entry.drill)
        if number is None or not _is_asked(asked, entry, asked.followers[number]):
            continue
        assert entry.place is not None  # noqa: S101 - else nothing asked for it
        firsts = found.setdefault(entry.place, [None] * len(numbers))
        if firsts[number] is None:
            firsts[number] = entry
    return {place: tuple(firsts) for place, firsts in found.items()}


def _is_asked(asked: Asked, entry: Entry, follower: Follower) -> bool:
    """Whether an entry of a drill is what the rotation brings at its place."""
    if entry.place is None or entry.session != asked.title or entry.instrument != asked.instrument:
        return False
    key, variant = asked.brought(entry.place)
    return entry.key == key and follower.plays(entry.variant, variant)


def coverage(asked: Asked, played: Mapping[int, Firsts], cycle: int, passed: Callable[[int], bool]) -> Coverage:
    """The turns of one cycle. `played`: the first entries; `passed`: whether a place comes no more in its cycle."""
    nothing: Firsts = (None,) * len(asked.followers)
    first = cycle * asked.walk.cycle
    return Coverage(
        asked,
        cycle,
        tuple(
            Turn(place, *asked.walk.pair(place), played.get(place, nothing), passed(place))
            for place in range(first, first + asked.walk.cycle)
        ),
    )
