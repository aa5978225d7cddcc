"""Read the plain values of a file: text, numbers, yes or no, a day, one of a few words.

Rule    numbers become exact fractions of the decimals as written; `nan` and `inf` are no numbers here.
Units   as each key says.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Any, ClassVar

from droner.errors import nearest
from droner.practice.reading.fields import Simple, Unfit
from droner.practice.reading.sheet_reading import Shelves, fold

_CONTROL = r"\u0000-\u001f\u007f-\u009f"
_CONTROL_SIGN = re.compile(f"[{_CONTROL}]")
_ONE_LINE = rf"^[^{_CONTROL}]*[^\s{_CONTROL}][^{_CONTROL}]*$"
_MEANT_BY = {
    **dict.fromkeys(("yes", "on", "true", "ja", "oui", "s\u00ed", "1"), "true"),
    **dict.fromkeys(("no", "off", "false", "nein", "non", "0"), "false"),
}


def number_words(number: Fraction | int) -> str:
    """A limit as a player would write it."""
    return f"{float(number):g}"


@dataclass(frozen=True, slots=True)
class Text(Simple):
    """A line of plain words."""

    longest: int = 200
    takes: ClassVar[tuple[str, ...]] = ("text",)

    def take(self, value: Any, _: Shelves, /) -> str:
        if not value.strip():
            raise Unfit("this is empty")
        if _CONTROL_SIGN.search(value):
            raise Unfit("this holds a line break or a sign that cannot be seen")
        if len(value) > self.longest:
            raise Unfit(f"this is too long: {len(value)} characters")
        return str(value.strip())

    def allowed(self, _: Shelves, /) -> str:
        return f"one line of text, at most {self.longest} characters"

    def schema(self, _: Shelves, /) -> dict[str, Any]:
        return {"type": "string", "maxLength": self.longest, "pattern": _ONE_LINE}


@dataclass(frozen=True, slots=True)
class Number(Simple):
    """A number between limits, both allowed."""

    low: Fraction | int
    high: Fraction | int
    takes: ClassVar[tuple[str, ...]] = ("a number", "a whole number")

    def take(self, value: Any, _: Shelves, /) -> Fraction:
        if not self.low <= value <= self.high:
            raise Unfit(_beyond(value, self.low))
        return Fraction(str(value))

    def allowed(self, _: Shelves, /) -> str:
        return f"a number from {number_words(self.low)} to {number_words(self.high)}"

    def schema(self, _: Shelves, /) -> dict[str, Any]:
        return {"type": "number", "minimum": float(self.low), "maximum": float(self.high)}


@dataclass(frozen=True, slots=True)
class Whole(Simple):
    """A whole number between limits, both allowed."""

    low: int
    high: int
    takes: ClassVar[tuple[str, ...]] = ("a whole number",)

    def take(self, value: Any, _: Shelves, /) -> int:
        if not self.low <= value <= self.high:
            raise Unfit(_beyond(value, self.low))
        return int(value)

    def allowed(self, _: Shelves, /) -> str:
        return f"a whole number from {self.low} to {self.high}"

    def schema(self, _: Shelves, /) -> dict[str, Any]:
        return {"type": "integer", "minimum": self.low, "maximum": self.high}


def _beyond(value: float, low: Fraction | int) -> str:
    if value != value:  # noqa: PLR0124 - only `nan` differs from itself
        return "this is not a number that can be counted with"
    return "this is too small" if value < low else "this is too large"


@dataclass(frozen=True, slots=True)
class YesNo(Simple):
    """Yes or no, which TOML writes true or false."""

    takes: ClassVar[tuple[str, ...]] = ("yes or no",)

    def take(self, value: Any, _: Shelves, /) -> bool:
        return bool(value)

    def nearest(self, value: Any, _: Shelves, /) -> str:
        return _MEANT_BY.get(str(value).casefold(), "")

    def allowed(self, _: Shelves, /) -> str:
        return "true or false, without quotes"

    def schema(self, _: Shelves, /) -> dict[str, Any]:
        return {"type": "boolean"}


@dataclass(frozen=True, slots=True)
class Day(Simple):
    """A calendar day."""

    takes: ClassVar[tuple[str, ...]] = ("a date",)

    def take(self, value: Any, _: Shelves, /) -> date:
        return date(value.year, value.month, value.day)

    def nearest(self, value: Any, _: Shelves, /) -> str:
        try:
            return date.fromisoformat(str(value)[:10]).isoformat()
        except ValueError:
            return ""

    def allowed(self, _: Shelves, /) -> str:
        return "a date such as 2026-01-31, without quotes"

    def schema(self, _: Shelves, /) -> dict[str, Any]:
        # Editors hand a TOML date to the schema as text.
        return {"type": "string", "pattern": r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}


@dataclass(frozen=True, slots=True)
class Choice(Simple):
    """One of a few fixed words."""

    words: tuple[str, ...]
    takes: ClassVar[tuple[str, ...]] = ("text",)

    def take(self, value: Any, _: Shelves, /) -> str:
        known = {fold(word): word for word in self.words}
        if fold(value) not in known:
            raise Unfit("there is no such choice here")
        return known[fold(value)]

    def nearest(self, value: Any, _: Shelves, /) -> str:
        return nearest(value, self.words) if isinstance(value, str) else ""

    def allowed(self, _: Shelves, /) -> str:
        return ", ".join(f'"{word}"' for word in self.words)

    def schema(self, _: Shelves, /) -> dict[str, Any]:
        return {"type": "string", "enum": list(self.words)}
