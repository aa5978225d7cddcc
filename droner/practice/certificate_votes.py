"""Let the lines of a certificate say together what stands in many of them.

Rule    a key's name stands in its own line and in every turn of it, a variant's number likewise, a drill's name in
        every turn as played or missing, the offset of a key in its line and in the rule, the cycle in the rule and in
        every place. What most of them say is taken for the fact, so that a single line which says otherwise is the one
        that does not follow. Where they are even, the line of the thing itself is believed.
Units   places, indexes of keys and of variants count from 0.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, TypeVar

from droner.practice.rotation import Rotation

Row = Mapping[str, Any]
Said = TypeVar("Said", str, int)


def cycle_by_most(rule: Row, turns: Sequence[Row]) -> int:
    """The cycle, from 0, in which most of the places lie."""
    length = len(turns)
    said: list[int] = [rule["cycle"] - 1, rule["first_place"] // length]
    return max(said, key=lambda cycle: sum(turn["place"] // length == cycle for turn in turns))


def walk_by_most(rule: Row, keys: Sequence[Row], variants: Sequence[Row], turns: Sequence[Row]) -> Rotation:
    """The rotation, with the offset for each key by which most of its turns have their variant."""
    numbers = [row["number"] for row in variants]
    offsets = []
    for index, key in enumerate(keys):
        mine = [turn for turn in turns if turn["place"] % len(keys) == index]
        said = [key["offset"], *[one for one in rule["offsets"][index : index + 1] if type(one) is int]]
        offsets.append(max(said, key=lambda offset: _agreeing(offset, len(keys), numbers, mine)))
    return Rotation(len(keys), len(variants), tuple(offsets))


def _agreeing(offset: int, keys: int, numbers: Sequence[int], turns: Iterable[Row]) -> int:
    return sum(numbers[(turn["place"] // keys + offset) % len(numbers)] == turn["variant"] for turn in turns)


def keys_by_most(keys: Sequence[Row], turns: Sequence[Row]) -> tuple[str, ...]:
    """The names of the keys."""
    said: list[list[str]] = [[row["name"]] for row in keys]
    for turn in turns:
        said[turn["place"] % len(keys)].append(turn["key"])
    return tuple(map(_most, said))


def numbers_by_most(walk: Rotation, variants: Sequence[Row], turns: Sequence[Row]) -> tuple[int, ...]:
    """The numbers of the variants."""
    said: list[list[int]] = [[row["number"]] for row in variants]
    for turn in turns:
        said[walk.pair(turn["place"] % walk.cycle)[1]].append(turn["variant"])
    return tuple(map(_most, said))


def drills_by_most(drills: Sequence[Row], turns: Sequence[Row]) -> tuple[str, ...]:
    """The names of the drills: one that no turn knows is called what most turns call the one that has no line."""
    told = Counter(name for turn in turns for name in dict.fromkeys(_drills_in(turn)))
    most = [name for name, times in told.items() if times * 2 > len(turns)]
    named = [row["name"] for row in drills]
    strange, nameless = [name for name in named if name not in told], [name for name in most if name not in named]
    if len(strange) == len(nameless) == 1:
        return tuple(nameless[0] if name == strange[0] else name for name in named)
    return tuple(named)


def _drills_in(turn: Row) -> list[str]:
    played = [one.get("drill") for one in turn["played"] if isinstance(one, dict)]
    return [name for name in (*played, *turn["missing"]) if isinstance(name, str)]


def _most(said: Sequence[Said]) -> Said:
    """What is said most often; the first of those that are said as often."""
    return Counter(said).most_common(1)[0][0]
