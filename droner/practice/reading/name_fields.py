"""Read a name: a drill, a click, an instrument, a key, a pitch.

Rule    names are compared in any case and with any spaces. A name from the library is looked up on its shelf;
        a word of theory (a key, a pitch, a meter) is read by the theory's own reader.
Units   none.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any, ClassVar

from droner.errors import nearest
from droner.practice.reading.fields import Simple, Unfit
from droner.practice.reading.sheet_reading import Names, Shelves, fold

_NOTHING = Names.of(())
_WORDS = {"changes": "set of changes", "variant_set": "set of variants"}
"""Sorts of names whose word in a sentence is another."""


@dataclass(frozen=True, slots=True)
class Name(Simple):
    """The name of something in the library: `sort` says on which shelf to look."""

    sort: str
    takes: ClassVar[tuple[str, ...]] = ("text",)

    def take(self, value: Any, shelves: Shelves, /) -> str:
        known = shelves.get(self.sort, _NOTHING).known
        if fold(value) not in known:
            raise Unfit(f"there is no {_WORDS.get(self.sort, self.sort)} of this name")
        return known[fold(value)]

    def nearest(self, value: Any, shelves: Shelves, /) -> str:
        return shelves.get(self.sort, _NOTHING).nearest(value) if isinstance(value, str) else ""

    def allowed(self, shelves: Shelves, /) -> str:
        return str(shelves.get(self.sort, _NOTHING))

    def schema(self, shelves: Shelves, /) -> dict[str, Any]:
        return {"type": "string", "enum": list(shelves.get(self.sort, _NOTHING).shown)}


@dataclass(frozen=True, slots=True)
class RowNumber(Simple):
    """The number of a row of a table in the library, counted from 1."""

    sort: str
    takes: ClassVar[tuple[str, ...]] = ("a whole number",)

    def take(self, value: Any, shelves: Shelves, /) -> int:
        if not 1 <= value <= self._last(shelves):
            raise Unfit(f"there is no {self.sort} with this number")
        return int(value)

    def _last(self, shelves: Shelves) -> int:
        return len(shelves.get(self.sort, _NOTHING).shown)

    def allowed(self, shelves: Shelves, /) -> str:
        return f"a whole number from 1 to {self._last(shelves)}"

    def schema(self, shelves: Shelves, /) -> dict[str, Any]:
        return {"type": "integer", "minimum": 1, "maximum": self._last(shelves)}


@dataclass(frozen=True, slots=True)
class Known(Simple):
    """One of the names of theory, read by theory's own reader, which also knows other ways of writing it."""

    sort: str
    reader: Callable[[str], Any]
    names: tuple[str, ...]
    also: tuple[str, ...] = ()
    """Other usual ways of writing some of them."""
    takes: ClassVar[tuple[str, ...]] = ("text",)

    def take(self, value: Any, _: Shelves, /) -> Any:
        try:
            return self.reader(value)
        except ValueError:
            raise Unfit(f"there is no {self.sort} of this name") from None

    def nearest(self, value: Any, _: Shelves, /) -> str:
        return nearest(value, self.names + self.also) if isinstance(value, str) else ""

    def allowed(self, _: Shelves, /) -> str:
        return str(Names.of(self.names))

    def schema(self, _: Shelves, /) -> dict[str, Any]:
        return {"type": "string", "enum": list(self.names + self.also)}


@dataclass(frozen=True, slots=True)
class Spelled(Simple):
    """Something written by rules rather than chosen from a list: a pitch, a key, a meter, a cell.

    `pattern` is the rule for editors; `near` lists what could have been meant by a text.
    """

    what: str
    reader: Callable[[str], Any]
    pattern: str
    example: str
    near: Callable[[str], Iterable[str]] | None = None
    own_words: bool = False
    """The reader's own message says the reason."""
    takes: ClassVar[tuple[str, ...]] = ("text",)

    def take(self, value: Any, _: Shelves, /) -> Any:
        try:
            return self.reader(value)
        except ValueError as reason:
            raise Unfit(str(reason) if self.own_words else f"this is not {self.what}") from None

    def nearest(self, value: Any, _: Shelves, /) -> str:
        if not self.near or not isinstance(value, str):
            return ""
        close = nearest(value, self.near(value))
        return close if self._reads(close) else ""

    def _reads(self, text: str) -> bool:
        try:
            self.reader(text)
        except ValueError:
            return False
        return True

    def allowed(self, _: Shelves, /) -> str:
        return f"{self.what}, such as {self.example}"

    def schema(self, _: Shelves, /) -> dict[str, Any]:
        return {"type": "string", "pattern": self.pattern}
