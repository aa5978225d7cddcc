"""Lay rows out in columns for a terminal.

Rule    a column is as wide as its widest cell; numbers stand right, words left; no lines are drawn. Where a page is
        too narrow the last column goes on below itself, broken between words.
Units   widths in cells of a terminal: marks that combine take none, wide signs two.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Collection, Iterator, Sequence

GAP = "  "
NARROWEST_COLUMN = 20
"""A last column is not broken into less: then the page is wider than asked."""


def width(text: str) -> int:
    """Cells a text takes in a terminal."""
    if text.isascii():
        return len(text)
    return sum(
        0 if unicodedata.combining(sign) else 2 if unicodedata.east_asian_width(sign) in "WF" else 1 for sign in text
    )


def table(
    rows: Sequence[Sequence[str]],
    heads: Sequence[str] = (),
    right: Collection[int] = (),
    *,
    page: int = 0,
    widths: Sequence[int] = (),
) -> str:
    """The rows as text, under their heads; the columns numbered in `right` stand right.

    `page` is the width to keep to, 0 for any; `widths` those of the columns, when several tables shall agree.
    """
    lines = [*([heads] if heads else []), *rows]
    if not lines:
        return ""
    wide = widths or column_widths(lines)
    return "\n".join(text for line in lines for text in _lines(line, wide, right, page))


def column_widths(lines: Sequence[Sequence[str]]) -> list[int]:
    """How wide each column has to be."""
    return [max(width(line[column]) for line in lines) for column in range(len(lines[0]))]


def wrapped(text: str, page: int, indent: str = "") -> str:
    """Text broken between words, every line after the indent."""
    return "\n".join(indent + line for line in _broken(text, page - width(indent)))


def _lines(cells: Sequence[str], widths: Sequence[int], right: Collection[int], page: int) -> Iterator[str]:
    before = sum(widths[:-1]) + len(GAP) * (len(cells) - 1)
    first, *more = _broken(cells[-1], max(page - before, NARROWEST_COLUMN)) if page else [cells[-1]]
    yield _line([*cells[:-1], first], widths, right)
    yield from (" " * before + line for line in more)


def _broken(text: str, room: int) -> list[str]:
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines[-1] else word
        if lines[-1] and width(longer) > room:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def _line(cells: Sequence[str], widths: Sequence[int], right: Collection[int]) -> str:
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


def counted(number: int, what: str, several: str = "") -> str:
    """So many of a thing: "1 key", "24 keys"; `several` where an s does not do."""
    return f"{number} {what}" if number == 1 else f"{number} {several or what + 's'}"
