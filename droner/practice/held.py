"""Lay out what stays on one pitch: swells, vibrato, the triads around a note, partials over a low fingering.

Rule    a held note is the tonic nearest the middle of the compass. Partials climb from the lowest fingerings by
        half-steps; those above the compass, or that the instrument does not overblow to, are left out.
"""

from __future__ import annotations

from itertools import cycle, islice
from typing import TYPE_CHECKING

from droner.practice.line import DoesNotFit, LaidNote, Line
from droner.practice.partials_table import PARTIALS
from droner.practice.pattern import Material
from droner.practice.stairs import stairs
from droner.theory.chord import triads_containing
from droner.theory.pitch import OCTAVE, NoteName, Pitch
from droner.theory.scale import scale

if TYPE_CHECKING:
    from droner.practice.pattern import Drill, Strain
    from droner.theory.chord import Chord
    from droner.theory.instrument import Instrument, Range
    from droner.theory.key import Key
    from droner.units import Beats

FEWEST_PARTIALS = 2
C = NoteName(0)


def held_line(
    drill: Drill, strain: Strain, key: Key | None, compass: Range, instrument: Instrument
) -> Line | DoesNotFit:
    """The line of a strain on one pitch, or over one fingering after another."""
    if strain.material is Material.PARTIALS:
        return _partials(drill, strain, compass, instrument)
    home = _held_pitch(key, compass)
    if strain.every_triad:
        return _every_triad(drill, strain, home, compass, key)
    pulses = cycle(drill.pulses or (0,))
    lengths = strain.lengths[0] if strain.lengths else (None,)
    notes = tuple(
        LaidNote(home, home, cell, place == 0, length=length, pulses=pulse)
        for cell, pulse in zip(range(drill.count), pulses, strict=False)
        for place, length in enumerate(lengths)
    )
    return Line(notes, home)


def _held_pitch(key: Key | None, compass: Range) -> Pitch:
    """The tonic nearest the middle of the compass; without a key, its own middle note where it has one."""
    if key is None:
        return compass.middle
    inside = [pitch for pitch in (key.tonic.in_octave(octave) for octave in range(10)) if pitch in compass]
    nearest = min(inside, key=lambda pitch: abs(pitch.midi - compass.middle.midi), default=None)
    return nearest or compass.middle


def _every_triad(drill: Drill, strain: Strain, home: Pitch, compass: Range, key: Key | None) -> Line | DoesNotFit:
    """All ten triads around a note; those that would leave the compass are left out."""
    lengths = strain.lengths[0] if strain.lengths else (None, None, None)
    notes: list[LaidNote] = []
    for chord, role in triads_containing(home.name):
        pitches = _around(home, chord, role)
        if pitches[0] not in compass or pitches[-1] not in compass:
            continue
        cell = notes[-1].cell + 1 if notes else 0
        notes += [
            LaidNote(pitch, pitches[0], cell, place == 0, length=length, chord=chord)
            for place, (pitch, length) in enumerate(zip(pitches, lengths, strict=True))
        ]
    if notes:
        return Line(tuple(notes), home)
    needed = _around(home, *triads_containing(home.name)[0])[-1]
    return DoesNotFit(drill.name, str(key) if key else "", needed, compass.high)


def _around(home: Pitch, chord: Chord, role: str) -> tuple[Pitch, ...]:
    """The chord in root position with `home` in its role."""
    place = ("root", "third", "fifth").index(role)
    root = home - chord.quality.intervals[place]
    return tuple(root + interval for interval in chord.quality.intervals)


def _partials(drill: Drill, strain: Strain, compass: Range, instrument: Instrument) -> Line | DoesNotFit:
    chromatic = scale("chromatic")
    fingered = stairs(C, chromatic.rising, chromatic.falling, compass).rising
    asked = {int(number) for number in strain.of.split()}
    usable = set(instrument.partials) & asked
    notes: list[LaidNote] = []
    for cell, low in enumerate(islice(fingered, drill.count)):
        base = low - OCTAVE if instrument.overblows == "brass" else low
        pitches = [base + above for number, above in PARTIALS if number in usable and base + above in compass]
        if len(pitches) < FEWEST_PARTIALS:
            return DoesNotFit(drill.name, "", base + dict(PARTIALS)[sorted(usable)[1]], compass.high)
        lengths = _lengths(strain, len(pitches))
        notes += [
            LaidNote(pitch, base, cell, place == 0, length=length)
            for place, (pitch, length) in enumerate(zip(pitches, lengths, strict=True))
        ]
    return Line(tuple(notes), notes[0].pitch)


def _lengths(strain: Strain, count: int) -> tuple[Beats | None, ...]:
    """The written lengths for so many partials: the last one is always the last."""
    if not strain.lengths:
        return (None,) * count
    row = strain.lengths[0]
    return (*(row[place % len(row)] for place in range(count - 1)), row[-1])
