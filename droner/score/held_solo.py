"""Part a held note where the chord under it changes, when the note is to go to the chord.

Rule    a note of which the right place moves while it sounds is written as several, slurred, with no new attack; where
        its place stays, it is left whole. What is loud of it stays so: a swell runs on through its parts.
Units   Beats; hertz; MIDI velocity.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING

from droner.practice.pattern import HELD_NOTE
from droner.score.held_chords import STAYS_NOTE
from droner.score.score import Attack

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from droner.practice.item import Item
    from droner.score.score import ChordEvent, SoloNote
    from droner.score.tuned_chord import TunedChord
    from droner.units import Beats

Shape = tuple[tuple[Fraction, int], ...]


def parted(item: Item, solo: Sequence[SoloNote], changes: Sequence[TunedChord]) -> tuple[SoloNote, ...]:
    """The solo in parts that can be in tune with the chords; as it is, where notes stay and chords go to them."""
    if item.changes.kind != HELD_NOTE or item.changes.stays == STAYS_NOTE:
        return tuple(solo)
    chords = [chord.event for chord in changes]
    return tuple(part for note in solo for part in _parts(note, chords))


def _parts(note: SoloNote, changes: Sequence[ChordEvent]) -> Iterator[SoloNote]:
    cuts = [note.onset, *_moves(note, changes), note.onset + note.sounded]
    for place, (onset, end) in enumerate(pairwise(cuts)):
        is_last = place + 2 == len(cuts)
        yield replace(
            note,
            onset=onset,
            length=(note.onset + note.length if is_last else end) - onset,
            sounded=end - onset,
            velocity=_velocity(note, onset),
            attack=Attack.SLUR if place else note.attack,
            accent=note.accent and not place,
            shape=_shape(note, onset, end),
        )


def _moves(note: SoloNote, changes: Sequence[ChordEvent]) -> Iterator[Beats]:
    """When its place moves while it sounds."""
    before: float | None = None
    for chord in changes:
        if chord.onset >= note.onset + note.sounded:
            return
        here = _place(note, chord)
        if chord.onset > note.onset and here != before:
            yield chord.onset
        before = here


def _place(note: SoloNote, chord: ChordEvent) -> float | None:
    """Where a chord puts a note, None where it has not got it."""
    return next((tone.hz for tone in chord.tones if tone.pitch.name == note.pitch.name), None)


def _share(note: SoloNote, moment: Beats) -> Fraction:
    return (moment - note.onset).ratio(note.sounded)


def _velocity(note: SoloNote, moment: Beats) -> int:
    """How loud a note is at a moment."""
    if not note.shape:
        return note.velocity
    at = _share(note, moment)
    for (start, first), (end, last) in pairwise(note.shape):
        if start <= at <= end:
            return round(first + (last - first) * (at - start) / (end - start))
    return note.shape[-1][1]


def _shape(note: SoloNote, onset: Beats, end: Beats) -> Shape:
    """The part of its swell between two moments."""
    if not note.shape:
        return ()
    begins, ends = _share(note, onset), _share(note, end)
    inside = [(at, velocity) for at, velocity in note.shape if begins < at < ends]
    points = [(begins, _velocity(note, onset)), *inside, (ends, _velocity(note, end))]
    return tuple(((at - begins) / (ends - begins), velocity) for at, velocity in points)
