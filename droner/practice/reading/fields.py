"""Describe a key of a session or pattern file: what may stand there, and how it is read.

Rule    one `Field` a key; its `kind` reads the value, says what is allowed in plain words, and gives the JSON
        Schema, so that the reader, the editor and the documentation cannot disagree. A value that does not fit
        becomes a `Mistake` at its place, the reading goes on, and `UNREAD` stands for the value.
Units   none: each kind says its own.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass
from enum import Enum
from typing import Any, ClassVar, Final

from droner.practice.reading.sheet_reading import Place, Shelves
from droner.practice.reading.shown_fields import shown, sort_of


class _Unread(Enum):
    UNREAD = "unread"


UNREAD: Final = _Unread.UNREAD
"""Stands for a value whose mistake has been reported."""
UNREADABLE = "\x00a value that is not TOML"
"""Stands in the data for a value whose line broke the rules of TOML and has been reported."""


class Unfit(ValueError):  # noqa: N818 - the name says what the value is
    """A value that its key cannot take; the text says why, in plain words."""


class Kind(ABC):
    """What may stand at a key."""

    takes: ClassVar[tuple[str, ...]] = ()
    """The sorts of TOML value that can fit, the usual one first."""

    @property
    def inside(self) -> tuple[Kind, ...]:
        """The kinds that this one is made of."""
        return ()

    @abstractmethod
    def read(self, value: Any, place: Place, /) -> Any:
        """The value as the records hold it, or UNREAD once its mistakes are reported."""

    @abstractmethod
    def allowed(self, shelves: Shelves, /) -> str:
        """What may stand here, in plain words."""

    @abstractmethod
    def schema(self, shelves: Shelves, /) -> dict[str, Any]:
        """The same as JSON Schema."""


class Simple(Kind):
    """A kind whose value is read in one piece."""

    @abstractmethod
    def take(self, value: Any, shelves: Shelves, /) -> Any:
        """The value as the records hold it. Unfit, with the reason, when it cannot stand here."""

    def nearest(self, _value: Any, _shelves: Shelves, /) -> str:
        """What was most likely meant, or ""."""
        return ""

    def read(self, value: Any, place: Place, /) -> Any:
        try:
            self.check_sort(value)
            return self.take(value, place.shelves)
        except Unfit as reason:
            close = self.nearest(value, place.shelves)
            place.wrong(str(reason), found=shown(value), allowed=self.allowed(place.shelves), nearest=close)
            return UNREAD

    def check_sort(self, value: Any) -> None:
        """Unfit when it is text where a number belongs, and the like."""
        sort = sort_of(value)
        if sort not in self.takes:
            raise Unfit(f"this is {sort}, but {self.takes[0]} belongs here")


@dataclass(frozen=True, slots=True)
class Field:
    """One key: its name, what may stand there, what it is for, and what holds when it is not written.

    `default` is written as in the file and read like the player's own value; None: there is none, and
    `otherwise` says what then holds.
    """

    key: str
    kind: Kind
    about: str
    default: Any = None
    needed: bool = False
    otherwise: str = ""
