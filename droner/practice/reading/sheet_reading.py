"""Hold one file while it is read: its text, the names it may use, and the mistakes found so far.

Rule    a mistake is reported at a place, and reading goes on. The text is searched for lines only once something
        is wrong. Names are compared in any case and with any spaces.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from droner.errors import Mistake, nearest
from droner.practice.reading.shown_fields import printable
from droner.practice.reading.toml_places import TomlPath, line_of, places

MOST_SHOWN_NAMES = 16
"""Names that a message lists before it stops with "and so many more"."""
SHORTEST_PART = 3
"""Letters from which on a part of a name is taken for the name."""


@lru_cache(maxsize=4096)
def fold(name: str) -> str:
    """A name as it is compared: in any case, with any spaces."""
    return " ".join(name.casefold().split())


@dataclass(frozen=True, slots=True)
class Names:
    """The names of one kind that exist, and what each way of writing one stands for."""

    shown: tuple[str, ...]
    known: Mapping[str, str]

    @classmethod
    def of(cls, names: Iterable[str], also: Mapping[str, str] | None = None) -> Names:
        """Names, and `also` other ways of writing some of them."""
        shown = tuple(names)
        return cls(shown, {fold(name): name for name in shown} | {fold(k): v for k, v in (also or {}).items()})

    def nearest(self, found: str) -> str:
        """The name that was most likely meant, or ""."""
        close = nearest(found, self.known)
        within = (name for name in self.known if len(fold(found)) >= SHORTEST_PART and fold(found) in name)
        return self.known.get(close or next(within, ""), "")

    def __str__(self) -> str:
        listed = "; ".join(self.shown[:MOST_SHOWN_NAMES])
        more = len(self.shown) - MOST_SHOWN_NAMES
        return f"{listed}; and {more} more" if more > 0 else listed or "there are none yet"


Shelves = Mapping[str, Names]
"""Every sort of name ("drill", "click") with the names that exist."""


@dataclass(slots=True)
class Sheet:
    """One file while it is read: its text, its names, and the mistakes found so far."""

    file: str
    text: str
    shelves: Shelves = field(default_factory=dict)
    mistakes: list[Mistake] = field(default_factory=list)
    defaults: dict[int, Any] = field(default_factory=dict)
    """What stands for keys that are not written, by the identity of their row in the table of keys."""
    _places: Mapping[TomlPath, int] | None = None

    def places(self) -> Mapping[TomlPath, int]:
        """The line of everything in the text. It is searched only once something is wrong."""
        if self._places is None:
            self._places = places(self.text)
        return self._places

    def line(self, path: TomlPath) -> int:
        """The line of a value."""
        return line_of(self.places(), path)

    def names_seen(self, section: str) -> list[str]:
        """The names of rows in a table, found by their places alone: for a file that is not TOML."""
        below = (path[1] for path in self.places() if len(path) > 1 and path[0] == section)
        return [name for name in below if isinstance(name, str)]

    def in_order(self) -> list[Mistake]:
        """The mistakes in the order of the file."""
        return sorted(self.mistakes, key=lambda mistake: mistake.line)


@dataclass(frozen=True, slots=True)
class Place:
    """A place in a sheet, where a value stands or is missing."""

    sheet: Sheet
    path: TomlPath = ()

    def __getitem__(self, part: str | int) -> Place:
        return Place(self.sheet, (*self.path, part))

    @property
    def key(self) -> str:
        """The place as messages show it: `block[2].drill`, counted from 1."""
        return dotted(self.path)

    @property
    def shelves(self) -> Shelves:
        """The names that may be used here."""
        return self.sheet.shelves

    def wrong(self, problem: str, *, found: str = "", allowed: str = "", nearest: str = "", line: int = 0) -> None:
        """Report a mistake here; `line` only where it is known better than by the place."""
        line = line or self.sheet.line(self.path)
        self.sheet.mistakes.append(Mistake(self.sheet.file, line, self.key, problem, found, allowed, nearest))


def dotted(path: TomlPath) -> str:
    """A path as a player would write it, lists counted from 1."""
    text = ""
    for part in path:
        if isinstance(part, int):
            text += f"[{part + 1}]"
        else:
            plain = part.replace("_", "").replace("-", "").isalnum() and part.isascii()
            text += ("." if text else "") + (part if plain else '"' + printable(part) + '"')
    return text
