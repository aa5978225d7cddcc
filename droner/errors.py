"""Say whose fault it is: the player's file, the command line, or the machine.

Rule    a player's mistake is a value (`Mistake`), collected with all the others and shown in one run;
        `MistakesFound` carries them up once nothing more can be read. The machine's failure is a
        `MachineError`. A bug of ours is neither, and is never caught.
Exit    1 a mistake in the player's files, 2 wrong usage, 3 a device or file the machine would not give.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches


@dataclass(frozen=True, slots=True)
class Mistake:
    """One thing wrong in one place, and the way out.

    `file` is shown as the player gave it; `line` counts from 1, 0 when no line can be named; `key` is the
    dotted place ("rotation.keys_per_day", "block[2].drill"), "" for the whole file.
    """

    file: str
    line: int
    key: str
    problem: str
    found: str = ""
    allowed: str = ""
    nearest: str = ""

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}" if self.line else self.file
        text = f"{place}: {self.key}: {self.problem}" if self.key else f"{place}: {self.problem}"
        if self.found:
            text += f"\n    found:   {self.found}"
        if self.allowed:
            text += f"\n    allowed: {self.allowed}"
        if self.nearest:
            text += f"\n    did you mean: {self.nearest}?"
        return text


class MistakesFound(Exception):  # noqa: N818 - the name says what happened, in the player's words
    """The player's files hold mistakes: all of them, in the order of the file. Exit code 1."""

    def __init__(self, mistakes: Iterable[Mistake]) -> None:
        self.mistakes = tuple(mistakes)
        super().__init__("\n".join(str(mistake) for mistake in self.mistakes))


class MachineError(Exception):
    """The machine would not give a file, a device or a program. Exit code 3."""


def nearest(found: str, allowed: Iterable[str]) -> str:
    """The allowed name that a slip of the hand most likely meant, or ""."""
    names = list(allowed)
    folded = {name.casefold(): name for name in names}
    close = get_close_matches(found.casefold(), folded, n=1, cutoff=0.6)
    return folded[close[0]] if close else ""
