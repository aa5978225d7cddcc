"""List the keys of pattern files, one a line, by the sort of row they belong to.

Rule    key, what may stand there, what it is for, default. Every row has an `about` in plain words. Names of
        rhythms, clicks and the like must exist in one of the files that are read together.
Units   lengths and offsets in quarter notes or parts of a beat, tempos in beats a minute.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType

from droner.practice.drill import Material, Order, Path, Staple
from droner.practice.pattern import HELD_NOTE
from droner.practice.reading.cell_fields import (
    CELL,
    EVERY_TRIAD,
    LENGTHS,
    MAJOR_NUMERAL,
    MARK,
    MINOR_NUMERAL,
    SHARE,
    meter_text,
)
from droner.practice.reading.fields import Field
from droner.practice.reading.list_fields import Either, InTurn, ListOf
from droner.practice.reading.name_fields import Known, Name, Spelled
from droner.practice.reading.plain_fields import Choice, Number, Text, Whole, YesNo
from droner.practice.reading.study_fields import STUDY_BAR, STUDY_BAR_IN_MINOR
from droner.practice.reading.table_fields import Rows, Table, Tables
from droner.theory.dynamics_table import VELOCITIES
from droner.theory.scale import SCALES, Scale, scale

MOST_OF_IT = Fraction(99, 100)
SLOWEST_BPM, FASTEST_BPM = 20, 300
NO_VARIANTS = "none"
"""What a session writes for no variants at all, so no set may be called so."""
FACTORS = ("rhythm", "articulation", "dynamic", "accent", "click", "turn")
"""The six names of a variant, in the order of its row."""

METER = Spelled(
    "a meter", meter_text, r"^\s*[0-9]+(\s*\+\s*[0-9]+)*\s*/\s*(1|2|4|8|16|32)\s*$", '"4/4", "6/8", "2+2+3/8"'
)
ABOUT = Field("about", Text(), "what it is, in plain words", needed=True)
MINOR_FORMS = tuple(name for name, one in SCALES.items() if one.is_minor and len(one.rising) == 7)
CENTS_OFF = Whole(-50, 50)
"""Beyond a quarter-tone it is another note."""
CELLS = Either((ListOf(CELL, 1, 12), Choice((EVERY_TRIAD,))))
KINDS_OF_CHANGES = ("none", "as played", "by degree", "progression", "written", HELD_NOTE)


def _minor_form(name: str) -> Scale:
    """The form of minor of that name. ValueError for another scale."""
    found = scale(name)
    if found.name not in MINOR_FORMS:
        raise ValueError(f"{name!r} is not a form of minor")
    return found


MINOR_FORM = Known("form of minor", _minor_form, MINOR_FORMS)

STRAIN = (
    Field("material", Choice(tuple(each.value for each in Material)), "what the notes are taken from"),
    Field("of", Text(), "which one: a scale's name, a chord's numeral, partial numbers"),
    Field("cells", CELLS, "what is played on each note, in scale steps"),
    Field("path", Choice(tuple(each.value for each in Path)), "the way it travels over the compass"),
    Field("order", Choice(tuple(each.value for each in Order)), "order of a cell's notes on the way up"),
    Field("stride", Whole(1, 12), "notes from one cell to the next"),
    Field("lengths", ListOf(LENGTHS, 1, 12), "its own rhythm, one text a cell, in quarter notes"),
)  # fmt: skip

DRILL = (
    ABOUT,
    Field("staple", Choice(tuple(each.value for each in Staple)), "the part of a day it serves", needed=True),
    *STRAIN,
    Field("strain", Tables(Table(STRAIN), 1, 12, name="strain"), "several stretches, played one after another"),
    Field("study", ListOf(STUDY_BAR, 1, 256), "a written line, one text a bar, in major"),
    Field("study_minor", ListOf(STUDY_BAR_IN_MINOR, 1, 256), "the same study as it goes in minor"),
    Field("meter", METER, "its meter", default="4/4"),
    Field("tempo", Number(SLOWEST_BPM, FASTEST_BPM), "its usual tempo in beats a minute", default=60),
    Field("breath_cells", Whole(0, 64), "breathe after so many cells; 0: where the air needs it", default=0),
    Field("count", Whole(1, 64), "how often it is played", default=1),
    Field("keyed", YesNo(), "it stands in a key of the day", default=True),
    Field("one_key", YesNo(), "played in one of the day's keys, another one each lap", default=False),
    Field("varies", YesNo(), "the day's variant is laid over it", default=True),
    Field("divisible", YesNo(), "a short day may take a part of it", default=False),
    Field("minor_form", MINOR_FORM, "its scale in minor keys", default="melodic minor"),
    Field("shape", Choice(("swell",)), "loudness inside each note"),
    Field("pulses", ListOf(Whole(1, 12), 1, 12), "vibrato pulses a beat, for each cell in turn"),
    Field("articulation", Name("articulation"), "its own, when it does not take the variant's"),
    Field("drone", Name("drone"), "the drone that suits it", default="tonic"),
    Field("changes", Name("changes"), "the chords that suit it", default="none"),
    Field("click", Name("click"), "the click that suits it", default="every beat"),
    Field("caution", Text(400), "what to beware of, shown with the plan"),
)

RHYTHM = (
    ABOUT,
    Field("lengths", LENGTHS, "lengths that fill whole beats", needed=True),
    Field("meter", METER, "the meter it stands in", default="4/4"),
)

ARTICULATION = (
    ABOUT,
    Field("first", ListOf(MARK, 0, 16), "how the first notes of a phrase are spoken", default=[]),
    Field("cycle", ListOf(MARK, 1, 16), "how the others are spoken, round and round", needed=True),
    Field("per_cell", YesNo(), "the round starts anew on each rhythm cell", default=False),
)

DYNAMIC = (
    ABOUT,
    Field("low", Choice(tuple(VELOCITIES)), "loudness of the lowest note", needed=True),
    Field("high", Choice(tuple(VELOCITIES)), "loudness of the highest note", needed=True),
)

ACCENT = (
    ABOUT,
    Field("at", Choice(("none", "first", "second", "last", "cross")), "which notes of a cell are marked", needed=True),
    Field("air", YesNo(), "marked by the breath, without the tongue", default=False),
)

_DEGREE_TEXTS = tuple(str(degree) for degree in range(2, 8))
TURN = (
    ABOUT,
    Field("start", Either((Choice(("low tonic", "top", *_DEGREE_TEXTS)), Whole(2, 7))), "where it starts", needed=True),
)

CLICK = (
    ABOUT,
    Field("beats", ListOf(Whole(1, 16), 1, 16, once=True), "the felt beats of a bar that are heard", otherwise="all"),
    Field("offset", Either((SHARE, Number(0, MOST_OF_IT))), "so late in a beat", default=0),
    Field("divide", Whole(0, 12), "clicks a beat; 0: as the meter divides", default=1),
    Field("on_rhythm", YesNo(), "also a quiet click on every note", default=False),
    Field("bars_on", Whole(1, 64), "so many bars heard", default=1),
    Field("bars_off", Whole(0, 64), "then so many silent", default=0),
    Field("drop", Either((SHARE, Number(0, MOST_OF_IT))), "the part of the clicks left out by chance", default=0),
    Field("fade_bars", Whole(0, 64), "fades to nothing over so many bars", default=0),
    Field("only", Choice(("breaths",)), "heard only there"),
    Field("silent", YesNo(), "only the count-in is heard", default=False),
)

CHANGES = (
    ABOUT,
    Field("kind", Choice(KINDS_OF_CHANGES), "how chords are found", needed=True),
    Field("every", Choice(("bar", "half bar", "beat", "cell")), "how often they move", default="bar"),
    Field("major", ListOf(MAJOR_NUMERAL, 1, 64), "the chords in major keys"),
    Field("minor", ListOf(MINOR_NUMERAL, 1, 64), "the chords in minor keys"),
    Field("bars", Whole(1, 64), "so many bars each, under a held note", default=1),
    Field("triads", Choice(("key", "all")), "the triads that hold it: three of the key, or all ten", default="key"),
    Field("stays", Choice(("note", "chord")), "what stays where the tuning puts it, under a held note", default="note"),
)  # fmt: skip

DRONE = (
    ABOUT,
    Field("degrees", ListOf(Whole(1, 15), 0, 6, once=True), "degrees above its root that are held", needed=True),
    Field("moves", Choice(("never", "cell", "note")), "what it follows", default="never"),
    Field("bars_on", Whole(1, 64), "so many bars sounding", default=1),
    Field("bars_off", Whole(0, 64), "then so many silent", default=0),
    Field("returns", ListOf(CENTS_OFF, 1, 16, once=True), "by one of these cents it comes back off, every second time"),
    Field("only", Choice(("before you play",)), "heard only then"),
    Field("pairs", ListOf(Whole(2, 15), 1, 12), "degrees of a second high tone over the first, in turn"),
    Field("pair_bars", Whole(1, 64), "so many bars each pair", default=4),
    Field("ghost_bars", Whole(0, 64), "the difference tone fades away over so many bars; 0: none", default=0),
    Field("softer_over", Whole(0, 1000), "so many sessions in which it gets softer; 0: none", default=0),
    Field("softer_db", Number(0, 60), "by so many decibels in the end", default=0),
)

VARIANT_SET = (
    ABOUT,
    Field("rhythms", ListOf(Name("rhythm"), 1, 64, once=True), "variants with these rhythms", otherwise="all"),
    Field("articulations", ListOf(Name("articulation"), 1, 64, once=True), "and these articulations", otherwise="all"),
)

VARIANT = tuple(Field(factor, Name(factor), f"its {factor}", needed=True) for factor in FACTORS)
VARIANT_ROW = InTurn(tuple(Name(factor) for factor in FACTORS))
"""The usual way to write a variant: its six names in one row."""

SORTS: Mapping[str, tuple[Field, ...]] = MappingProxyType(
    {
        "drill": DRILL,
        "rhythm": RHYTHM,
        "articulation": ARTICULATION,
        "dynamic": DYNAMIC,
        "accent": ACCENT,
        "turn": TURN,
        "click": CLICK,
        "changes": CHANGES,
        "drone": DRONE,
        "variant_set": VARIANT_SET,
    }
)
"""The keys of every sort of row that has a name."""

_SORTS = tuple(Field(sort, Rows(Table(fields)), f"rows of the sort {sort}") for sort, fields in SORTS.items())
_VARIANTS = ListOf(Either((VARIANT_ROW, Table(VARIANT))), 1, 1000)
PATTERN_FILE = Table((*_SORTS, Field("variant", _VARIANTS, "the table of variants, a row of six names each")))
