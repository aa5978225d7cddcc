"""Read the fields of an entry from a written line, and say what each may be.

Rule    one field a row: what it is called, what reads it, what is allowed. A reader takes what JSON can hold, gives the
        field's value, and raises ValueError for anything else. Nothing is guessed: a day and a moment are written in
        one way, and a fraction in whole numbers, never as a decimal, which many a program would round.
Units   as the entry's.
Source  ISO 8601: calendar date; date with time, and with its distance from UTC.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from types import MappingProxyType
from typing import Any

from droner.practice.logbook.entry import (
    JUDGED,
    LONGEST_NAME,
    LONGEST_NOTE,
    MOST_BPM,
    MOST_COUNTED,
    MOST_RUNS,
    MOST_SECONDS,
    moment,
)

WHOLE = re.compile(r"0|-?[1-9][0-9]{0,15}")
_NAME = re.compile(r"[0-9a-f]{32}")
_NAME_OR_NONE = re.compile(r"([0-9a-f]{32})?")
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_MOMENT = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]{1,6})?(Z|[+-][0-9]{2}:[0-9]{2})")
_FRACTION = re.compile(r"[0-9]{1,16}(/[1-9][0-9]{0,9})?")


@dataclass(frozen=True, slots=True)
class Form:
    """How one field is written. One that `may_lack` is null then, or an empty field of CSV."""

    what: str
    read: Callable[[Any], Any]
    allowed: str
    may_lack: bool = False


def _matching(pattern: re.Pattern[str]) -> Callable[[Any], str]:
    def read(told: Any) -> str:
        if not isinstance(told, str) or not pattern.fullmatch(told):
            raise ValueError(told)
        return told

    return read


def _text(shortest: int, longest: int) -> Callable[[Any], str]:
    return _matching(re.compile(f"[^\x00\ud800-\udfff]{{{shortest},{longest}}}"))


def _whole(most: int) -> Callable[[Any], int]:
    def read(told: Any) -> int:
        if type(told) is not int or not 0 <= told <= most:  # True is an int to Python, and no number to a player
            raise ValueError(told)
        return told

    return read


def _fraction(most: int, *, above_zero: bool) -> Callable[[Any], Fraction]:
    def read(told: Any) -> Fraction:
        number = Fraction(told if type(told) is int else _matching(_FRACTION)(told))
        if not 0 <= number <= most or (above_zero and not number):
            raise ValueError(told)
        return number

    return read


def _day(told: Any) -> date:
    return date.fromisoformat(_matching(_DAY)(told))


def _one_of(words: tuple[str, ...]) -> Callable[[Any], str]:
    def read(told: Any) -> str:
        if told not in words:
            raise ValueError(told)
        return str(told)

    return read


_A_NAME = Form("a name", _text(0, LONGEST_NAME), f"text of {LONGEST_NAME} letters at most")

FORMS: Mapping[str, Form] = MappingProxyType(
    {
        "name": Form("the name of an entry", _matching(_NAME), "32 hexadecimal digits"),
        "written": Form(
            "a moment", lambda told: moment(_matching(_MOMENT)(told)), 'date and time, as "2026-01-05T18:03:00.000000Z"'
        ),
        "day": Form("a day", _day, 'a date, as "2026-01-05"'),
        "session": _A_NAME,
        "instrument": _A_NAME,
        "drill": Form("the name of a drill", _text(1, LONGEST_NAME), f"text of 1 to {LONGEST_NAME} letters"),
        "key": _A_NAME,
        "variant": Form("the number of a variant", _whole(MOST_COUNTED), f"a whole number from 0 to {MOST_COUNTED:,}"),
        "place": Form(
            "a place of the rotation",
            _whole(MOST_COUNTED),
            f"a whole number from 0 to {MOST_COUNTED:,}, or nothing",
            may_lack=True,
        ),
        "bpm": Form(
            "a tempo",
            _fraction(MOST_BPM, above_zero=True),
            f'beats a minute up to {MOST_BPM}, in whole numbers or fractions of them, as "63/2"',
        ),
        "step": _A_NAME,
        "clean": Form("a number of clean runs", _whole(MOST_RUNS), f"a whole number from 0 to {MOST_RUNS}"),
        "total": Form("a number of runs", _whole(MOST_RUNS), f"a whole number from 0 to {MOST_RUNS}"),
        "seconds": Form(
            "a time of playing",
            _fraction(MOST_SECONDS, above_zero=False),
            f'seconds up to {MOST_SECONDS}, in whole numbers or fractions of them, as "63/2", or nothing',
            may_lack=True,
        ),
        "judged": Form("one who judges", _one_of(JUDGED), ", ".join(f'"{words}"' for words in JUDGED)),
        "note": Form("a note", _text(0, LONGEST_NOTE), f"text of {LONGEST_NOTE} letters at most"),
        "corrects": Form("the name of an entry", _matching(_NAME_OR_NONE), "32 hexadecimal digits, or nothing"),
    }
)
