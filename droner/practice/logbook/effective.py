"""Find the entries that hold, once every correction has taken the place of what it corrects.

Rule    a correction stands for the entry that it names, and may be corrected in its turn. Of two corrections of one
        entry the one written last stands (the later name, where both were written at once). A correction of an entry
        that is not there stands by itself. Corrections that name one another in a circle are no work of a player's: the
        one written first stands for nothing, which breaks the circle. What is taken back is gone.
        The order is that of the days, then of writing, then of names; a correction stands where the corrected one
        stood, if it is of the same day. The order in which the entries come does not matter.
Units   `written` in UTC. Time and memory grow with the number of entries, but for sorting within a day.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Iterable, Mapping
from datetime import date, datetime
from itertools import chain
from operator import attrgetter

from droner.practice.logbook.entry import Entry

_BY_WRITING: Callable[[Entry], tuple[datetime, str]] = attrgetter("written", "name")


def effective(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """The entries that hold, in their order. Two entries of one name are the same entry."""
    named = {entry.name: entry for entry in entries}
    corrections = _corrections(named)
    heirs = _heirs(corrections.values())
    corrected = [_last(named[name], heirs) for name in heirs if name not in corrections]
    for name in corrections.keys() | heirs.keys():
        del named[name]
    holding = chain(named.values(), (last for last, _ in corrected))
    return _in_order(holding, {last.name: place for last, place in corrected if place is not last})


def _corrections(named: Mapping[str, Entry]) -> dict[str, Entry]:
    """Those that stand for another one that is there, by their names."""
    found = {name: entry for name, entry in named.items() if entry.corrects in named}
    for first in _first_of_circles(found):
        del found[first]
    return found


def _first_of_circles(corrections: Mapping[str, Entry]) -> list[str]:
    """The name of the one written first in every circle. Each correction is passed once."""
    firsts: list[str] = []
    walks: dict[str, int] = {}
    for walk, start in enumerate(corrections):
        name = start
        while name in corrections and name not in walks:
            walks[name] = walk
            name = corrections[name].corrects
        if walks.get(name) == walk:
            firsts.append(min(_circle(name, corrections), key=_BY_WRITING).name)
    return firsts


def _circle(name: str, corrections: Mapping[str, Entry]) -> list[Entry]:
    """Once round, from one that lies on the circle."""
    round_trip = [corrections[name]]
    while round_trip[-1].corrects != name:
        round_trip.append(corrections[round_trip[-1].corrects])
    return round_trip


def _heirs(corrections: Collection[Entry]) -> dict[str, Entry]:
    """The correction written last, by the name of what it corrects."""
    heirs: dict[str, Entry] = {}
    for entry in corrections:
        rival = heirs.get(entry.corrects)
        if rival is None or _BY_WRITING(rival) < _BY_WRITING(entry):
            heirs[entry.corrects] = entry
    return heirs


def _last(entry: Entry, heirs: Mapping[str, Entry]) -> tuple[Entry, Entry]:
    """What stands at last for an entry, and the one whose place in its day it takes."""
    place = entry
    while heir := heirs.get(entry.name):
        place = place if heir.day == place.day else heir
        entry = heir
    return entry, place


def _in_order(holding: Iterable[Entry], places: Mapping[str, Entry]) -> tuple[Entry, ...]:
    """Day after day: many short lists are sorted faster than a long one. `places`: where some corrections stand."""
    days: dict[date, list[Entry]] = defaultdict(list)
    for entry in holding:
        if entry.total:  # else it takes back
            days[entry.day].append(entry)
    moved = {place.day for place in places.values()}

    def place(entry: Entry) -> tuple[datetime, str]:
        return _BY_WRITING(places.get(entry.name, entry))

    return tuple(
        entry for day in sorted(days) for entry in sorted(days[day], key=place if day in moved else _BY_WRITING)
    )
