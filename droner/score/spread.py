"""Spread the commas of a row of chords over all of them, so that nowhere too much is lost.

Rule    four kinds of wishes, and the notes that come nearest to all of them, over the whole row at once:
        vertical  every interval of a chord is as large as in the chord pure in itself;
        held      a note that two neighbours share stays; of neighbours that share none, the roots move as on
                  the tonic;
        anchor    every note is at its anchored place;
        home      a chord on the tonic is pure where its root is anchored.
        The anchor is weak: over a few chords purity and held notes win, in the long run nothing drifts. Home is firm:
        were it left to the others, it would lean a few cents one way, as the chords after it lean the other, and beat
        against the tonic that a drone or the player holds. The commas lie between one home chord and the next, and
        what lies there is hardly the worse for it.
Units   cents against equal temperament at the same A4; a weight is what one square cent costs.
Source  the idea of weighing these wishes by least squares: Stange, Wick & Hinrichsen, arXiv 1706.04338. The weights
        are our own choice.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate, combinations, pairwise
from types import MappingProxyType
from typing import TYPE_CHECKING

from droner.score.least_squares import Wish, nearest_to

if TYPE_CHECKING:
    from droner.score.chord_place import ChordPlace

FIFTH, THIRD, OTHER = 1.0, 0.6, 0.2
"""A fifth that is off beats on its second and third partials, the loudest; a third on its fourth to sixth; sevenths
and tritones hardly beat."""
PURITY: Mapping[int, float] = MappingProxyType({1: FIFTH, 3: THIRD, 4: THIRD})
"""Weight of an interval by its steps on the line of fifths, either way."""


@dataclass(frozen=True, slots=True)
class Weights:
    """What a miss of one cent costs against the others, squared.

    Chosen for what they make of the comma under droner's own drills, however long: the home chord within 0.1 cents of
    its place; no fifth more than 2.2 cents off and no third more than 3, where beats are slow; no held note that moves
    by more than 6.5, which hardly shows. Under a seventh chord on every degree a third may be off by 4 and a held note
    move by 8; in a drill that moves its key by half-steps, where home moves too, a fifth may be off by 3.5, a third by
    7, and a held note move by 14. Purity weighs more than held notes, because it is heard all the time, a step only
    once; twice the anchor would cost half a cent of purity, half of it would gain a third of one. All but home may
    go about a comma from their anchored place, as the seventh of a dominant does in order to be pure.
    """

    vertical: float = 1.0
    held: float = 0.5
    anchor: float = 0.04
    home: float = 100.0


@dataclass(frozen=True, slots=True)
class _Note:
    number: int
    fifths: int
    anchored: float
    pure: float


Chord = Mapping[object, _Note]
"""The notes of a chord by name, from the root upwards."""


def spread(places: Sequence[ChordPlace], weights: Weights = Weights()) -> tuple[tuple[float, ...], ...]:
    """Where the notes of each chord sound, from the root upwards."""
    starts = list(accumulate((len(place.chord.notes) for place in places), initial=0))
    chords = [_numbered(place, start) for place, start in zip(places, starts, strict=False)]
    found = nearest_to([*wishes(places, chords, weights)], starts[-1])
    return tuple(found[start:stop] for start, stop in pairwise(starts))


def _numbered(place: ChordPlace, start: int) -> Chord:
    rows = zip(place.chord.notes, place.cents, place.pure, strict=True)
    return {
        name: _Note(start + count, name.fifths, anchored, pure) for count, (name, anchored, pure) in enumerate(rows)
    }


def wishes(places: Sequence[ChordPlace], chords: Sequence[Chord], weights: Weights) -> Iterator[Wish]:
    """Every wish for a row of chords."""
    for chord, place in zip(chords, places, strict=True):
        if place.is_home:
            yield from _at_home(chord, weights.home)
        yield from (Wish(((note.number, 1.0),), note.anchored, weights.anchor) for note in chord.values())
        for low, high in combinations(chord.values(), 2):
            purity = PURITY.get(abs(high.fifths - low.fifths), OTHER)
            yield Wish(((high.number, 1.0), (low.number, -1.0)), high.pure - low.pure, weights.vertical * purity)
    for before, now in pairwise(chords):
        yield from _held(before, now, weights.held)


def _at_home(chord: Chord, weight: float) -> Iterator[Wish]:
    """A chord on the tonic, pure where its root stands."""
    root = next(iter(chord.values()))
    for note in chord.values():
        yield Wish(((note.number, 1.0),), root.anchored + note.pure - root.pure, weight)


def _held(before: Chord, now: Chord, weight: float) -> Iterator[Wish]:
    shared = [name for name in now if name in before]
    for name in shared:
        yield Wish(((now[name].number, 1.0), (before[name].number, -1.0)), 0.0, weight)
    if not shared:
        old, new = next(iter(before.values())), next(iter(now.values()))
        yield Wish(((new.number, 1.0), (old.number, -1.0)), new.anchored - old.anchored, weight)
