"""Check what a drill's keys say together, and make the drill.

Rule    a drill is one strain written among its own keys, or several in [[strain]] tables, or a written study. What
        the layout would have to leave out is refused here, so that nothing is silently dropped.
Units   lengths in quarter notes.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from droner.practice.drill import Drill, Material, Order, Path, Staple, Strain
from droner.practice.reading.cell_fields import EVERY_TRIAD, chord_of_a_drill, partials
from droner.practice.reading.sheet_reading import Place
from droner.practice.reading.shown_fields import shown
from droner.theory.meter import meter
from droner.theory.scale import SCALES, scale
from droner.units import Beats

ITSELF = (1,)
NOTES_OF_A_TRIAD = 3
OF = {
    Material.SCALE: "the name of a scale",
    Material.CHORD: 'one numeral, or one for major and one for minor: "V7", "I i"',
    Material.PARTIALS: 'partial numbers going up: "2 3 4 5 6"',
}
"""What `of` says for each material that takes it."""
NEEDS_OF = (Material.CHORD, Material.PARTIALS)
PATHS: Mapping[Material, tuple[Path, ...]] = {
    Material.SCALE: tuple(path for path in Path if path is not Path.STAY),
    Material.CHROMATIC: tuple(path for path in Path if path is not Path.STAY),
    Material.CHORD: tuple(path for path in Path if path is not Path.STAY),
    Material.NOTE: (Path.STAY,),
    Material.PARTIALS: (Path.UPWARDS,),
}
"""The paths that each material can travel, the usual one first."""
LEFT_OUT: tuple[tuple[Path, str], ...] = (
    (Path.HALF_STEPS, "order"),
    (Path.HALF_STEPS, "stride"),
    (Path.HALF_STEPS, "lengths"),
    (Path.OCTAVE, "stride"),
    (Path.TWO_OCTAVES, "stride"),
)
"""Keys that a path has no use for."""


def check_drill(row: Mapping[str, Any], written: Mapping[str, Any], place: Place) -> None:
    """Report what does not go together in a drill. `written` is the row as it stands in the file."""
    sources = [key for key in ("material", "strain", "study") if key in written]
    if not sources:
        place.wrong("a drill needs its notes", allowed="material, or [[strain]] tables, or study")
    for extra in sources[1:]:
        place[extra].wrong(f"this drill already has its notes from {sources[0]}", found=extra, allowed=sources[0])
    if "material" in written:
        check_strain(row, written, place)
    for number, strain in enumerate(row.get("strain", ())):
        check_strain(strain, written["strain"][number], place["strain"][number])
    if "study_minor" in written and "study" not in written:
        place["study_minor"].wrong("there is no study in major that this goes with", allowed="study")
    _check_bars(row, place)
    _check_together(row, written, place)


def _check_together(row: Mapping[str, Any], written: Mapping[str, Any], place: Place) -> None:
    if row.get("one_key") and row.get("keyed") is False:
        place["one_key"].wrong("a drill without a key cannot be in one key", found="true", allowed="keyed = true")
    if "pulses" in written and row.get("material", Material.NOTE.value) != Material.NOTE.value:
        place["pulses"].wrong("pulses go with a held note", found=shown(written["pulses"]), allowed='material = "note"')


def _check_bars(row: Mapping[str, Any], place: Place) -> None:
    bar = meter(row["meter"]).bar if "meter" in row else None
    for key in ("study", "study_minor"):
        for number, written in enumerate(row.get(key, ())):
            filled = sum((note.length for note in written.notes), Beats(0))
            if bar and filled != bar:
                problem = f"bar {number + 1} is not filled: {row['meter']} has {bar.exact} quarter notes"
                place[key][number].wrong(problem, found=str(filled.exact), allowed=str(bar.exact))


def check_strain(row: Mapping[str, Any], written: Mapping[str, Any], place: Place) -> None:
    """Report what does not go together in one strain."""
    if "material" not in written:
        allowed = ", ".join(each.value for each in Material)
        place.wrong("the key 'material' is missing", allowed=allowed)
    if "material" not in row:
        return
    material = Material(row["material"])
    _check_of(material, row, written, place)
    _check_path(material, row, written, place)
    _check_cells(material, row, written, place)
    _check_lengths(material, row, place)


def _check_of(material: Material, row: Mapping[str, Any], written: Mapping[str, Any], place: Place) -> None:
    if material in NEEDS_OF and "of" not in written:
        place.wrong(f"{material.value} needs the key 'of'", allowed=OF[material])
    if "of" not in row:
        return
    try:
        of(material, row["of"])
    except ValueError as reason:
        allowed = "; ".join(SCALES) if material is Material.SCALE else OF.get(material, "nothing")
        place["of"].wrong(str(reason), found=shown(row["of"]), allowed=allowed)


def of(material: Material, text: str) -> str:
    """Read `of` for a material. ValueError, in plain words, when it does not go with it."""
    if material is Material.SCALE:
        try:
            return scale(text).name
        except ValueError:
            raise ValueError("there is no scale of this name") from None
    if material is Material.CHORD:
        return chord_of_a_drill(text)
    if material is Material.PARTIALS:
        return partials(text)
    raise ValueError(f"{material.value} takes no 'of'")


def _check_path(material: Material, row: Mapping[str, Any], written: Mapping[str, Any], place: Place) -> None:
    paths = PATHS[material]
    path = Path(row["path"]) if "path" in row else paths[0]
    if path not in paths:
        allowed = ", ".join(each.value for each in paths)
        place["path"].wrong(f"{material.value} cannot travel so", found=shown(path.value), allowed=allowed)
        return
    for which, key in LEFT_OUT:
        if path is which and key in written:
            problem = f"the path {path.value!r} has no {key} of its own"
            place[key].wrong(problem, found=shown(written[key]), allowed=f"no {key}, or another path")


def _check_cells(material: Material, row: Mapping[str, Any], written: Mapping[str, Any], place: Place) -> None:
    cells = row.get("cells", ())
    if cells == EVERY_TRIAD:
        if material is not Material.NOTE:
            place["cells"].wrong("every triad stands on a held note", found=material.value, allowed='material = "note"')
    elif material is Material.PARTIALS and "cells" in written:
        place["cells"].wrong("partials are their own cell", found=shown(written["cells"]), allowed="no cells")
    elif material is Material.NOTE and any(set(cell) != {1} for cell in cells):
        place["cells"].wrong("a held note has only itself", found=shown(written["cells"]), allowed='cells of "1"')
    elif row.get("path") == Path.HALF_STEPS.value and len(cells) > 1:
        place["cells"].wrong("on half-steps one cell is played", found=f"{len(cells)} cells", allowed="one")


def _check_lengths(material: Material, row: Mapping[str, Any], place: Place) -> None:
    lengths = row.get("lengths", ())
    counts = _notes_per_cell(material, row)
    if not lengths or not counts:
        return
    if len(lengths) != len(counts):
        problem = "there must be one text of lengths for each cell"
        place["lengths"].wrong(problem, found=f"{len(lengths)} for {len(counts)}", allowed=str(len(counts)))
        return
    for number, (count, each) in enumerate(zip(counts, lengths, strict=True)):
        if len(each) != count:
            problem = f"cell {number + 1} has {count} notes"
            place["lengths"][number].wrong(problem, found=f"{len(each)} lengths", allowed=f"{count} lengths")


def _notes_per_cell(material: Material, row: Mapping[str, Any]) -> list[int]:
    if material is Material.PARTIALS:
        return [len(row["of"].split())] if "of" in row else []
    if row.get("cells") == EVERY_TRIAD:
        return [NOTES_OF_A_TRIAD]
    return [len(cell) for cell in row.get("cells", (ITSELF,))]


def drill_of(name: str, row: Mapping[str, Any]) -> Drill:
    """The drill of a row in which nothing is wrong."""
    own = {key: value for key, value in row.items() if key not in _STRAIN_KEYS}
    strains = row.get("strain", (row,) if "material" in row else ())
    own["staple"] = Staple(row["staple"])
    own["minor_form"] = row["minor_form"].name
    return Drill(name=name, strains=tuple(map(strain_of, strains)), **own)


_STRAIN_KEYS = frozenset({"material", "of", "cells", "path", "order", "stride", "lengths", "strain"})


def strain_of(row: Mapping[str, Any]) -> Strain:
    """The strain of a row in which nothing is wrong. Partials and every triad have no cells of their own."""
    material = Material(row["material"])
    every_triad = row.get("cells") == EVERY_TRIAD
    cells = () if every_triad or material is Material.PARTIALS else row.get("cells", (ITSELF,))
    return Strain(
        material,
        of(material, row["of"]) if "of" in row else "",
        cells,
        Path(row["path"]) if "path" in row else PATHS[material][0],
        Order(row.get("order", Order.WRITTEN.value)),
        row.get("stride", 1),
        row.get("lengths", ()),
        every_triad,
    )
