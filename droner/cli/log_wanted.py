"""Hold what `droner log` was asked for, and tell apart a session, items and runs.

Rule    one word more than pairs need is a session, and stands first. Where an item stands alone, or a number in the
        place of a session that is not there, what is missing is said.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import click

from droner.cli.day import logbook_of
from droner.cli.values import is_items, path

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date
    from fractions import Fraction
    from pathlib import Path


@dataclass(frozen=True, slots=True)
class Wanted:
    """What was asked for, option by option; see the command."""

    words: tuple[str, ...]
    day: date | None
    place: int | None
    minutes: Fraction | None
    seed: int | None
    logbook: Path | None
    bpm: Fraction | None
    spent: Fraction | None
    note: str
    judged: str | None
    correct: str | None
    take_back: str | None
    last: int | None
    export_to: Path | None
    import_from: Path | None
    as_json: bool
    quiet: bool

    @property
    def session(self) -> Path | None:
        """The session, where one word more is given than pairs need; a correction has none."""
        return path(self.words[0]) if len(self.words) % 2 and self.correct is None else None

    @property
    def is_session_alone(self) -> bool:
        """Whether there is nothing but a session."""
        return len(self.words) == 1

    @property
    def told(self) -> tuple[tuple[str, str], ...]:
        """The items and their runs, in pairs."""
        pairs = self.words[len(self.words) % 2 :]
        return tuple(zip(pairs[::2], pairs[1::2], strict=True))

    @property
    def file(self) -> Path:
        """The logbook that is meant."""
        return logbook_of(self.logbook, self.session)


def check_words(words: Sequence[str]) -> None:
    """UsageError where runs are missing: an item with none after it, or one in the place of a session."""
    rest = list(words)
    if rest and not (is_items(rest[0]) and not (len(rest) % 2 and path(rest[0]).exists())):
        del rest[0]  # a session
    while rest:
        item, *rest = rest
        if is_items(item) and (not rest or is_items(rest[0])):
            raise click.UsageError(f"Item {item}: how many runs were clean, of how many? droner log {item} 2/3")
        rest = rest[1:]
