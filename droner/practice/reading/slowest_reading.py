"""Refuse a block that can come to a tempo too slow for a MIDI file.

Rule    every rhythm that the block can meet is asked for its meter and its density: those of the rotation's
        variants, the variant's that the block names, the plain one, or none where the drill has lengths of its
        own. The mistake stands at the key without which the block would be fastest; at the drill where no key of
        the block slows it.
Units   tempos in beats of the meter a minute; speeds and glides in per cent of the tempo.
Source  slowest tempo: SMF 1.0, set-tempo meta event, 24 bits of microseconds per quarter note.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Any

from droner.practice.chosen_meter import chosen_meter
from droner.practice.density import slowed_bpm
from droner.practice.drill import Drill
from droner.practice.items import PLAIN
from droner.practice.ladder.rung import rungs
from droner.practice.pattern import Patterns, Rhythm, Variant
from droner.practice.reading.ladder_reading import ladder_order
from droner.practice.reading.session_table import PLAIN as ALWAYS_PLAIN
from droner.practice.reading.sheet_reading import Place
from droner.theory.meter import Meter
from droner.theory.tempo import us_per_quarter

SLOWING = ("speeds", "glide", "meter", "ladder", "tempo")
"""Keys of a block that can make it slow."""
WHOLE = Fraction(100)

Rhythms = tuple[Rhythm | None, ...]


def check_slowest(
    drill: Drill,
    row: Mapping[str, Any],
    written: Mapping[str, Any],
    place: Place,
    patterns: Patterns,
    variants: Iterable[Variant],
) -> None:
    """Report a tempo that no MIDI file can hold. `variants`: those of the rotation."""
    rhythms = _rhythms(drill, row.get("variant"), patterns, variants)
    bpm, felt = _slowest(drill, row, rhythms)
    if _is_held(bpm, felt):
        return
    allowed = "a faster speed or tempo, or a meter of longer beats"
    place[_slowed_by(drill, row, written, rhythms)].wrong(
        "this is too slow to be written in a MIDI file",
        found=f"{float(bpm):.3g} beats a minute in {felt}",
        allowed=allowed,
    )


def _is_held(bpm: Fraction, felt: Meter) -> bool:
    """Whether a MIDI file can hold it."""
    try:
        us_per_quarter(bpm, felt.beat)
    except ValueError:
        return False
    return True


def _slowed_by(drill: Drill, row: Mapping[str, Any], written: Mapping[str, Any], rhythms: Rhythms) -> str:
    """The key without which the block would be fastest."""
    faster = {"drill": _quarters(*_slowest(drill, row, rhythms))}
    for key in SLOWING:
        if key in written:
            without = {other: value for other, value in row.items() if other != key}
            faster[key] = _quarters(*_slowest(drill, without, rhythms))
    return max(faster, key=lambda key: faster[key])


def _slowest(drill: Drill, row: Mapping[str, Any], rhythms: Rhythms) -> tuple[Fraction, Meter]:
    """The slowest tempo that the block comes to, and the meter whose beats it counts."""
    asked, runs = _slowest_rung(row.get("ladder", {})) or (row.get("tempo") or drill.tempo, WHOLE)
    share = min(runs, *row.get("speeds", (WHOLE,))) / WHOLE * min(row.get("glide", (WHOLE,))) / WHOLE
    meters = ((rhythm, chosen_meter(row.get("meter"), drill, rhythm)) for rhythm in rhythms)
    tempos = ((slowed_bpm(asked, rhythm, felt.beat) * share, felt) for rhythm, felt in meters)
    return min(tempos, key=lambda tempo: _quarters(*tempo))


def _slowest_rung(ladder: Mapping[str, Any]) -> tuple[Fraction, Fraction] | None:
    """The slowest tempo of a ladder and the slowest of its runs, in per cent; None for no ladder."""
    order = ladder_order(ladder)
    if order is None:
        return None
    climbed = rungs(order)
    return min(rung.bpm for rung in climbed), min(speed for rung in climbed for speed in rung.speeds)


def _quarters(bpm: Fraction, felt: Meter) -> Fraction:
    """Quarter notes a minute."""
    return bpm * felt.beat.exact


def _rhythms(drill: Drill, asked: Any, patterns: Patterns, variants: Iterable[Variant]) -> Rhythms:
    """Every rhythm that can be laid over the drill; None where it has its own lengths. `asked`: a variant."""
    if drill.study or any(strain.lengths for strain in drill.strains):
        return (None,)
    names = _names(drill, asked, patterns, variants)
    return tuple(patterns.rhythms[name] for name in names if name in patterns.rhythms) or (None,)


def _names(drill: Drill, asked: Any, patterns: Patterns, variants: Iterable[Variant]) -> tuple[str, ...]:
    if not drill.varies:
        return (PLAIN.rhythm,)
    if isinstance(asked, int):
        return (patterns.variants[asked - 1].rhythm,)
    todays = () if asked == ALWAYS_PLAIN else dict.fromkeys(variant.rhythm for variant in variants)
    return tuple(todays) or (PLAIN.rhythm,)
