"""Hold the rows of all pattern files while they are read, and report what shows only once all of them are.

Rule    a later file takes the place of an earlier one, row by row, and the table of variants as a whole; a row keeps
        the name under which it came first. Where two rows do not go together, the mistake stands in the file that
        came later: who replaces a row answers for those that use it. A set that a later table of variants leaves
        empty is no mistake until a session asks for it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from droner.practice.pattern import Variant
from droner.practice.reading.pattern_table import SORTS
from droner.practice.reading.sheet_reading import Place, fold
from droner.practice.reading.shown_fields import shown

Values = dict[str, Any]
WRITTEN = "written"


@dataclass(frozen=True, slots=True)
class Row:
    """One row as read. `file` counts the files from 0."""

    name: str
    values: Values
    place: Place
    file: int


@dataclass(slots=True)
class Library:
    """What has been read so far: rows by section and folded name, and the last table of variants."""

    rows: dict[str, dict[str, Row]] = field(default_factory=lambda: {section: {} for section in SORTS})
    variants: tuple[Variant, ...] = ()
    variants_file: int = 0

    def named(self, section: str) -> Iterator[Row]:
        """The rows of a section."""
        return iter(self.rows[section].values())

    def check(self) -> None:
        """Report what does not go together."""
        self._check_written_chords()
        for row in self.named("variant_set"):
            if row.file >= self.variants_file and not any(_in_set(variant, row.values) for variant in self.variants):
                allowed = "rhythms and articulations that meet in a row"
                row.place.wrong("there is no variant in this set", allowed=allowed)

    def _check_written_chords(self) -> None:
        """Chords that a study writes are for studies alone."""
        for changes in self.named("changes"):
            if changes.values.get("kind") != WRITTEN:
                continue
            users = [row for row in self._users(changes) if "study" not in row.values]
            for row in users:
                if row.file >= changes.file:
                    found = shown(row.values["changes"])
                    row.place["changes"].wrong("only a study has written chords", found=found, allowed="other changes")
            self._check_replaced(changes, [row.name for row in users if row.file < changes.file])

    def _users(self, changes: Row) -> Iterator[Row]:
        """The drills that name these changes."""
        return (row for row in self.named("drill") if fold(row.values.get("changes", "")) == fold(changes.name))

    def _check_replaced(self, changes: Row, drills: list[str]) -> None:
        """Changes that took the place of others must serve the drills that were there before them."""
        if drills:
            others = f" and {len(drills) - 1} more" if len(drills) > 1 else ""
            problem = f"only a study has written chords, and these changes are under the drill {drills[0]!r}{others}"
            allowed = "another kind, or another name for this row"
            changes.place["kind"].wrong(problem, found=shown(WRITTEN), allowed=allowed)


def _in_set(variant: Variant, row: Values) -> bool:
    return variant.rhythm in row.get("rhythms", (variant.rhythm,)) and variant.articulation in row.get(
        "articulations", (variant.articulation,)
    )
