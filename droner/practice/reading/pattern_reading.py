"""Read pattern files into the library, and report every mistake in them.

Rule    all files are read together, so a row may name a row of any file. A row of a later file takes the place of an
        earlier one of the same name, and keeps that name's first spelling; so does a later table of variants.
        Mistakes come in the order of the files.
Units   lengths in quarter notes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType
from typing import Any

from droner.errors import MistakesFound
from droner.practice.pattern import (
    HELD_NOTE,
    Accent,
    Articulation,
    Changes,
    ClickPattern,
    DroneKind,
    Dynamic,
    Patterns,
    Rhythm,
    Turn,
    Variant,
    VariantSet,
)
from droner.practice.reading.drill_reading import check_drill, drill_of
from droner.practice.reading.drone_reading import check_drone
from droner.practice.reading.library_reading import Library, Row, Values
from droner.practice.reading.pattern_table import FACTORS, NO_VARIANTS, PATTERN_FILE, SORTS
from droner.practice.reading.sheet_reading import Names, Place, Sheet, Shelves, fold
from droner.practice.reading.syntax_reading import read_toml, table
from droner.theory.meter import meter
from droner.units import Beats

DEGREES = 7
OF_HELD_NOTE = ("bars", "triads", "stays")
"""Keys that only chords under a held note have."""


def read_patterns(files: Iterable[tuple[str, str]]) -> Patterns:
    """The library in files of (name, text). MistakesFound with all mistakes of all files."""
    sheets = [Sheet(name, text) for name, text in files]
    found = [(sheet, read_toml(sheet)) for sheet in sheets]
    shelves = _shelves(found)
    library = Library()
    for number, (sheet, data) in enumerate(found):
        sheet.shelves = shelves
        if data is not None:
            _read_file(data, Place(sheet), number, library)
    library.check()
    mistakes = [mistake for sheet in sheets for mistake in sheet.in_order()]
    if mistakes:
        raise MistakesFound(mistakes)
    return _patterns(library)


def _shelves(found: list[tuple[Sheet, Values | None]]) -> Shelves:
    """Every name in the files. A file that is not TOML gives the names that can still be seen in it."""
    names: dict[str, dict[str, str]] = {section: {} for section in SORTS}
    for sheet, data in found:
        for section in SORTS:
            for name in sheet.names_seen(section) if data is None else table(data, section):
                names[section].setdefault(fold(name), name)
    return {section: Names(tuple(known.values()), known) for section, known in names.items()}


def _read_file(data: Values, place: Place, file: int, library: Library) -> None:
    values = PATTERN_FILE.read(data, place)
    for section in SORTS:
        for name, row in values.get(section, {}).items():
            here = place[section][name]
            if section in CHECKS:
                CHECKS[section](row, data[section][name], here)
            first_name = place.shelves[section].known[fold(name)]
            library.rows[section][fold(name)] = Row(first_name, row, here, file)
    if "variant" in values:
        library.variants, library.variants_file = _variants(values["variant"], place["variant"]), file


def _variants(rows: Iterable[Any], place: Place) -> tuple[Variant, ...]:
    first: dict[tuple[str, ...], int] = {}
    numbered: list[Variant] = []
    for number, row in enumerate(rows, 1):
        names = tuple(row.get(factor, "") for factor in FACTORS) if isinstance(row, dict) else row
        if first.setdefault(names, number) != number and all(names):
            place[number - 1].wrong(f"this is the same as variant {first[names]}", allowed="each variant once")
        numbered.append(Variant(number, *names))
    return tuple(numbered)


def _check_rhythm(row: Values, _: Values, place: Place) -> None:
    if "lengths" not in row or "meter" not in row:
        return
    filled, beat = sum(row["lengths"], Beats(0)), meter(row["meter"]).beat
    if filled.ratio(beat).denominator != 1:
        problem = f"these lengths do not fill whole beats: a beat of {row['meter']} is {beat.exact} of a quarter note"
        place["lengths"].wrong(problem, found=str(filled.exact), allowed=f"a multiple of {beat.exact}")


def _check_changes(row: Values, written: Values, place: Place) -> None:
    kind = row.get("kind")
    for mode in ("major", "minor"):
        if kind in ("by degree", "progression") and mode not in written:
            place.wrong(f"the key {mode!r} is missing", allowed=f"the chords in {mode} keys")
        elif kind == "by degree" and len(row.get(mode, range(DEGREES))) != DEGREES:
            problem = "there must be one chord for each degree of the scale"
            place[mode].wrong(problem, found=str(len(row[mode])), allowed=str(DEGREES))
        elif kind not in ("by degree", "progression", None) and mode in written:
            place[mode].wrong(
                f"changes of the kind {kind!r} have no chords of their own", allowed="by degree, progression"
            )

    _check_held_note(row, written, place)


def _check_held_note(row: Values, written: Values, place: Place) -> None:
    """Its triads come by whole bars, and no other chords have its keys."""
    kind = row.get("kind")
    if kind == HELD_NOTE and row.get("every", "bar") != "bar":
        place["every"].wrong("under a held note chords move with the bars", found=row["every"], allowed="bar")
    for key in OF_HELD_NOTE:
        if kind not in (HELD_NOTE, None) and key in written:
            place[key].wrong("only chords under a held note have this", found=str(written[key]), allowed=HELD_NOTE)


def _check_variant_set(_: Values, __: Values, place: Place) -> None:
    if fold(str(place.path[-1])) == NO_VARIANTS:
        place.wrong(f"{NO_VARIANTS!r} means no variants at all", allowed="another name")


CHECKS: Mapping[str, Callable[[Values, Values, Place], None]] = {
    "drill": check_drill,
    "rhythm": _check_rhythm,
    "changes": _check_changes,
    "drone": check_drone,
    "variant_set": _check_variant_set,
}
"""What is checked of a row beyond its keys one by one."""


def _patterns(library: Library) -> Patterns:
    made = {
        section: MappingProxyType({row.name: MAKERS[section](row.name, row.values) for row in library.named(section)})
        for section in SORTS
    }
    return Patterns(
        drills=made["drill"],
        rhythms=made["rhythm"],
        articulations=made["articulation"],
        dynamics=made["dynamic"],
        accents=made["accent"],
        turns=made["turn"],
        clicks=made["click"],
        changes=made["changes"],
        drones=made["drone"],
        variants=library.variants,
        variant_sets=made["variant_set"],
    )


MAKERS: Mapping[str, Callable[[str, Values], Any]] = {
    "drill": drill_of,
    "rhythm": lambda name, row: Rhythm(name, **row),
    "articulation": lambda name, row: Articulation(name, **row),
    "dynamic": lambda name, row: Dynamic(name, **row),
    "accent": lambda name, row: Accent(name, **row),
    "turn": lambda name, row: Turn(name, row["about"], str(row["start"])),
    "click": lambda name, row: ClickPattern(name, **row),
    "changes": lambda name, row: Changes(name, **row),
    "drone": lambda name, row: DroneKind(name, **row),
    "variant_set": lambda name, row: VariantSet(name, **row),
}
"""How a row in which nothing is wrong becomes a record."""
