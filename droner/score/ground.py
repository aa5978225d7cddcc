"""Write the drone part: which tones it holds, and when they move.

Rule    the drone sounds from the first beat of the count-in to the last of the item, without a gap; a tone that
        would only be struck again is held. A moving drone goes with the root of each cell, or with the note, at
        most once a felt beat: where the notes are quicker it comes to the one that sounds when the beat is
        over. Each time through, the first tone sounds in the count-in already. A drone's root lies in one
        chosen octave, but a followed note is doubled where it is, or in octaves below the top it may have.
Source  lowest octaves for counting beats: theory of coinciding partials, see `theory.beats`.
"""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from droner.practice.drill import Material
from droner.score.score import Tone
from droner.score.sounding import sounding
from droner.theory.pitch import OCTAVE, Interval, Pitch
from droner.units import Beats

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from droner.practice.item import Item
    from droner.practice.layout.line import LaidNote
    from droner.practice.performance import Repeat
    from droner.practice.session import Session
    from droner.score.tunings import ItemTuning
    from droner.theory.tuning import Tuning

USUAL_OCTAVE, LOW_OCTAVE = 3, 2
LOW_COMPASS_MIDI = 48
"""Instruments whose compass starts below C3 are given the lower drone."""
HIGHEST_FOLLOWED_MIDI = 83
"""A followed note above B5 is doubled an octave (or two) lower: a drone up there tires the ear. No source."""

Chord = tuple[tuple[Pitch, float], ...]
"""What is held together: each pitch and its hertz."""
Held = tuple[Beats, Chord]


def drone_tones(item: Item, session: Session, tunings: ItemTuning) -> tuple[Tone, ...]:
    """The drone part of an item, in order of onset."""
    if not item.drone.degrees:
        return ()
    octave = item.block.drone_octave or usual_octave(session)
    if item.drone.moves == "never":
        held = [(Beats(0), _still(item, session, tunings.whole, octave))]
    else:
        held = list(_at_most_a_beat(_asked(item, session, tunings, octave), item))
    return _tones(held, item.performance.length)


def usual_octave(session: Session) -> int:
    """The octave of a drone's root when nobody asks for another."""
    lowest = session.compass.low + session.instrument.sounding
    return LOW_OCTAVE if lowest.midi < LOW_COMPASS_MIDI else USUAL_OCTAVE


def _still(item: Item, session: Session, tuned: Tuning, octave: int) -> Chord:
    """The drone's degrees above the tonic: fifths and fourths pure, thirds as in the key."""
    written = item.key.tonic if item.key else item.line.home.name
    root = (written + sounding(item, session)).in_octave(octave)
    return _above(root, item, tuned, minor=item.key is not None and item.key.is_minor)


def _above(root: Pitch, item: Item, tuned: Tuning, *, minor: bool = False) -> Chord:
    pitches = (root + _degree(degree, minor=minor) for degree in item.drone.degrees)
    return tuple((pitch, tuned.hz(pitch)) for pitch in pitches)


def _degree(degree: int, *, minor: bool) -> Interval:
    octaves, steps = divmod(degree - 1, 7)
    semitones = (0, 2, 3, 5, 7, 8, 10)[steps] if minor else (0, 2, 4, 5, 7, 9, 11)[steps]
    return Interval(steps, semitones) + OCTAVE * octaves


def _asked(item: Item, session: Session, tunings: ItemTuning, octave: int) -> Iterator[Held]:
    """What a moving drone is asked for, note by note or cell by cell."""
    for repeat in item.performance.repeats:
        reaches_back = True
        for onset, note in _notes(repeat):
            if reaches_back or note.opens or item.drone.moves == "note":
                chord = _above(_under(item, note, session, octave), item, tunings.of(note))
                yield (repeat.onset if reaches_back else onset), chord
                reaches_back = False


def _notes(repeat: Repeat) -> Iterator[tuple[Beats, LaidNote]]:
    for placed in repeat.phrases:
        for timed in placed.phrase.notes:
            yield placed.onset + timed.onset, timed.laid


def _under(item: Item, note: LaidNote, session: Session, octave: int) -> Pitch:
    """The note itself or the fingering where it is; the root of a cell in the drone's octave."""
    pitch = (note.pitch if item.drone.moves == "note" else note.root) + sounding(item, session)
    if item.drone.moves == "cell" and not _is_fingering(item):
        return pitch.name.in_octave(octave)
    while pitch.midi > HIGHEST_FOLLOWED_MIDI:
        pitch -= OCTAVE
    return pitch


def _is_fingering(item: Item) -> bool:
    """Over partials the drone is the fingering itself, where it is."""
    return any(strain.material is Material.PARTIALS for strain in item.drill.strains)


def _at_most_a_beat(asked: Iterable[Held], item: Item) -> Iterator[Held]:
    """The tones asked for, each held for a beat at least; one that is over before the drone may move is missed."""
    wishes = [next(same) for _, same in groupby(asked, key=lambda held: held[1])]
    ends = [*(onset for onset, _ in wishes[1:]), item.performance.length]
    free = Beats(0)
    for (onset, chord), end in zip(wishes, ends, strict=True):
        moment = max(onset, free)
        if moment < end:
            yield moment, chord
            free = moment + item.meter.beat


def _tones(held: list[Held], end: Beats) -> tuple[Tone, ...]:
    kept = [next(same) for _, same in groupby(held, key=lambda one: one[1])]
    stops = [*(onset for onset, _ in kept[1:]), end]
    return tuple(
        Tone(onset, stop - onset, pitch, hz)
        for (onset, chord), stop in zip(kept, stops, strict=True)
        for pitch, hz in chord
    )
