"""Tell the tempo at which entries of the logbook were played, by the patterns that are at hand.

Rule    what the rhythm of an entry is, its drill and its variant say: those of the session that is meant, or droner's
        own where that one has mistakes. Nothing is read before an entry asks for it.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from droner.cli.day import session_file
from droner.cli.reading import read_both
from droner.errors import MistakesFound
from droner.practice.played_tempo import played_bpm, slowing_of
from droner.practice.reading.files import load_patterns

if TYPE_CHECKING:
    from fractions import Fraction
    from pathlib import Path

    from droner.practice.logbook.entry import Entry
    from droner.practice.pattern import Patterns
    from droner.practice.session import Session


@lru_cache(maxsize=1)
def _known(session: Path | None) -> tuple[Session | None, Patterns]:
    try:
        return read_both(session_file(session))
    except MistakesFound:
        return None, load_patterns()


def slowing_in(entry: Entry, session: Path | None) -> Fraction | None:
    """By how much the rhythm of an entry slowed the beat; None where it is not known."""
    return slowing_of(entry, *_known(session))


def played_in(entry: Entry, session: Path | None) -> Fraction | None:
    """The tempo at which an entry was played; None where it is not known."""
    return played_with(entry, *_known(session))


def played_with(entry: Entry, session: Session | None, patterns: Patterns) -> Fraction | None:
    """The same by the patterns of a session that is open."""
    slows = slowing_of(entry, session, patterns)
    return None if slows is None else played_bpm(entry.bpm, slows)
