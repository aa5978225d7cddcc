"""Find what a strain's notes are taken from: its scale, its chord, the chromatic.

Rule    in a minor key a drill chooses its form of minor; a strain may name any other scale, and a chord by its
        numeral. Two numerals ("I i") serve major and minor.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.practice.pattern import Material
from droner.practice.stairs import Stairs, stairs
from droner.theory.chord import Chord
from droner.theory.roman import roman
from droner.theory.scale import Scale, scale

if TYPE_CHECKING:
    from droner.practice.pattern import Drill, Strain
    from droner.theory.instrument import Range
    from droner.theory.key import Key


def material_stairs(drill: Drill, strain: Strain, key: Key, compass: Range) -> Stairs:
    """The stairs of a strain's material in a key, inside a compass."""
    chord = strain_chord(strain, key)
    if chord:
        return stairs(chord.root, chord.quality.intervals, chord.quality.intervals, compass)
    found = strain_scale(drill, strain, key)
    return stairs(key.tonic, found.rising, found.falling, compass)


def strain_scale(drill: Drill, strain: Strain, key: Key) -> Scale:
    """The scale a strain walks in a key."""
    if strain.material is Material.CHROMATIC:
        return scale("chromatic")
    if strain.of:
        return scale(strain.of)
    return scale(drill.minor_form) if key.mode == "minor" else key.scale


def strain_chord(strain: Strain, key: Key) -> Chord | None:
    """The chord a strain spells out, None when its material is not a chord."""
    if strain.material is not Material.CHORD:
        return None
    numerals = strain.of.split()
    return roman(numerals[-1] if key.is_minor else numerals[0], key)
