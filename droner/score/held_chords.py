"""Hold a note under every chord that contains it: which chords, and where they stand.

Rule    the triads that hold the note which sounds come in turn, so many bars each, and home under the end of each time
        through. Of the key: the note as root, third and fifth. All ten: six that are major or minor, each a half-step
        or a tone in one voice from the one before, beginning with the home of the key; then the diminished ones and
        the augmented one. A note outside the key takes all ten.
        What stays is the note, where the tuning puts it, and the chord is pure around it; or the chord, pure on its
        own root where the tuning puts that, and the note goes to its place in the chord. In just tuning the root is
        then its own tonic: on the item's tonic no note would have to move at all.
Units   hertz; cents against equal temperament.
Source  six major and minor triads around a note, neighbours sharing two notes: the hexagon of the Tonnetz, theory.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.score.chord_place import ChordPlace
from droner.score.harmony import Change
from droner.score.tunings import moves_its_key
from droner.theory.cents import factor_of
from droner.theory.chord import triads_containing, triads_in_key_containing
from droner.theory.just import Just
from droner.theory.key import Key
from droner.theory.tuning import Tuning, equal_hz

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from droner.practice.item import Item
    from droner.practice.layout.line import LaidNote
    from droner.practice.performance import PlacedPhrase
    from droner.score.chord_policies import Hertz
    from droner.theory.chord import Chord
    from droner.theory.pitch import NoteName, Pitch
    from droner.units import Beats

STAYS_NOTE = "note"
DIGITS_OF_CENTS = 9
"""Two chords that share a tone agree on it to the last figure, so that it is not struck again."""
ROUND = (
    # the note's place in the triad, and its kind: on C major, A minor, F major, F minor, A flat major, C minor ...
    ("root", "major"),
    ("third", "minor"),
    ("fifth", "major"),
    ("fifth", "minor"),
    ("third", "major"),
    ("root", "minor"),
    ("root", "diminished"),
    ("third", "diminished"),
    ("fifth", "diminished"),
    ("root", "augmented"),
)
ROUND_IN_MINOR = tuple(ROUND[(5 - turn) % len(ROUND)] for turn in range(len(ROUND)))
"""The same backwards, from the minor triad on the note."""


def held_changes(item: Item, phrases: Sequence[PlacedPhrase]) -> Iterator[Change]:
    """The chords under one time through, in order of onset; some may only repeat the one before."""
    placed = phrases[-1]
    last = max(placed.onset + placed.phrase.notes[-1].onset, placed.onset + placed.phrase.length - item.meter.bar)
    for turn, (moment, note) in enumerate(_bars(item, phrases)):
        if moment < last:
            triads = _triads(item, note)
            yield Change(moment, triads[turn % len(triads)], "", note)
    note = placed.phrase.notes[-1].laid
    yield Change(last, _triads(item, note)[0], "", note)


def _bars(item: Item, phrases: Sequence[PlacedPhrase]) -> Iterator[tuple[Beats, LaidNote]]:
    """The bar lines at which the chord changes, and what sounds there; in a rest what sounded last."""
    bars = (
        (placed.onset + item.meter.bar * bar, placed)
        for placed in phrases
        for bar in range(int(placed.phrase.length.ratio(item.meter.bar)))
    )
    for number, (moment, placed) in enumerate(bars):
        if number % item.changes.bars == 0:
            begun = [timed.laid for timed in placed.phrase.notes if placed.onset + timed.onset <= moment]
            yield moment, begun[-1] if begun else placed.phrase.notes[0].laid


def _triads(item: Item, note: LaidNote) -> tuple[Chord, ...]:
    """The triads that hold a note, the first the nearest to home."""
    name = note.pitch.name
    key = Key(note.root.name, item.tonality.mode) if moves_its_key(item) else item.tonality
    if item.changes.triads == "key":
        try:
            return tuple(chord for chord, _ in triads_in_key_containing(name, key))
        except ValueError:  # the note is outside the key
            pass
    found = {(role, chord.quality.name): chord for chord, role in triads_containing(name)}
    return tuple(found[place] for place in (ROUND_IN_MINOR if key.is_minor else ROUND))


def held_hertz(item: Item, notes: Sequence[Pitch], places: Sequence[ChordPlace]) -> tuple[Hertz, ...]:
    """What gives each pitch of a chord its hertz, chord by chord; `notes`: what is held under each, as it sounds."""
    return tuple(_hertz(item, held, place) for held, place in zip(notes, places, strict=True))


def _hertz(item: Item, held: Pitch, place: ChordPlace) -> Hertz:
    tuned = place.tuned
    pure = _pure(place)
    if item.changes.stays == STAYS_NOTE:
        fixed, stays = held, tuned
    else:
        fixed = place.chord.root.in_octave(held.octave)
        stays = tuned.on(fixed.name) if isinstance(tuned.temperament, Just) else tuned
    root_cents = stays.cents(fixed) - pure[fixed.name]
    return lambda pitch: equal_hz(tuned.a4_hz, pitch) * factor_of(round(root_cents + pure[pitch.name], DIGITS_OF_CENTS))


def _pure(place: ChordPlace) -> Mapping[NoteName, float]:
    """How far each note of the pure chord lies above equal temperament while its root lies on it."""
    tuned = place.tuned
    just = tuned.temperament if isinstance(tuned.temperament, Just) else Just()
    pure = ChordPlace(place.chord, Tuning(tuned.a4_hz, just, tuned.reference, tuned.anchor), {})
    return dict(zip(place.chord.notes, pure.pure, strict=True))
