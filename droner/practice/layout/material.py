"""Find what a strain's notes are taken from: its scale, its chord, the chromatic.

Rule    in a minor key a drill chooses its form of minor; a strain may name any other scale, and a chord by its
        numeral. Two numerals ("I i") serve major and minor; a major pentatonic gives way to the minor one in minor.
        In the chromatic the key's own notes keep their names, the others are sharps going up and flats coming
        down: no player reads F double sharp in it.
Source  spelling of the chromatic: common practice, no source.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from droner.practice.drill import Material
from droner.practice.layout.stairs import Stairs, stairs
from droner.theory.chord import Chord
from droner.theory.instrument import Range
from droner.theory.pitch import Interval, NoteName, Pitch
from droner.theory.roman import roman
from droner.theory.scale import Scale, scale

if TYPE_CHECKING:
    from droner.practice.drill import Drill, Strain
    from droner.theory.key import Key

IN_MINOR = {"major pentatonic": "minor pentatonic"}
"""Scales that stand for their partner in a minor key."""
C = NoteName(0)
ANY_COMPASS = Range(C.in_octave(-9), C.in_octave(26))
"""Where to look for a note that a compass lacks, and for what a cell stands on without playing it.

The furthest step of a cell is twenty-two stairs, eight octaves of a triad's notes, below or above; a cell spans
at most twice that, from C0 or to C9.
"""


def material_stairs(drill: Drill, strain: Strain, key: Key, compass: Range) -> Stairs:
    """The stairs of a strain's material in a key, inside a compass."""
    chord = strain_chord(strain, key)
    if chord:
        return stairs(chord.root, chord.quality.intervals, chord.quality.intervals, compass)
    found = strain_scale(drill, strain, key)
    if strain.material is Material.CHROMATIC:
        in_key = _form(drill, key)
        return stairs(key.tonic, *_half_steps(key.tonic, in_key.rising, in_key.falling), compass)
    return stairs(key.tonic, found.rising, found.falling, compass)


def strain_scale(drill: Drill, strain: Strain, key: Key) -> Scale:
    """The scale a strain walks in a key."""
    if strain.material is Material.CHROMATIC:
        return scale("chromatic")
    if strain.of:
        return scale(IN_MINOR.get(strain.of, strain.of) if key.is_minor else strain.of)
    return _form(drill, key)


def _form(drill: Drill, key: Key) -> Scale:
    return scale(drill.minor_form) if key.mode == "minor" else key.scale


def strain_chord(strain: Strain, key: Key) -> Chord | None:
    """The chord a strain spells out, None when its material is not a chord."""
    if strain.material is not Material.CHORD:
        return None
    numerals = strain.of.split()
    return roman(numerals[-1] if key.is_minor else numerals[0], key)


@lru_cache(maxsize=512)
def _half_steps(
    tonic: NoteName, rising: tuple[Interval, ...], falling: tuple[Interval, ...]
) -> tuple[tuple[Interval, ...], tuple[Interval, ...]]:
    """Every half-step above a tonic as spelled going up and coming down, around the scale of its key."""
    chromatic, low = scale("chromatic"), tonic.in_octave(4)
    ways = ((rising, chromatic.notes(C)), (falling, chromatic.notes(C, falling=True)))
    up, down = (tuple(_spelled(low, half_steps, own, usual) for half_steps in range(12)) for own, usual in ways)
    return up, down


def _spelled(low: Pitch, half_steps: int, own: tuple[Interval, ...], usual: tuple[NoteName, ...]) -> Interval:
    """One half-step above a tonic: the key's own note there, else the usual name."""
    in_key = next((interval for interval in own if interval.semitones == half_steps), None)
    if in_key is not None:
        return in_key
    name = usual[(low.midi + half_steps) % 12]
    near = (name.in_octave(low.octave + octave) - low for octave in (-1, 0, 1))
    return next(interval for interval in near if interval.semitones == half_steps)
