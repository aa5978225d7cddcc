"""Collect what does not agree in a certificate, with its line, and tell it."""

from __future__ import annotations

import json

from droner.errors import Mistake, MistakesFound

MOST_TOLD = 20
"""Mistakes that are told one by one."""
LONGEST = 100
"""Signs that are shown of what was found."""


class Mistakes:
    """What was found wrong in a file, in the order of finding."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.found: list[Mistake] = []

    def add(self, line: int, key: str, problem: str, found: object = "", allowed: object = "") -> None:
        """One mistake more."""
        self.found.append(Mistake(self.file, line, key, problem, _short(found), _short(allowed)))

    def raise_if_any(self) -> None:
        """MistakesFound with the first of them, and how many more there are; nothing when there are none."""
        if len(self.found) > MOST_TOLD:
            more = f"{len(self.found) - MOST_TOLD} more do not agree either"
            raise MistakesFound([*self.found[:MOST_TOLD], Mistake(self.file, 0, "", more)])
        if self.found:
            raise MistakesFound(self.found)


def _short(value: object) -> str:
    text = value if isinstance(value, str) else json.dumps(value)
    text = "".join(sign if sign.isprintable() else "\N{REPLACEMENT CHARACTER}" for sign in text)
    return text if len(text) <= LONGEST else f"{text[: LONGEST - 3]}..."
