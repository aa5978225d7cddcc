"""Write the drone part: which tones it holds, and when they move.

Rule    the drone sounds from the first beat of the count-in to the last of the item, without a gap; a tone that
        would only be struck again is held. A moving drone moves with the root of each cell; one that follows the
        note does so at most once a felt beat. A drone's root lies in one chosen octave, but a followed note is
        doubled where it is, or in octaves below the top it may have.
Source  lowest octaves for counting beats: theory of coinciding partials, see `theory.beats`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.practice.pattern import Material
from droner.score.score import Tone
from droner.theory.pitch import OCTAVE, Interval, Pitch
from droner.units import Beats

if TYPE_CHECKING:
    from collections.abc import Iterable

    from droner.practice.item import Item
    from droner.practice.line import LaidNote
    from droner.practice.session import Session
    from droner.score.tunings import ItemTuning
    from droner.theory.tuning import Tuning

USUAL_OCTAVE, LOW_OCTAVE = 3, 2
LOW_COMPASS_MIDI = 48
"""Instruments whose compass starts below C3 are given the lower drone."""
HIGHEST_FOLLOWED_MIDI = 83
"""A followed note above B5 is doubled an octave (or two) lower: a drone up there tires the ear. No source."""

Held = tuple[Beats, tuple[Pitch, ...], "Tuning"]


def drone_tones(item: Item, session: Session, tunings: ItemTuning) -> tuple[Tone, ...]:
    """The drone part of an item, in order of onset."""
    if not item.drone.degrees:
        return ()
    octave = item.block.drone_octave or usual_octave(session)
    if item.drone.moves == "never":
        held = [(Beats(0), _over(_still_root(item, session, octave), item, tunings.whole), tunings.whole)]
    else:
        held = list(_moving(item, session, tunings, octave))
    return _tones(held, item.performance.length)


def usual_octave(session: Session) -> int:
    """The octave of a drone's root when nobody asks for another."""
    lowest = session.compass.low + session.instrument.sounding
    return LOW_OCTAVE if lowest.midi < LOW_COMPASS_MIDI else USUAL_OCTAVE


def _still_root(item: Item, session: Session, octave: int) -> Pitch:
    written = item.key.tonic if item.key else item.line.home.name
    return (written + session.instrument.sounding).in_octave(octave)


def _over(root: Pitch, item: Item, _tuning: Tuning) -> tuple[Pitch, ...]:
    """The drone's degrees above its root: fifths and fourths pure, thirds as in the key."""
    minor = item.key is not None and item.key.is_minor
    return tuple(root + _degree(degree, minor=minor) for degree in item.drone.degrees)


def _degree(degree: int, *, minor: bool) -> Interval:
    octaves, steps = divmod(degree - 1, 7)
    semitones = (0, 2, 3, 5, 7, 8, 10)[steps] if minor else (0, 2, 4, 5, 7, 9, 11)[steps]
    return Interval(steps, semitones) + OCTAVE * octaves


def _moving(item: Item, session: Session, tunings: ItemTuning, octave: int) -> Iterable[Held]:
    """Where a moving drone goes, the first tone reaching back to the start."""
    moved: Beats | None = None
    for onset, note in _notes(item):
        if item.drone.moves == "cell" and not note.opens:
            continue
        if moved is not None and onset - moved < item.meter.beat:
            continue
        yield (Beats(0) if moved is None else onset, _under(item, note, session, octave), tunings.of(note))
        moved = onset


def _notes(item: Item) -> Iterable[tuple[Beats, LaidNote]]:
    for repeat in item.performance.repeats:
        for placed in repeat.phrases:
            for timed in placed.phrase.notes:
                yield placed.onset + timed.onset, timed.laid


def _under(item: Item, note: LaidNote, session: Session, octave: int) -> tuple[Pitch, ...]:
    if item.drone.moves == "note" or _is_fingering(item):
        pitch = (note.pitch if item.drone.moves == "note" else note.root) + session.instrument.sounding
        while pitch.midi > HIGHEST_FOLLOWED_MIDI:
            pitch -= OCTAVE
        return tuple(pitch + _degree(degree, minor=False) for degree in item.drone.degrees)
    root = (note.root.name + session.instrument.sounding).in_octave(octave)
    return tuple(root + _degree(degree, minor=False) for degree in item.drone.degrees)


def _is_fingering(item: Item) -> bool:
    """Over partials the drone is the fingering itself, where it is."""
    return any(strain.material is Material.PARTIALS for strain in item.drill.strains)


def _tones(held: list[Held], end: Beats) -> tuple[Tone, ...]:
    kept: list[Held] = []
    for one in held:
        if not kept or [pitch.midi for pitch in one[1]] != [pitch.midi for pitch in kept[-1][1]]:
            kept.append(one)
    stops = [*(onset for onset, _, _ in kept[1:]), end]
    return tuple(
        Tone(onset, stop - onset, pitch, tuned.hz(pitch))
        for (onset, pitches, tuned), stop in zip(kept, stops, strict=True)
        for pitch in pitches
    )
