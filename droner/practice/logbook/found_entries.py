"""Collect the entries of a file line by line, and every mistake in them.

Rule    what stands in a line is judged field by field, and as a whole once each field can be read. A line of another
        format is not judged further. An entry that comes twice is one; two different ones of one name are a mistake.
        What is wrong in the same way down a column is told once, with how many lines it spoils.
Units   lines count from 1.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Any

from droner.errors import Mistake, MistakesFound, nearest
from droner.practice.logbook.entry import Entry
from droner.practice.logbook.forms import FORMS
from droner.practice.logbook.rows import FIELDS
from droner.practice.reading.shown_fields import printable, shown

MARK, FORMAT = "logbook", 1
"""What says that a line is an entry's, and of which format."""
KEYS = (MARK, *FIELDS)
MOST_ALIKE = 3
"""Mistakes of one sort in one column that are told one by one."""
REWRITTEN = frozenset({"written", "day", "bpm", "seconds"})
SPREADSHEET = "; a spreadsheet may have rewritten the column: bring it in as text"


class FoundEntries:
    """What a file holds so far."""

    __slots__ = ("_entries", "_file", "_in_columns", "_mistakes")

    def __init__(self, file: str, *, in_columns: bool = False) -> None:
        self._file = file
        self._in_columns = in_columns
        self._entries: dict[str, tuple[int, Entry]] = {}
        self._mistakes: list[Mistake] = []

    def entries(self) -> tuple[Entry, ...]:
        """All entries, in the order of the file; MistakesFound if there is any mistake."""
        if self._mistakes:
            raise MistakesFound(_each_once(self._mistakes) if self._in_columns else self._mistakes)
        return tuple(entry for _, entry in self._entries.values())

    def wrong(self, line: int, key: str, problem: str, found: str = "", allowed: str = "", meant: str = "") -> None:
        """A mistake in a line."""
        self._mistakes.append(Mistake(self._file, line, printable(key), problem, found, allowed, meant))

    def keys(self, line: int, told: Iterable[str]) -> bool:
        """Whether these are the keys of an entry: all of them, and no other."""
        there = dict.fromkeys(told)
        others, lacking = [key for key in there if key not in KEYS], [key for key in KEYS if key not in there]
        for key in others:
            self.wrong(line, key, "an entry has no such key", allowed=", ".join(KEYS), meant=nearest(key, lacking))
        for key in lacking:
            self.wrong(line, key, "this is missing", allowed=str(FORMAT) if key == MARK else FORMS[key].allowed)
        return not others and not lacking

    def entry(self, line: int, told: Mapping[str, Any]) -> None:
        """What stands in a line, as JSON would hold it."""
        if MARK in told and (type(told[MARK]) is not int or told[MARK] != FORMAT):
            problem = "this droner does not know this format"
            self.wrong(line, MARK, problem, _found(told[MARK]), str(FORMAT))
            return
        complete = self.keys(line, told)
        values = {key: self._value(line, key, told[key]) for key in FIELDS if key in told}
        if complete and not any(isinstance(value, _Unread) for value in values.values()):
            self._whole(line, values)

    def _value(self, line: int, key: str, told: Any) -> Any:
        form = FORMS[key]
        if told is None and form.may_lack:
            return None
        try:
            return form.read(told)
        except ValueError:
            self.wrong(line, key, f"this is not {form.what}", _found(told), form.allowed)
            return _Unread()

    def _whole(self, line: int, values: Mapping[str, Any]) -> None:
        try:
            entry = Entry(**values)
        except ValueError as why:
            self.wrong(line, "", str(why))
            return
        first_line, first = self._entries.setdefault(entry.name, (line, entry))
        if first != entry:
            problem = f"another entry of this name stands in line {first_line}"
            self.wrong(line, "name", problem, _found(entry.name), "one entry of a name")


def _each_once(mistakes: Iterable[Mistake]) -> Iterator[Mistake]:
    """What is wrong in many lines in the same way once, in the first of them; the rest as it is."""
    alike: dict[tuple[str, str], list[Mistake]] = {}
    for mistake in mistakes:
        alike.setdefault((mistake.key, mistake.problem), []).append(mistake)
    for (key, problem), these in alike.items():
        if not key or len(these) <= MOST_ALIKE:
            yield from these
            continue
        change = SPREADSHEET if key in REWRITTEN else ""
        yield replace(these[0], problem=f"{problem}, here and in {len(these) - 1} more lines{change}")


class _Unread:
    """The value of a field that could not be read."""


def _found(told: Any) -> str:
    return "nothing" if told is None else shown(told)
