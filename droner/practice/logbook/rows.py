"""Turn entries into the rows of the store, and back.

Rule    lossless both ways. A row holds the fields of an entry in their order, as text, whole numbers and nothing: a day
        and a moment as ISO 8601, a fraction as "63/2", one without a rest too ("63/1"), so that the store can judge it.
        A row that the store's own checks let pass needs no second judgement: its entry is put together without one, and
        days and fractions, which come again and again, are read once: so that the whole logbook is quick to read.
Units   as the entry's.
Source  ISO 8601: calendar date, and date with time in UTC ("Z").
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import fields
from datetime import date, datetime
from fractions import Fraction
from typing import Any, TypeVar

from droner.practice.logbook.entry import Entry

Read = TypeVar("Read")
Row = tuple[str | int | None, ...]
FIELDS = tuple(field.name for field in fields(Entry))
"""The names of an entry's fields, in the order in which every file has them."""


def written_text(written: datetime) -> str:
    """A moment in UTC as ISO 8601: texts are in order when the moments are."""
    return written.replace(tzinfo=None).isoformat(timespec="microseconds") + "Z"


def row_of(entry: Entry) -> Row:
    """An entry as its row."""
    return (
        entry.name,
        written_text(entry.written),
        entry.day.isoformat(),
        entry.session,
        entry.instrument,
        entry.drill,
        entry.key,
        entry.variant,
        entry.place,
        _ratio(entry.bpm),
        entry.step,
        entry.clean,
        entry.total,
        None if entry.seconds is None else _ratio(entry.seconds),
        entry.judged,
        entry.note,
        entry.corrects,
    )


def _ratio(number: Fraction) -> str:
    return f"{number.numerator}/{number.denominator}"


class ReadOnce(dict[Any, Read]):
    """What texts mean: each is read when it first comes."""

    __slots__ = ("_read",)

    def __init__(self, read: Callable[[str], Read], known: dict[Any, Read] | None = None) -> None:
        super().__init__(known or {})
        self._read = read

    def __missing__(self, text: str) -> Read:
        self[text] = meant = self._read(text)
        return meant


class _Unfrozen:
    """An entry while it is put together: it has an entry's fields, and becomes one by its class."""

    __slots__ = FIELDS


def entries_of(rows: Iterable[tuple[Any, ...]]) -> list[Entry]:
    """The entries of rows that passed the store's checks. ValueError or TypeError where one cannot have."""
    days, moments = ReadOnce(date.fromisoformat), datetime.fromisoformat
    fractions = ReadOnce[Fraction | None](Fraction, {None: None})
    entries: list[Any] = []
    for row in rows:
        entry: Any = _Unfrozen()
        (
            entry.name, written, day, entry.session, entry.instrument, entry.drill, entry.key, entry.variant,
            entry.place, bpm, entry.step, entry.clean, entry.total, seconds, entry.judged, entry.note, entry.corrects,
        ) = row  # fmt: skip
        entry.written = moments(written)
        entry.day = days[day]
        entry.bpm = fractions[bpm]
        entry.seconds = fractions[seconds]
        entry.__class__ = Entry
        entries.append(entry)
    return entries
