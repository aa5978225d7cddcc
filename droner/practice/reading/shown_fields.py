"""Show a value of a TOML file in a message: as it was written, cut to one line, and what sort it is.

Rule    nothing that could disturb a terminal is repeated; the words for the sorts are the player's.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime, time
from types import MappingProxyType
from typing import Any

LONGEST_SHOWN = 60
"""Characters of a wrong value that a message repeats."""


def printable(text: str) -> str:
    """Text cut to a line's length, without signs that would disturb a terminal."""
    plain = "".join(sign if sign.isprintable() else "\ufffd" for sign in text[: LONGEST_SHOWN + 1])
    return plain if len(text) <= LONGEST_SHOWN else plain[: LONGEST_SHOWN - 1] + "\u2026"


def shown(value: Any) -> str:
    """A value of a TOML file about as it was written there, cut to one line."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f'"{printable(value)}"'
    if isinstance(value, list):
        inside = ", ".join(shown(each) if not isinstance(each, (list, dict)) else "\u2026" for each in value[:4])
        return f"[{inside}, \u2026]" if len(value) > 4 else f"[{inside}]"
    if isinstance(value, dict):
        return f"a table with {', '.join(map(printable, list(value)[:4]))}" if value else "an empty table"
    return printable(_number_text(value))


def _number_text(value: Any) -> str:
    huge = isinstance(value, int) and value.bit_length() > 64
    return "a number of a great many figures" if huge else str(value)


TOML_SORTS: Mapping[type, str] = MappingProxyType(
    {
        bool: "yes or no",
        str: "text",
        int: "a whole number",
        float: "a number",
        datetime: "a date with a time",
        date: "a date",
        time: "a time of day",
        list: "a list",
        dict: "a table",
    }
)
"""What TOML can hold, in plain words."""


def sort_of(value: Any) -> str:
    """What a value is, in plain words: "text", "a whole number", "a list"."""
    return TOML_SORTS.get(type(value), "something else")
