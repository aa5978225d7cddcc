"""Read a session file into the player's standing order, and report every mistake in it.

Rule    every name is checked against the theory and the patterns, every limit against the table of keys, and what
        does not go together against the rest, in one run. A session comes back only when nothing is wrong.
Units   as the table of keys says.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from droner.errors import MistakesFound
from droner.practice.pattern import Patterns
from droner.practice.reading.block_reading import block_of, check_block
from droner.practice.reading.pattern_table import NO_VARIANTS
from droner.practice.reading.rotation_reading import check_rotation, rotation_of, variants_of
from droner.practice.reading.session_table import BESIDE, INTERLEAVED, LISTS, SESSION, STANDS_EQUAL, STANDS_ON_A
from droner.practice.reading.sheet_reading import Names, Place, Sheet, Shelves
from droner.practice.reading.shown_fields import shown
from droner.practice.reading.syntax_reading import read_toml, table
from droner.practice.reading.table_fields import HOMES, homes
from droner.practice.session import PartOrder, Session, SoundOrder, TuningOrder
from droner.theory.instrument import LEVELS, Instrument, Range, instrument
from droner.theory.just import Just
from droner.theory.key_order import KEY_ORDERS
from droner.theory.pitch import pitch

ANYTHING = Range(pitch("C0"), pitch("C9"))
"""What a page and a MIDI file can show without question: the limits while the instrument is not known."""
ANCHORS = {STANDS_EQUAL: "equal", STANDS_ON_A: "a4"}
OF_JUST = ("minor_third", "second", "seventh", "chords")
PARTS = ("drone", "changes", "click", "guide")


def read_session(text: str, file: str, patterns: Patterns) -> Session:
    """The session in a text. MistakesFound with all its mistakes, in the order of the file."""
    sheet = Sheet(file, text, session_shelves(patterns))
    written = read_toml(sheet)
    if written is None:
        raise MistakesFound(sheet.in_order())
    values = SESSION.read(written, Place(sheet))
    _check(values, written, Place(sheet), patterns)
    if sheet.mistakes:
        raise MistakesFound(sheet.in_order())
    return _session(values, file)


def session_shelves(patterns: Patterns) -> Shelves:
    """Every name that a session may use."""
    return {
        "drill": Names.of(patterns.drills),
        "drone": Names.of(patterns.drones),
        "changes": Names.of(patterns.changes),
        "click": Names.of(patterns.clicks),
        "variant": Names.of(str(variant.number) for variant in patterns.variants),
        "variant_set": Names.of((*patterns.variant_sets, NO_VARIANTS)),
        "order of keys": Names.of(KEY_ORDERS),
        HOMES: homes(SESSION, LISTS),
    }


def _check(values: Mapping[str, Any], written: Mapping[str, Any], place: Place, patterns: Patterns) -> None:
    _check_range(values, written, place["range"])
    _check_tuning(values.get("tuning", {}), table(written, "tuning"), place["tuning"])
    rotation, lowest = values.get("rotation", {}), _compass(values).low.name
    check_rotation(rotation, table(written, "rotation"), place["rotation"], lowest, patterns)
    variants = variants_of(rotation, patterns)
    for number, block in enumerate(values.get("block", ())):
        check_block(block, written["block"][number], place["block"][number], patterns, variants)


def _check_range(values: Mapping[str, Any], written: Mapping[str, Any], place: Place) -> None:
    if "range" not in values:
        return
    low, high = values["range"]
    found = shown(written["range"])
    if low.midi >= high.midi:
        place.wrong("the first note must be the lower one", found=found, allowed="lowest, then highest")
        return
    played: Instrument | None = values.get("instrument")
    limits = played.reach if played else ANYTHING
    problem = f"no {played.name} reaches so far" if played else "no instrument sounds there"
    for number, end in enumerate((low, high)):
        if end not in limits:
            place[number].wrong(problem, found=str(end), allowed=f"{limits.low} to {limits.high}")


def _check_tuning(row: Mapping[str, Any], written: Mapping[str, Any], place: Place) -> None:
    if "temperament" not in row or isinstance(row["temperament"], Just):
        return
    for key in OF_JUST:
        if key in written:
            problem = f"only just tuning has a choice of this, not {row['temperament'].name}"
            place[key].wrong(problem, found=shown(written[key]), allowed='temperament = "just"')


def _compass(values: Mapping[str, Any]) -> Range:
    """The compass of a session, as far as it can be known while there may be mistakes."""
    if "range" in values and values["range"][0].midi < values["range"][1].midi:
        return Range(*values["range"])
    known: Instrument = values.get("instrument", instrument("flute"))
    return known.ranges[values.get("level", LEVELS[-1])]


def _session(values: Mapping[str, Any], file: str) -> Session:
    compass = _compass(values)
    rotation = rotation_of(values["rotation"], compass.low.name)
    blocks = enumerate(values["block"], 1)
    return Session(
        file=file,
        title=values["title"],
        instrument=values["instrument"],
        level=values["level"],
        compass=compass,
        minutes=values["minutes"],
        tuning=_tuning(values["tuning"]),
        rotation=rotation,
        sound=_sound(values["sound"]),
        blocks=tuple(block_of(number, row, rotation.keys) for number, row in blocks),
        air_seconds=values["air_seconds"],
        lead_in_seconds=values["lead_in_seconds"],
        seed=values["seed"],
        concert_keys=values["concert_keys"],
        own_logbook=values["logbook"] == BESIDE,
        interleaved=values["order"] == INTERLEAVED,
        rest_minutes=values["rest_minutes"],
        weak_keys=values["weak_keys"],
        load_growth=values.get("load_growth"),
    )


def _tuning(row: Mapping[str, Any]) -> TuningOrder:
    usual = TuningOrder()
    return TuningOrder(
        float(row["a4"]),
        row["temperament"].name,
        row.get("reference"),
        ANCHORS.get(row.get("tonic_stands", ""), ""),
        row.get("minor_third", usual.minor_third),
        row.get("second", usual.second),
        row.get("seventh", usual.seventh),
        row.get("chords", usual.chords),
    )


def _sound(row: Mapping[str, Any]) -> SoundOrder:
    return SoundOrder(**{part: _part(row[part]) for part in PARTS}, timbre=row["timbre"])


def _part(row: Any) -> PartOrder:
    if isinstance(row, bool):
        return PartOrder(on=row)
    return PartOrder(float(row["level_db"]), float(row["pan"]), row["on"])
