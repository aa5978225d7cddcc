"""Write the drone part: which tones it holds, and when they move.

Rule    the drone sounds from the first beat of the count-in to the last of the item, without a gap; a tone that
        would only be struck again is held. A moving drone goes with the root of each cell, or with the note, at
        most once a felt beat: where the notes are quicker it comes to the one that sounds when the beat is
        over. Each time through, the first tone sounds in the count-in already. A drone's root lies in the
        octave that `best_octave` chooses, for a moving drone under each cell; but a followed note is doubled
        where it is, or in octaves below the top it may have. Silences and the like are made later, by `tasks`.
Source  lowest octaves for counting beats: theory of coinciding partials, see `theory.beats`.
"""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from droner.practice.drill import Material
from droner.score.best_octave import drone_octave
from droner.score.score import Tone
from droner.score.sounding import sounding
from droner.theory.pitch import OCTAVE, Interval, Pitch
from droner.units import Beats

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from droner.practice.item import Item
    from droner.practice.layout.line import LaidNote
    from droner.practice.performance import Repeat
    from droner.practice.phrase import TimedNote
    from droner.practice.session import Session
    from droner.score.best_octave import Timed
    from droner.score.tunings import ItemTuning
    from droner.theory.pitch import NoteName
    from droner.theory.tuning import Tuning

HIGHEST_FOLLOWED_MIDI = 83
"""A followed note above B5 is doubled an octave (or two) lower: a drone up there tires the ear. No source."""

Chord = tuple[tuple[Pitch, float], ...]
"""What is held together: each pitch and its hertz."""
Held = tuple[Beats, Chord]
Placed = tuple[Beats, "TimedNote"]
"""A note of the line and the moment at which it falls."""


def drone_tones(item: Item, session: Session, tunings: ItemTuning) -> tuple[Tone, ...]:
    """The drone part of an item, in order of onset."""
    if not item.drone.degrees:
        return ()
    if item.drone.moves == "never":
        held = [(Beats(0), _still(item, session, tunings.whole))]
    else:
        held = list(at_most_a_beat(_asked(item, session, tunings), item, item.performance.length))
    return _tones(held, item.performance.length)


def tonic_of(item: Item, session: Session) -> NoteName:
    """What a still drone stands on, as it sounds."""
    written = item.key.tonic if item.key else item.line.home.name
    return written + sounding(item, session)


def _still(item: Item, session: Session, tuned: Tuning) -> Chord:
    """The drone's degrees above the tonic: fifths and fourths pure, thirds as in the key."""
    root, minor = tonic_of(item, session), item.key is not None and item.key.is_minor
    played = (note for repeat in item.performance.repeats for note in notes_of(repeat))
    octave = drone_octave(
        item, session, root, _lowest(item, minor=minor), _timed(played, sounding(item, session)), tuned
    )
    return _above(root.in_octave(octave), item, tuned, minor=minor)


def _lowest(item: Item, *, minor: bool = False) -> Interval:
    """From the root of the drone to the lowest tone that it holds."""
    return degree_above(min(item.drone.degrees), minor=minor)


def _timed(notes: Iterable[Placed], to_sounding: Interval) -> Iterator[Timed]:
    """Notes as they sound, with their lengths."""
    for _, timed in notes:
        yield timed.laid.pitch + to_sounding, timed.length


def _above(root: Pitch, item: Item, tuned: Tuning, *, minor: bool = False) -> Chord:
    pitches = (root + degree_above(degree, minor=minor) for degree in item.drone.degrees)
    return tuple((pitch, tuned.hz(pitch)) for pitch in pitches)


def degree_above(degree: int, *, minor: bool) -> Interval:
    """From a root up to a degree of its major or minor key, 8 being the octave."""
    octaves, steps = divmod(degree - 1, 7)
    semitones = (0, 2, 3, 5, 7, 8, 10)[steps] if minor else (0, 2, 4, 5, 7, 9, 11)[steps]
    return Interval(steps, semitones) + OCTAVE * octaves


def _asked(item: Item, session: Session, tunings: ItemTuning) -> Iterator[Held]:
    """What a moving drone is asked for, note by note or cell by cell."""
    for repeat in item.performance.repeats:
        reaches_back = True
        cells = _cells(repeat)
        for onset, timed in notes_of(repeat):
            note = timed.laid
            if reaches_back or note.opens or item.drone.moves == "note":
                tuned = tunings.of(note)
                root = _under(item, note, session, cells[note.cell], tuned)
                yield (repeat.onset if reaches_back else onset), _above(root, item, tuned)
                reaches_back = False


def notes_of(repeat: Repeat) -> Iterator[Placed]:
    """The notes of one time through, each with the moment at which it falls."""
    for placed in repeat.phrases:
        for timed in placed.phrase.notes:
            yield placed.onset + timed.onset, timed


def _cells(repeat: Repeat) -> dict[int, list[Placed]]:
    cells: dict[int, list[Placed]] = {}
    for onset, timed in notes_of(repeat):
        cells.setdefault(timed.laid.cell, []).append((onset, timed))
    return cells


def _under(item: Item, note: LaidNote, session: Session, cell: Iterable[Placed], tuned: Tuning) -> Pitch:
    """The note itself or the fingering where it is; the root of a cell in the drone's octave."""
    to_sounding = sounding(item, session)
    pitch = (note.pitch if item.drone.moves == "note" else note.root) + to_sounding
    if item.drone.moves == "cell" and not _is_fingering(item):
        timed = _timed(cell, to_sounding)
        return pitch.name.in_octave(drone_octave(item, session, pitch.name, _lowest(item), timed, tuned))
    while pitch.midi > HIGHEST_FOLLOWED_MIDI:
        pitch -= OCTAVE
    return pitch


def _is_fingering(item: Item) -> bool:
    """Over partials the drone is the fingering itself, where it is."""
    return any(strain.material is Material.PARTIALS for strain in item.drill.strains)


def at_most_a_beat(asked: Iterable[Held], item: Item, end: Beats) -> Iterator[Held]:
    """The tones asked for, each held for a beat at least; one that is over before the drone may move is missed."""
    wishes = [next(same) for _, same in groupby(asked, key=lambda held: held[1])]
    stops = [*(onset for onset, _ in wishes[1:]), end]
    free = Beats(0)
    for (onset, chord), stop in zip(wishes, stops, strict=True):
        moment = max(onset, free)
        if moment < stop:
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
