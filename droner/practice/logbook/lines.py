"""Write entries as lines for other programs, and read them again.

Rule    lossless both ways, for every field. Each entry says its format first ("logbook": 1), so that an older droner
        does not take a newer one's lines for its own, and lines of JSON can be put end to end, sorted and cut.
        JSON Lines: an object a line, parted by a line feed alone. CSV: a header, then a record for each entry, parted
        by carriage return and line feed. Both are to be saved as UTF-8 with these ends of lines. A fraction is a whole
        number or a text like "63/2"; in CSV it is a decimal where that is the same number, so that a spreadsheet can
        add it up, and "1200/17" where none is. The text of CSV stands there as it is: a spreadsheet may take a note
        that begins with "=" for a formula. That nothing is lost on the way back comes first.
        The last column of CSV says whether an entry counts: it follows from the others, and is passed over in reading.
        Reading tells every mistake, one that runs through a column of CSV once; CSV that breaks off inside quotes is
        read no further.
Source  RFC 8259 (JSON), 7 and 8.1: strings, and a byte order mark is passed over; RFC 4180 (CSV), 2.5 to 2.7: quotes.
"""

from __future__ import annotations

import csv
import io
import json
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import count
from typing import Any

from droner.practice.logbook.effective import effective
from droner.practice.logbook.entry import Entry
from droner.practice.logbook.forms import FORMS, WHOLE
from droner.practice.logbook.found_entries import FORMAT, KEYS, MARK, FoundEntries
from droner.practice.logbook.rows import FIELDS, row_of
from droner.practice.reading.shown_fields import printable, shown

_BYTE_ORDER_MARK = "\ufeff"
_TO_QUOTE = re.compile('[",\r\n]')
_WHOLE_NUMBERS = (MARK, "variant", "place", "clean", "total")
_FRACTIONS = ("bpm", "seconds")
_DECIMAL = re.compile(r"[0-9]{1,16}\.[0-9]{1,40}")
_OTHER_MARKS = {";": "semicolons", "\t": "tabs"}
COUNTS = "counts"
"""The column of CSV that says whether an entry counts: not once it is corrected or taken back."""


def to_json_lines(entries: Iterable[Entry]) -> Iterator[str]:
    """A line of JSON for each entry, with its end."""
    for entry in entries:
        yield json.dumps(_told(entry), ensure_ascii=False) + "\n"


def to_csv(entries: Iterable[Entry]) -> Iterator[str]:
    """The header, then a record for each entry, with their ends."""
    every = tuple(entries)
    counting = {entry.name for entry in effective(every)}
    yield ",".join((*KEYS, COUNTS)) + "\r\n"
    for entry in every:
        numbers = {"bpm": _decimal(entry.bpm), "seconds": None if entry.seconds is None else _decimal(entry.seconds)}
        counts = {COUNTS: "yes" if entry.name in counting else "no"}
        yield ",".join(map(_field, (_told(entry) | numbers | counts).values())) + "\r\n"


def from_json_lines(text: str, file: str) -> tuple[Entry, ...]:
    """The entries of JSON Lines. MistakesFound with all mistakes, in which `file` is named."""
    found = FoundEntries(file)
    for line, told in enumerate(text.removeprefix(_BYTE_ORDER_MARK).split("\n"), 1):
        if told.strip():
            _take_json(found, line, told)
    return found.entries()


def from_csv(text: str, file: str) -> tuple[Entry, ...]:
    """The entries of CSV, its columns in any order. MistakesFound with all mistakes, in which `file` is named."""
    found = FoundEntries(file, in_columns=True)
    records = csv.reader(io.StringIO(text.removeprefix(_BYTE_ORDER_MARK), newline=""), strict=True)
    line = 1
    try:
        columns = next(records, [])
        if _are_columns(found, columns):
            line = records.line_num + 1
            for record in records:
                if record:  # else an empty line
                    _take_csv(found, line, columns, record)
                line = records.line_num + 1
    except csv.Error as why:
        found.wrong(line, "", "this is no CSV", str(why), "records of fields parted by commas, as in RFC 4180")
    return found.entries()


def _told(entry: Entry) -> dict[str, str | int | None]:
    """An entry as JSON holds it, under its keys and in their order."""
    told: dict[str, str | int | None] = {MARK: FORMAT, **dict(zip(FIELDS, row_of(entry), strict=True))}
    told["bpm"] = _number(entry.bpm)
    told["seconds"] = None if entry.seconds is None else _number(entry.seconds)
    return told


def _decimal(number: Fraction) -> str:
    """A number as a decimal, where one is the same; else as a fraction."""
    twos = (number.denominator & -number.denominator).bit_length() - 1
    rest = number.denominator >> twos
    fives = next(power for power in count() if 5**power >= rest)
    if number.denominator == 1 or 5**fives != rest:
        return str(number)
    places = max(twos, fives)
    whole, part = divmod(number.numerator * 10**places // number.denominator, 10**places)
    return f"{whole}.{part:0{places}}"


def _number(number: Fraction) -> str | int:
    return int(number) if number.denominator == 1 else str(number)


def _field(told: str | int | None) -> str:
    """A field of CSV, in quotes where it must be."""
    text = "" if told is None else str(told)
    return '"' + text.replace('"', '""') + '"' if _TO_QUOTE.search(text) else text


class _TwiceError(ValueError):
    """One key stands twice in an object of JSON."""


def _each_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    told: dict[str, Any] = {}
    for key, value in pairs:
        if key in told:
            raise _TwiceError(key)
        told[key] = value
    return told


def _take_json(found: FoundEntries, line: int, text: str) -> None:
    objects = "an object for each entry"
    try:
        told = json.loads(text, object_pairs_hook=_each_once)
    except _TwiceError as twice:
        found.wrong(line, str(twice), "this key stands twice in one entry", allowed="each key once")
    except (ValueError, RecursionError):
        found.wrong(line, "", "this line is no JSON", printable(text), objects)
    else:
        if isinstance(told, dict):
            found.entry(line, told)
        else:
            found.wrong(line, "", "this is no entry", shown(told), objects)


def _are_columns(found: FoundEntries, columns: list[str]) -> bool:
    if not columns:
        found.wrong(1, "", "the header is missing", allowed=",".join(KEYS))
        return False
    if parted := _parted_by(columns):
        found.wrong(1, "", f"the fields are parted by {parted}", allowed="CSV with commas between the fields")
        return False
    twice = [column for column, times in Counter(columns).items() if times > 1]
    for column in twice:
        found.wrong(1, column, "this column stands twice in the header", allowed="each column once")
    return found.keys(1, (column for column in columns if column != COUNTS)) and not twice


def _parted_by(columns: list[str]) -> str:
    """What parts the fields of a header in the place of commas; "" where commas do."""
    return next((words for sign, words in _OTHER_MARKS.items() if len(columns) == 1 and sign in columns[0]), "")


def _take_csv(found: FoundEntries, line: int, columns: list[str], record: list[str]) -> None:
    if len(record) != len(columns):
        problem = "this record has not as many fields as the header"
        found.wrong(line, "", problem, str(len(record)), str(len(columns)))
        return
    fields = zip(columns, record, strict=True)
    found.entry(line, {column: _from_field(column, text) for column, text in fields if column != COUNTS})


def _from_field(column: str, text: str) -> str | int | None:
    """A field of CSV as JSON would hold it."""
    if column in _WHOLE_NUMBERS and WHOLE.fullmatch(text):
        return int(text)
    if column in _FRACTIONS and _DECIMAL.fullmatch(text):
        return str(Fraction(text))
    lacks = not text and column in FORMS and FORMS[column].may_lack
    return None if lacks else text
