"""Read a list, or a value that may be written in more than one way.

Rule    every member of a list is read at its own place, so that each mistake in it is reported. Of several ways
        of writing a value, the one that takes this sort of TOML value is read; text may fit more than one.
Units   none.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, ClassVar

from droner.practice.reading.fields import UNREAD, Kind, Simple, Unfit
from droner.practice.reading.sheet_reading import Place, Shelves
from droner.practice.reading.shown_fields import shown, sort_of


@dataclass(frozen=True, slots=True)
class ListOf(Kind):
    """A list of values of one kind; `once` forbids the same value twice."""

    each: Kind
    fewest: int = 0
    most: int = 1000
    once: bool = False
    takes: ClassVar[tuple[str, ...]] = ("a list",)

    def read(self, value: Any, place: Place, /) -> Any:
        if not isinstance(value, list):
            place.wrong(
                f"this is {sort_of(value)}, but a list belongs here",
                found=shown(value),
                allowed=self.allowed(place.shelves),
            )
            return UNREAD
        if not self.fewest <= len(value) <= self.most:
            problem = f"this list has {len(value)} member{'s' * (len(value) != 1)}"
            place.wrong(problem, found=shown(value), allowed=self.allowed(place.shelves))
            return UNREAD
        members = [self.each.read(member, place[number]) for number, member in enumerate(value)]
        if self.once and self._twice(value, members, place):
            return UNREAD
        return UNREAD if UNREAD in members else tuple(members)

    def _twice(self, value: list[Any], members: list[Any], place: Place) -> bool:
        first: dict[Any, int] = {}
        again = False
        for number, member in enumerate(members):
            if member is not UNREAD and first.setdefault(member, number) != number:
                again = True
                problem = f"this is already number {first[member] + 1} of the list"
                place[number].wrong(problem, found=shown(value[number]), allowed="each once")
        return again

    @property
    def inside(self) -> tuple[Kind, ...]:
        return (self.each,)

    def allowed(self, shelves: Shelves, /) -> str:
        return f"a list of {count_words(self.fewest, self.most)}, each {self.each.allowed(shelves)}"

    def schema(self, shelves: Shelves, /) -> dict[str, Any]:
        rule = {"type": "array", "items": self.each.schema(shelves), "minItems": self.fewest, "maxItems": self.most}
        return rule | {"uniqueItems": True} if self.once else rule


def count_words(fewest: int, most: int) -> str:
    """How many: "2", "1 to 12"."""
    return str(fewest) if fewest == most else f"{fewest} to {most}"


@dataclass(frozen=True, slots=True)
class InTurn(Kind):
    """A row: a list with one member of each kind, in this order."""

    each: tuple[Kind, ...]
    takes: ClassVar[tuple[str, ...]] = ("a list",)

    def read(self, value: Any, place: Place, /) -> Any:
        if not isinstance(value, list) or len(value) != len(self.each):
            problem = f"this is {sort_of(value)} of {len(value)}" if isinstance(value, list) else sort_of(value)
            place.wrong(problem, found=shown(value), allowed=self.allowed(place.shelves))
            return UNREAD
        pairs = enumerate(zip(self.each, value, strict=True))
        members = [kind.read(member, place[number]) for number, (kind, member) in pairs]
        return UNREAD if UNREAD in members else tuple(members)

    @property
    def inside(self) -> tuple[Kind, ...]:
        return self.each

    def allowed(self, _: Shelves, /) -> str:
        return f"a row of {len(self.each)}"

    def schema(self, shelves: Shelves, /) -> dict[str, Any]:
        kinds = [kind.schema(shelves) for kind in self.each]
        return {"type": "array", "prefixItems": kinds, "items": False, "minItems": len(kinds)}


@dataclass(frozen=True, slots=True)
class Either(Kind):
    """A value that may be written in one of several ways."""

    kinds: tuple[Kind, ...]

    def read(self, value: Any, place: Place, /) -> Any:
        fitting = [kind for kind in self.kinds if sort_of(value) in kind.takes]
        if len(fitting) == 1:
            return fitting[0].read(value, place)
        reason = "this is not among what may stand here"
        for kind in fitting:
            if isinstance(kind, Simple):
                try:
                    return kind.take(value, place.shelves)
                except Unfit as unfit:
                    reason = str(unfit)
        if not fitting:
            reason = f"{sort_of(value)} does not belong here"
        place.wrong(
            reason, found=shown(value), allowed=self.allowed(place.shelves), nearest=self._nearest(value, place)
        )
        return UNREAD

    def _nearest(self, value: Any, place: Place) -> str:
        offers = (kind.nearest(value, place.shelves) for kind in self.kinds if isinstance(kind, Simple))
        return next(filter(None, offers), "")

    @property
    def inside(self) -> tuple[Kind, ...]:
        return self.kinds

    def allowed(self, shelves: Shelves, /) -> str:
        return "; or ".join(kind.allowed(shelves) for kind in self.kinds)

    def schema(self, shelves: Shelves, /) -> dict[str, Any]:
        return {"anyOf": [kind.schema(shelves) for kind in self.kinds]}
