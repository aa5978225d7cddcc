"""Lay rows out in columns for a terminal.

Rule    a column is as wide as its widest cell; numbers stand right, words left; no lines are drawn.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence

RIGHT, LEFT = "right", "left"
GAP = "  "


def width(text: str) -> int:
    """Cells a text takes in a terminal: marks that combine take none, wide signs two."""
    return sum(
        0 if unicodedata.combining(sign) else 2 if unicodedata.east_asian_width(sign) in "WF" else 1 for sign in text
    )


def table(rows: Sequence[Sequence[str]], heads: Sequence[str] = (), right: Sequence[int] = ()) -> str:
    """The rows as text, under their heads; the columns numbered in `right` stand right."""
    lines = [*([heads] if heads else []), *rows]
    if not lines:
        return ""
    widths = [max(width(line[column]) for line in lines) for column in range(len(lines[0]))]
    return "\n".join(_line(line, widths, right) for line in lines)


def _line(cells: Sequence[str], widths: Sequence[int], right: Sequence[int]) -> str:
    padded = (
        " " * (wide - width(cell)) + cell if column in right else cell + " " * (wide - width(cell))
        for column, (cell, wide) in enumerate(zip(cells, widths, strict=True))
    )
    return GAP.join(padded).rstrip()


def minutes_seconds(seconds: float) -> str:
    """A length as 3:05, hours as 1:02:03."""
    whole = round(seconds)
    minutes, left = divmod(whole, 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02}:{left:02}" if hours else f"{minutes}:{left:02}"
