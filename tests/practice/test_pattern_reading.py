"""What a row of a pattern file means; the expected records are written by hand beside the rows."""

from __future__ import annotations

import dataclasses
from fractions import Fraction
from pathlib import Path as FilePath

import pytest

from droner.practice.drill import Material, Order, Path, Staple, Strain, StudyBar, StudyNote
from droner.practice.pattern import (
    Accent,
    Articulation,
    Changes,
    ClickPattern,
    DroneKind,
    Dynamic,
    Mark,
    Rhythm,
    Turn,
    Variant,
    VariantSet,
)
from droner.practice.reading.files import load_patterns, patterns_folder
from droner.practice.reading.pattern_reading import read_patterns
from droner.practice.reading.pattern_table import (
    ACCENT,
    ARTICULATION,
    CHANGES,
    CLICK,
    DRILL,
    DRONE,
    RHYTHM,
    VARIANT_SET,
)
from droner.units import Beats
from tests.practice.small_library import FILES, library

QUARTER, HALF, WHOLE = Beats("1/4"), Beats("1/2"), Beats(1)


def strain(text: str) -> Strain:
    row = f'[drill."x"]\nabout = "x"\nstaple = "tone"\n{text}'
    return read_patterns([*FILES, ("own.toml", row)]).drills["x"].strains[0]


def test_rows_become_records() -> None:
    rows = library()
    assert rows.rhythms["dotted"] == Rhythm("dotted", "Long and short.", (Beats("3/4"), QUARTER), "4/4")
    assert rows.articulations["slurred"] == Articulation("slurred", "One attack.", (Mark("tongue"),), (Mark("slur"),))
    assert rows.articulations["detached"].cycle == (Mark("tongue", short=True),)
    assert rows.dynamics["medium"] == Dynamic("medium", "Level.", "mf", "mf")
    assert rows.accents["none"] == Accent("none", "No accent.", "none")
    assert rows.turns["from below"] == Turn("from below", "From the low tonic.", "low tonic")
    assert rows.turns["from five"] == Turn("from five", "From the fifth.", "5")
    assert rows.clicks["after"] == ClickPattern("after", "Between the beats.", offset=Fraction(1, 2))
    assert rows.drones["none"] == DroneKind("none", "No drone.", ())
    assert rows.variant_sets["two"] == VariantSet("two", "Slurred only.", (), ("slurred",))
    assert rows.changes["cadence"] == Changes(
        "cadence", "One four five.", "progression", "bar", ("I", "IV", "V7"), ("i", "iv", "V7")
    )


def test_a_variant_is_a_row_of_six_names_and_counts_from_one() -> None:
    assert library().variants[1] == Variant(2, "dotted", "slurred", "medium", "none", "after", "from five")
    assert [variant.number for variant in library().variants_of("two")] == [1, 2]


def test_a_variant_may_be_a_table() -> None:
    table = (
        '[[variant]]\nrhythm = "even"\narticulation = "slurred"\ndynamic = "medium"\n'
        'accent = "none"\nclick = "after"\nturn = "from below"\n'
    )
    read = read_patterns([*FILES, ("own.toml", table)])
    assert read.variants == (Variant(1, "even", "slurred", "medium", "none", "after", "from below"),)


def test_a_drill_takes_its_strain_from_its_own_keys() -> None:
    drill = library().drills["slow tones"]
    cells, lengths = ((1, 2),), ((Beats(4), Beats(3)),)
    assert drill.strains == (Strain(Material.CHROMATIC, "", cells, Path.FROM_THE_MIDDLE, lengths=lengths),)
    assert (drill.staple, drill.keyed, drill.varies) == (Staple.TONE, False, False)
    assert (drill.drone, drill.changes, drill.click) == ("tonic", "none", "every beat")


def test_a_drill_may_have_several_strains() -> None:
    first, second = library().drills["seventh, then home"].strains
    assert (first.of, first.path) == ("V7", Path.TURNING)
    assert (second.of, second.path) == ("I i", Path.OCTAVE)


def test_a_study_is_written_bar_by_bar() -> None:
    drill = library().drills["little study"]
    assert drill.strains == ()
    assert drill.study[0] == StudyBar(("I",), (StudyNote(1, 0, WHOLE), StudyNote(3, 0, WHOLE), StudyNote(5, 0, WHOLE)))
    notes = (StudyNote(7, 0, WHOLE), StudyNote(4, 1, HALF), StudyNote(-2, 0, HALF), StudyNote(0, 0, WHOLE))
    assert drill.study[1] == StudyBar(("V7", "I"), notes, breath=True)
    assert drill.study_minor[1].notes[0] == StudyNote(7, 1, WHOLE)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ('material = "scale"', Strain(Material.SCALE, "", ((1,),), Path.TURNING)),
        ('material = "SCALE"\nof = "Whole  Tone"', Strain(Material.SCALE, "whole tone", ((1,),), Path.TURNING)),
        (
            'material = "scale"\ncells = ["1 3 5", "-3 1 3"]\norder = "alternating"\nstride = 2',
            Strain(Material.SCALE, "", ((1, 3, 5), (-3, 1, 3)), Path.TURNING, Order.ALTERNATING, 2),
        ),
        (
            'material = "note"\nlengths = ["7"]',
            Strain(Material.NOTE, "", ((1,),), Path.STAY, lengths=((Beats(7),),)),
        ),
        (
            'material = "note"\ncells = "every triad"\nlengths = ["1 1 1/2"]',
            Strain(Material.NOTE, "", (), Path.STAY, lengths=((WHOLE, WHOLE, HALF),), every_triad=True),
        ),
        (
            'material = "partials"\nof = "2  3 4"\nlengths = ["1 1 1/2"]',
            Strain(Material.PARTIALS, "2 3 4", (), Path.UPWARDS, lengths=((WHOLE, WHOLE, HALF),)),
        ),
    ],
)
def test_a_strain_as_written(text: str, expected: Strain) -> None:
    assert strain(text) == expected


def test_a_later_file_replaces_a_row_of_the_same_name() -> None:
    own = '[click]\n"Every  Beat" = { about = "Mine.", divide = 2 }\n'
    clicks = read_patterns([*FILES, ("own.toml", own)]).clicks
    assert clicks["every beat"] == ClickPattern("every beat", "Mine.", divide=2)
    assert "Every  Beat" not in clicks
    assert len(clicks) == 2


def test_a_replaced_row_keeps_the_name_that_drills_and_variants_know() -> None:
    own = '[click]\n"Every Beat" = { about = "Mine." }\n[rhythm]\nEVEN = { about = "Mine.", lengths = "1" }\n'
    read = read_patterns([*FILES, ("own.toml", own)])
    assert read.clicks[read.drills["long scale"].click].about == "Mine."
    assert read.rhythms[read.variants[0].rhythm].about == "Mine."


def test_a_later_table_of_variants_replaces_the_earlier() -> None:
    own = 'variant = [["even", "slurred", "medium", "none", "after", "from below"]]'
    assert len(read_patterns([*FILES, ("own.toml", own)]).variants) == 1


def test_a_set_that_a_later_table_leaves_empty_is_no_mistake_of_the_patterns() -> None:
    own = 'variant = [["even", "detached", "medium", "none", "after", "from below"]]'
    read = read_patterns([*FILES, ("own.toml", own)])
    assert read.variants_of("two") == ()
    assert len(read.variants_of("sixty")) == 1


def test_a_file_may_name_rows_of_a_later_file() -> None:
    assert read_patterns(FILES[::-1]).drills["little study"].changes == "written"


def test_nothing_can_be_changed_afterwards() -> None:
    with pytest.raises(TypeError):
        library().clicks["x"] = library().clicks["after"]  # type: ignore[index] # that it fails is the test


@pytest.mark.parametrize(
    ("record", "fields"),
    [
        (Rhythm, RHYTHM),
        (Articulation, ARTICULATION),
        (Accent, ACCENT),
        (ClickPattern, CLICK),
        (Changes, CHANGES),
        (DroneKind, DRONE),
        (VariantSet, VARIANT_SET),
    ],
)
def test_the_table_of_keys_has_the_fields_of_the_record(record: type, fields: tuple[object, ...]) -> None:
    keys = {field.key for field in fields}  # type: ignore[attr-defined] # rows of the table of keys
    assert {field.name for field in dataclasses.fields(record)} - {"name"} == keys


def test_a_drill_with_nothing_but_its_notes_has_the_records_own_defaults() -> None:
    bare = read_patterns([*FILES, ("own.toml", '[drill.x]\nabout = "x"\nstaple = "tone"\nmaterial = "scale"')])
    read = bare.drills["x"]
    usual = {field.name: field.default for field in dataclasses.fields(read)}
    optional = [field.key for field in DRILL if field.key in usual and not field.needed]
    assert {key: getattr(read, key) for key in optional} == {key: usual[key] for key in optional}


def test_droners_own_patterns_hold_no_mistake() -> None:
    patterns = load_patterns()
    assert {drill.staple for drill in patterns.drills.values()} == set(Staple)
    assert "every beat" in patterns.clicks


def test_the_players_own_folder_comes_last(tmp_path: FilePath) -> None:
    (tmp_path / "b.toml").write_text('[click]\n"mine" = { about = "B.", divide = 3 }\n', "utf-8")
    (tmp_path / "a.toml").write_text('[click]\n"mine" = { about = "A.", divide = 2 }\n', "utf-8")
    assert load_patterns(tmp_path).clicks["mine"].divide == 3


def test_a_missing_own_folder_is_no_mistake(tmp_path: FilePath) -> None:
    assert load_patterns(tmp_path / "patterns").drills.keys() == load_patterns().drills.keys()


def test_droners_own_folder_is_not_read_twice() -> None:
    assert load_patterns(patterns_folder()) == load_patterns()


def test_rows_keep_the_order_of_the_file() -> None:
    assert list(library().rhythms) == ["even", "dotted"]
