"""Read a table of keys, a list of tables, or a table of rows by name.

Rule    every key of the file must be in the table of fields: one that is not is a mistake, with the nearest key
        that exists, or the table where it belongs. A key that is not written takes its default.
Units   none.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any, ClassVar

from droner.errors import nearest
from droner.practice.reading.fields import UNREAD, UNREADABLE, Field, Kind
from droner.practice.reading.list_fields import ListOf
from droner.practice.reading.sheet_reading import Names, Place, Shelves, fold
from droner.practice.reading.shown_fields import printable, shown, sort_of

HOMES = "the table of a key"
"""The shelf that says for a key of any table where it belongs: "a4" is "a4 under [tuning]"."""


@dataclass(frozen=True, slots=True)
class Table(Kind):
    """A table with the keys of `fields`; it is read into a dict that leaves out what could not be read."""

    fields: tuple[Field, ...]
    takes: ClassVar[tuple[str, ...]] = ("a table",)
    _by_key: dict[str, Field] = field(init=False, repr=False, compare=False, default_factory=dict)

    def __post_init__(self) -> None:
        self._by_key.update({each.key: each for each in self.fields})

    def read(self, value: Any, place: Place, /) -> Any:
        if not isinstance(value, dict):
            problem = f"this is {sort_of(value)}, but a table belongs here"
            place.wrong(problem, found=shown(value), allowed=self.allowed(place.shelves))
            return UNREAD
        for key in value:
            if key not in self._by_key:
                self._unknown(key, place)
        read = {each.key: self._one(each, value, place) for each in self.fields}
        return {key: got for key, got in read.items() if got is not UNREAD}

    def _one(self, each: Field, table: dict[str, Any], place: Place) -> Any:
        """The value of one key; UNREAD also when the key is not written and nothing stands for it."""
        if each.key in table:
            value = table[each.key]
            return UNREAD if value == UNREADABLE else each.kind.read(value, place[each.key])
        if each.needed:
            place.wrong(f"the key {each.key!r} is missing", allowed=each.kind.allowed(place.shelves))
        return UNREAD if each.default is None else _default(each, place)

    def _unknown(self, key: str, place: Place) -> None:
        homes = place.shelves.get(HOMES)
        home = homes.known.get(key, "") if homes else ""
        place[key].wrong(
            "there is no such key here",
            found=printable(key),
            allowed=", ".join(self._by_key),
            nearest=home or nearest(key, self._by_key),
        )

    def allowed(self, _: Shelves, /) -> str:
        return f"a table with the keys {', '.join(self._by_key)}"

    def schema(self, shelves: Shelves, /) -> dict[str, Any]:
        rule = {
            "type": "object",
            "additionalProperties": False,
            "properties": {each.key: _described(each, shelves) for each in self.fields},
        }
        needed = [each.key for each in self.fields if each.needed]
        return rule | {"required": needed} if needed else rule


def _default(each: Field, place: Place) -> Any:
    """What stands for a key that is not written, read like the player's own value, once a file."""
    known = place.sheet.defaults
    if id(each) not in known:
        got = each.kind.read(each.default, place[each.key])
        if got is UNREAD:
            return UNREAD
        known[id(each)] = got
    return known[id(each)]


def _described(each: Field, shelves: Shelves) -> dict[str, Any]:
    rule = {"description": each.about} | each.kind.schema(shelves)
    return rule if each.default in (None, {}) else rule | {"default": each.default}


@dataclass(frozen=True, slots=True)
class Tables(ListOf):
    """A list of tables, written with two brackets."""

    name: str = "block"

    def read(self, value: Any, place: Place, /) -> Any:
        if isinstance(value, dict):
            place.wrong(
                f"one pair of brackets makes a single table, but there may be several of {self.name!r}",
                found=f"[{self.name}]",
                allowed=f"[[{self.name}]], with two pairs",
            )
            return UNREAD
        return ListOf.read(self, value, place)

    def allowed(self, _: Shelves, /) -> str:
        return f"one or more tables, each under [[{self.name}]]"


@dataclass(frozen=True, slots=True)
class Rows(Kind):
    """A table of rows by name: each key is a name of the player's choice, each value a table."""

    row: Table
    longest_name: int = 60
    takes: ClassVar[tuple[str, ...]] = ("a table",)

    def read(self, value: Any, place: Place, /) -> Any:
        if not isinstance(value, dict):
            problem = f"this is {sort_of(value)}, but rows with names belong here"
            place.wrong(problem, found=shown(value), allowed=self.allowed(place.shelves))
            return UNREAD
        rows = {name: self._row(name, value[name], place[name]) for name in value}
        self._twice(value, place)
        return {name: row for name, row in rows.items() if row is not UNREAD}

    def _row(self, name: str, value: Any, place: Place) -> Any:
        if not fold(name) or not name.isprintable() or len(name) > self.longest_name:
            allowed = f"one line of text, at most {self.longest_name} characters"
            place.wrong("this cannot be a name", found=shown(name), allowed=allowed)
            return UNREAD
        return UNREAD if value == UNREADABLE else self.row.read(value, place)

    def _twice(self, names: Iterable[str], place: Place) -> None:
        first: dict[str, str] = {}
        for name in names:
            if first.setdefault(fold(name), name) != name:
                problem = f"this is the same name as {first[fold(name)]!r}: capitals and spaces do not count"
                place[name].wrong(problem, found=shown(name), allowed="another name")

    @property
    def inside(self) -> tuple[Kind, ...]:
        return (self.row,)

    def allowed(self, shelves: Shelves, /) -> str:
        return f"rows with names of your own, each {self.row.allowed(shelves)}"

    def schema(self, shelves: Shelves, /) -> dict[str, Any]:
        return {"type": "object", "additionalProperties": self.row.schema(shelves)}


def walk(table: Table, section: str = "") -> Iterator[tuple[str, Field]]:
    """Every key of a table and of the tables in it, each with the dotted name of its table."""
    for each in table.fields:
        yield section, each
        inner = f"{section}.{each.key}" if section else each.key
        for below in _tables_in(each.kind):
            yield from walk(below, inner)


def _tables_in(kind: Kind) -> Iterator[Table]:
    if isinstance(kind, Table):
        yield kind
    for inner in kind.inside:
        yield from _tables_in(inner)


def homes(table: Table, lists: frozenset[str]) -> Names:
    """Where each key belongs, for keys written in the wrong table. `lists`: tables with two brackets."""
    known: dict[str, str] = {}
    for section, each in walk(table):
        if section:
            brackets = f"[[{section}]]" if section in lists else f"[{section}]"
            known.setdefault(each.key, f"{each.key} under {brackets}")
    return Names((), known)
