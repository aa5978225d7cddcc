"""Lay out lines on a terminal: how much room there is, large columns, the keys.

Units   cells of a terminal.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from droner.cli.play_letters import FULL_BLOCK, ROWS, large, large_width
from droner.cli.table import width

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from droner.cli.keys_table import Key

NARROWEST, LOWEST = 36, 10
"""With less there is one line."""
ROOMY_WIDE, ROOMY_HIGH = 52, 14
"""From here on large letters stand side by side."""
HIGH_ENOUGH = 22
"""Lines from which on there is room for two rows of large letters."""
BESIDE = 6
EDGE = "  "
CUT = "..."
"""Stands where words were left out."""
LOOSE = " ,;:-"
"""No word ends in one of these before the sign."""


@dataclass(frozen=True, slots=True)
class Paper:
    """What is drawn on: columns, lines, and the sign of the large letters."""

    wide: int
    high: int
    ink: str = FULL_BLOCK
    keys: bool = True

    @property
    def is_large(self) -> bool:
        """Whether there is room for a page."""
        return self.wide >= NARROWEST and self.high >= LOWEST

    @property
    def is_roomy(self) -> bool:
        """Whether there is room for large letters side by side."""
        return self.wide >= ROOMY_WIDE and self.high >= ROOMY_HIGH

    @property
    def room(self) -> int:
        """How wide a line may be between the edges."""
        return self.wide - 2 * len(EDGE)


@dataclass(frozen=True, slots=True)
class Part:
    """Lines that stand or fall together. The lowest `rank` has room first; a `loose` one likes a line of air above."""

    rank: int
    lines: tuple[str, ...]
    loose: bool = False


def fitted(parts: Sequence[Part], high: int) -> list[str]:
    """The parts that have room, in the order they are given, with as much air as is left."""
    free = high
    kept = set()
    for number, part in sorted(enumerate(parts), key=lambda each: each[1].rank):
        if len(part.lines) <= free:
            free -= len(part.lines)
            kept.add(number)
    lines: list[str] = []
    for number, part in enumerate(parts):
        if number in kept and part.lines:
            air = int(part.loose and bool(lines) and free > 0)
            free -= air
            lines += [*[""] * air, *part.lines]
    return lines


def sheet(lines: Iterable[str], paper: Paper) -> list[str]:
    """The lines with their edge, none wider than the paper, as many as it has."""
    shown = [cut(EDGE + line, paper.wide - 1).rstrip() for line in lines]
    return (shown + [""] * paper.high)[: paper.high]


def columns(shown: Sequence[tuple[str, str]], paper: Paper) -> list[str]:
    """Labels, and below them what they name, large, side by side."""
    rows = [""] * (ROWS + 1)
    for label, text in shown:
        drawn = large(text, paper.ink)
        wide = max(len(drawn[0]), len(label))
        column = (label, *drawn)
        rows = [row + line.ljust(wide + BESIDE) for row, line in zip(rows, column, strict=True)]
    return [row.rstrip() for row in rows]


def key_lines(keys: Sequence[Key], paper: Paper) -> list[str]:
    """What each key does, in as many lines as that takes."""
    lines = [""]
    for key in keys:
        words = f"{key.called} {key.words}"
        longer = f"{lines[-1]}   {words}" if lines[-1] else words
        if width(longer) > paper.room:
            lines.append(words)
        else:
            lines[-1] = longer
    return lines


def apart(left: str, right: str, room: int) -> str:
    """Two texts at both ends of a line; the left one gives way."""
    space = room - width(right)
    return shortened(left, space - 2).ljust(space) + right if space > 2 else right


def shortened(text: str, wide: int) -> str:
    """A text, or as many whole words of it as have room before the sign that some are left out."""
    if width(text) <= wide:
        return text
    words = text.split(" ")
    while words and width(" ".join(words).rstrip(LOOSE) + CUT) > wide:
        words.pop()
    whole = " ".join(words).rstrip(LOOSE)
    return (whole or cut(text, wide - len(CUT))) + CUT if wide > len(CUT) else cut(text, wide)


def columns_width(shown: Sequence[tuple[str, str]]) -> int:
    """How wide they are side by side."""
    return sum(max(large_width(text), width(label)) for label, text in shown) + BESIDE * (len(shown) - 1)


def cut(text: str, wide: int) -> str:
    """As much of a text as has room."""
    while width(text) > wide:
        text = text[:-1]
    return text
