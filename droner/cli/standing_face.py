"""Say what the screen shows of a drone or a click that sounds, and lay it out to be read from two metres.

Rule    large is what is looked for while playing; `first` has room on every page, `second` on a high one only. Small is
        the rest: what is set, what is wrong, the keys. Without the room for large letters the
        line is broken between words, and on a terminal too small for that it is one line.
Units   cells of a terminal.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from droner.cli.play_letters import fitting
from droner.cli.play_paper import HIGH_ENOUGH, Paper, apart, columns, key_lines, sheet, shortened
from droner.cli.table import wrapped

if TYPE_CHECKING:
    from droner.cli.keys_table import Key

PAUSED = "paused"


@dataclass(frozen=True, slots=True)
class Column:
    """A label, and ways to say what it names, the longest first: the first that has room is written large."""

    label: str
    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Face:
    """What is shown: a head line, large columns, small lines, and all of it in one `line`."""

    head: str
    first: tuple[Column, ...]
    second: tuple[Column, ...]
    small: tuple[str, ...]
    line: str


def page(face: Face, news: str, keys: tuple[Key, ...], paper: Paper, *, paused: bool) -> list[str]:
    """All lines; one where there is no room for more. `news` is what was said last."""
    if not paper.is_large:
        return [shortened(one_line(face, news, paused=paused), paper.wide - 1)]
    if not paper.is_roomy:
        return sheet(wrapped(one_line(face, news, paused=paused), paper.room).split("\n"), paper)
    state = PAUSED.upper() if paused else ""
    lines = [apart(face.head, state, paper.room), "", *_large(face.first, paper), ""]
    if paper.high >= HIGH_ENOUGH and face.second:
        lines += [*_large(face.second, paper), ""]
    small = [row for line in face.small for row in wrapped(line, paper.room).split("\n")]
    return sheet([*lines, *small, shortened(news, paper.room), *(key_lines(keys, paper) if paper.keys else [])], paper)


def one_line(face: Face, news: str, *, paused: bool) -> str:
    """Everything that matters in one line."""
    return "  ".join(filter(None, (face.line, PAUSED if paused else "", news)))


def _large(shown: tuple[Column, ...], paper: Paper) -> list[str]:
    drawn = columns([(column.label, fitting(column.texts, paper.room)) for column in shown], paper)
    return drawn if any(column.label for column in shown) else drawn[1:]
