"""Lay out what stays on one pitch: swells, vibrato, the triads around a note, partials over a low fingering.

Rule    a held note is the tonic nearest the middle of the compass. Partials climb from the lowest fingerings by
        half-steps, spelled as the chord of nature over each; those above the compass, or that the instrument does
        not overblow to, are left out, and so is a fingering with only one.
"""

from __future__ import annotations

from itertools import cycle
from typing import TYPE_CHECKING

from droner.practice.drill import Material
from droner.practice.layout.lacking import does_not_fit
from droner.practice.layout.line import DoesNotFit, LaidNote, Line
from droner.practice.layout.partials_table import PARTIALS
from droner.theory.chord import triads_containing
from droner.theory.key_order import usual_key
from droner.theory.pitch import OCTAVE, Pitch

if TYPE_CHECKING:
    from droner.practice.drill import Drill, Strain
    from droner.theory.chord import Chord
    from droner.theory.instrument import Instrument, Range
    from droner.theory.key import Key
    from droner.units import Beats

FEWEST_PARTIALS = 2


def held_line(
    drill: Drill, strain: Strain, key: Key | None, compass: Range, instrument: Instrument
) -> Line | DoesNotFit:
    """The line of a strain on one pitch, or over one fingering after another."""
    if strain.material is Material.PARTIALS:
        return _partials(drill, strain, compass, instrument)
    home = _held_pitch(key, compass)
    if home not in compass:
        return does_not_fit(drill, key, home, compass)
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
    """The tonic nearest the middle of the compass; without a key, its own middle note."""
    middle = compass.middle
    if key is None:
        return middle
    tonics = [key.tonic.in_octave(middle.octave + octave) for octave in (-1, 0, 1)]
    return min(tonics, key=lambda pitch: (pitch not in compass, abs(pitch.midi - middle.midi)))


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
    return does_not_fit(drill, key, _around(home, *triads_containing(home.name)[0])[-1], compass)


def _around(home: Pitch, chord: Chord, role: str) -> tuple[Pitch, ...]:
    """The chord in root position with `home` in its role."""
    place = ("root", "third", "fifth").index(role)
    root = home - chord.quality.intervals[place]
    return tuple(root + interval for interval in chord.quality.intervals)


def _partials(drill: Drill, strain: Strain, compass: Range, instrument: Instrument) -> Line | DoesNotFit:
    asked = {int(number) for number in strain.of.split()}
    usable = [(number, above) for number, above in PARTIALS if number in asked and number in instrument.partials]
    lowest = _fingerings(compass, drill.count, instrument)
    if len(usable) < FEWEST_PARTIALS:
        why = f"overblown, a {instrument.name} gives only the partials {' '.join(map(str, instrument.partials))}"
        return DoesNotFit(drill.name, "", lowest[0], compass.high, why)
    notes: list[LaidNote] = []
    for cell, base in enumerate(lowest):
        pitches = [base + above for _, above in usable if base + above in compass]
        if len(pitches) < FEWEST_PARTIALS:
            break
        notes += [
            LaidNote(pitch, base, cell, place == 0, length=length)
            for place, (pitch, length) in enumerate(zip(pitches, _lengths(strain, len(pitches)), strict=True))
        ]
    if notes:
        return Line(tuple(notes), notes[0].pitch)
    beyond = (lowest[0] + above for _, above in usable)
    return does_not_fit(drill, None, next(pitch for pitch in beyond if pitch.midi > compass.high.midi), compass)


def _fingerings(compass: Range, count: int, instrument: Instrument) -> list[Pitch]:
    """The fundamentals of the lowest fingerings, spelled so that their partials are easy to read.

    Brass sound their lowest written notes as second partials.
    """
    lowest = compass.low.midi
    names = (usual_key(midi % 12, "major").tonic for midi in range(lowest, lowest + count))
    pitches = [name.in_octave(midi // 12 - 1) for midi, name in enumerate(names, lowest)]
    return [pitch - OCTAVE for pitch in pitches] if instrument.overblows == "brass" else pitches


def _lengths(strain: Strain, count: int) -> tuple[Beats | None, ...]:
    """The written lengths for so many partials: the last one is always the last."""
    if not strain.lengths:
        return (None,) * count
    row = strain.lengths[0]
    return (*(row[place % len(row)] for place in range(count - 1)), row[-1])
