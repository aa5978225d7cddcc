"""Read one block of a session: a drill, and how it is played today.

Rule    what does not go together is a mistake: a tempo and a ladder, keys for a drill that has none, a variant for a
        drill that is always played plain, a tempo too slow for a MIDI file, chords or the guide where the drone sounds
        alone. What only the drill or the session brings along is no mistake: it does not sound there.
Units   tempos in beats of the drill's meter a minute; speeds and glides in per cent of the tempo.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from droner.practice.alone import HELD_PITCH, RETURN
from droner.practice.drill import Drill
from droner.practice.partner_table import HOLD
from droner.practice.pattern import DroneKind, Patterns, Variant
from droner.practice.reading.ladder_reading import check_ladder, ladder_order
from droner.practice.reading.session_table import ALL_KEYS, ONE_OF_TODAY, PLAIN, TODAY
from droner.practice.reading.sheet_reading import Place
from droner.practice.reading.shown_fields import shown
from droner.practice.reading.slowest_reading import check_slowest
from droner.practice.reading.syntax_reading import table
from droner.practice.session import Block, PartnerOrder
from droner.theory.key import Key

ONE_KEY: Mapping[Any, bool] = {TODAY: False, ONE_OF_TODAY: True}
"""Whether a block is played in one of the day's keys; not in here: as the drill says."""


def check_block(
    row: Mapping[str, Any],
    written: Mapping[str, Any],
    place: Place,
    patterns: Patterns,
    variants: tuple[Variant, ...],
) -> None:
    """Report what does not go together in a block.

    `written` is the table as it stands in the file, `variants` those of the rotation.
    """
    if "tempo" in written and "ladder" in written:
        place["ladder"].wrong(
            "a block has a tempo or a ladder, not both", found="tempo and ladder", allowed="one of them"
        )
    check_ladder(row.get("ladder", {}), table(written, "ladder"), written, place["ladder"])
    if "drill" not in row:
        return
    drill = patterns.drills[row["drill"]]
    _check_drill(drill, row, written, place)
    _check_accompaniment(drill, row, place, patterns)
    drone = patterns.drones[row.get("drone", drill.drone)]
    if "partner" in row:
        _check_partner(drone, place["partner"])
    _check_alone(drone, row, place, patterns)
    check_slowest(drill, row, written, place, patterns, variants)


def _check_drill(drill: Drill, row: Mapping[str, Any], written: Mapping[str, Any], place: Place) -> None:
    if not drill.keyed and row.get("keys", TODAY) != TODAY:
        problem = f"{drill.name!r} walks the compass and stands in no key"
        place["keys"].wrong(problem, found=shown(written["keys"]), allowed="no keys for this drill")
    if not drill.varies and isinstance(row.get("variant"), int):
        problem = f"{drill.name!r} is always played as it is written"
        place["variant"].wrong(problem, found=shown(written["variant"]), allowed=f'"{PLAIN}", or no variant')


def _check_accompaniment(drill: Drill, row: Mapping[str, Any], place: Place, patterns: Patterns) -> None:
    if "changes" in row and patterns.changes[row["changes"]].kind == "written" and not drill.study:
        problem = f"{drill.name!r} is no study and has no written chords"
        place["changes"].wrong(problem, found=shown(row["changes"]), allowed="other changes")
    if "drone_octave" in row and not patterns.drones[row.get("drone", drill.drone)].degrees:
        place["drone_octave"].wrong("this block has no drone", found=str(row["drone_octave"]), allowed="a drone")


def _check_partner(drone: DroneKind, place: Place) -> None:
    """Report a partner that has nothing to play, or whose straying would spoil the drone's own task."""
    if not drone.degrees:
        place.wrong("this block has no drone to play the partner", found="a partner", allowed="a drone")
    elif drone.returns or drone.pairs or drone.ghost_bars:
        problem = f"the task of {drone.name!r} needs a drone that does not stray by itself"
        place.wrong(problem, found="a partner", allowed="another drone, or no partner")


def _check_alone(drone: DroneKind, row: Mapping[str, Any], place: Place, patterns: Patterns) -> None:
    """Report chords and a guide that would give away what the player is to keep, or to hear, alone."""
    if row.get("partner", {}).get("role") == HOLD:
        cost, way_out = HELD_PITCH, f'a role other than "{HOLD}"'
    elif drone.returns:
        cost, way_out = RETURN, "a drone without returns"
    else:
        return
    if "changes" in row and patterns.changes[row["changes"]].kind != "none":
        problem = f"chords would {cost}"
        place["changes"].wrong(problem, found=shown(row["changes"]), allowed=f"no changes, or {way_out}")
    for key in ("guide", "listen_first"):
        if row.get(key):
            problem = f"the guide would {cost}"
            place[key].wrong(problem, found="true", allowed=f"no guide, or {way_out}")


def block_of(number: int, row: Mapping[str, Any], rotation: tuple[Key, ...]) -> Block:
    """The block of a table in which nothing is wrong. `rotation`: all its keys, for keys = "all"."""
    return Block(
        number=number,
        drill=row["drill"],
        tempo_bpm=row.get("tempo"),
        ladder=ladder_order(row.get("ladder", {})),
        minutes=row.get("minutes"),
        keys=_keys(row.get("keys"), rotation),
        one_key=ONE_KEY.get(row.get("keys")),
        variant={TODAY: None, PLAIN: 0}.get(row["variant"], row["variant"]),
        speeds=row["speeds"],
        glide=row.get("glide"),
        drone=row.get("drone"),
        drone_octave=row.get("drone_octave"),
        changes=row.get("changes"),
        click=row.get("click"),
        meter=row.get("meter"),
        count_in_bars=row["count_in"],
        guide=row.get("guide"),
        listen_first=row["listen_first"],
        partner=PartnerOrder(**row["partner"]) if "partner" in row else None,
    )


def _keys(keys: Any, rotation: tuple[Key, ...]) -> tuple[Key, ...] | None:
    """The keys of a block; None for those of the day."""
    if keys == ALL_KEYS:
        return rotation
    if isinstance(keys, Key):
        return (keys,)
    return keys if isinstance(keys, tuple) else None
