"""Read a session together with the patterns beside it, and report the mistakes of both in one run.

Rule    a session may name what its own patterns define. Where those hold mistakes themselves, a name that can
        still be seen in them is not called unknown in the session.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from droner.errors import Mistake, MistakesFound
from droner.practice.reading.files import file_text, load_patterns, load_session, own_patterns_folder

if TYPE_CHECKING:
    from collections.abc import Iterable

    from droner.practice.pattern import Patterns
    from droner.practice.session import Session


def read_both(file: Path | None) -> tuple[Session, Patterns]:
    """The session and the patterns it may use; droner's own for None. MistakesFound with those of both."""
    if file is None:
        patterns = load_patterns()
        return load_session(None, patterns), patterns
    folder = own_patterns_folder(file)
    try:
        patterns = load_patterns(folder)
    except MistakesFound as found:
        raise MistakesFound([*found.mistakes, *_besides(file, names_seen(folder))]) from None
    return load_session(file, patterns), patterns


def _besides(file: Path, seen: frozenset[str]) -> Iterable[Mistake]:
    """The session's own mistakes, as far as they can be told while its patterns are not read."""
    try:
        load_session(file, load_patterns())
    except MistakesFound as found:
        return [mistake for mistake in found.mistakes if mistake.found.strip("\"'").casefold() not in seen]
    return ()


def names_seen(folder: Path) -> frozenset[str]:
    """The names of rows that the pattern files of a folder seem to define."""
    from droner.practice.reading.toml_places import places  # noqa: PLC0415 - only once something is wrong

    seen: set[str] = set()
    for file in folder.glob("*.toml"):
        try:
            found = places(file_text(file))
        except MistakesFound:
            continue
        seen |= {path[1].casefold() for path in found if len(path) > 1 and isinstance(path[1], str)}
    return frozenset(seen)
