"""Collect what does not agree in a certificate, with its line, and tell it."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from droner.errors import Mistake, MistakesFound

if TYPE_CHECKING:
    from collections.abc import Iterable

MOST_TOLD = 20
"""Mistakes that are told one by one."""
LONGEST = 100
"""Signs that are shown of what was found."""


class ManyMistakesFound(MistakesFound):
    """Mistakes of which only the first are told, and how many there are in all."""

    def __init__(self, mistakes: Iterable[Mistake], count: int) -> None:
        super().__init__(mistakes)
        self.count = count


class Mistakes:
    """What was found wrong in a file, in the order of finding. `first` is told before all others."""

    def __init__(self, file: str, first: Mistake | None = None) -> None:
        self.file = file
        self.first = first
        self.found: list[Mistake] = []

    def add(self, line: int, key: str, problem: str, found: object = "", allowed: object = "") -> None:
        """One mistake more."""
        self.found.append(mistake_in(self.file, line, key, problem, found, allowed))

    def raise_if_any(self, *, at_last: bool = False) -> None:
        """ManyMistakesFound with the first of them, and how many more there are; nothing when there are none.

        `at_last`: nothing else will be found, so that the first may stand alone.
        """
        every = [*([self.first] if self.first else []), *self.found]
        if not self.found and not (at_last and every):
            return
        left = len(every) - MOST_TOLD
        more = [Mistake(self.file, 0, "", f"{left} more do not agree either")] if left > 0 else []
        raise ManyMistakesFound([*every[:MOST_TOLD], *more], len(every))


def mistake_in(file: str, line: int, key: str, problem: str, found: object = "", allowed: object = "") -> Mistake:
    """A mistake with what was found and what should be, cut short where they are long."""
    return Mistake(file, line, key, problem, _short(found), _short(allowed))


def _short(value: object) -> str:
    text = value if isinstance(value, str) else json.dumps(value)
    text = "".join(sign if sign.isprintable() else "\N{REPLACEMENT CHARACTER}" for sign in text)
    return text if len(text) <= LONGEST else f"{text[: LONGEST - 3]}..."
