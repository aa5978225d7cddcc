"""Tune the chords of just tuning so that none of them has a wolf in it, and the tonic never moves.

Rule    a chord takes its notes from the scale on the tonic. Where that puts a fifth, or a third inside a fifth, a
        syntonic comma off, notes come in a second size, a comma higher or lower: as many as it takes and no more,
        if that costs no fifth with the drone. The notes which stay are those that the drone holds, then the tonic,
        fourth and fifth, then the most. So nothing drifts: every chord stands on the same tonic. A diminished triad
        and the seventh of a dominant seventh stay as the scale has them, and so does a minor third that the player
        chose.
Units   a size counts syntonic commas up from the scale; factors are ratios of frequencies.
Source  two sizes of the second degree, 9/8 and 10/9: five-limit arithmetic.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import permutations, product
from typing import TYPE_CHECKING

from droner.theory.cents import SYNTONIC_COMMA
from droner.theory.just import MAJOR_THIRD, Just
from droner.theory.just_table import EQUAL

if TYPE_CHECKING:
    from collections.abc import Iterator

    from droner.theory.chord import Chord
    from droner.theory.pitch import NoteName
    from droner.theory.tuning import Tuning

FIFTH, MINOR_THIRD = Fraction(3, 2), Fraction(6, 5)
FIFTHS_TO_FIFTH, FIFTHS_TO_MINOR_THIRD, FIFTHS_TO_MAJOR_THIRD = 1, -3, 4
"""Places on the line of fifths, from the lower note."""
ANCHORED_FIFTHS = frozenset({-1, 0, 1})
"""Fourth, tonic and fifth, by their place on the line of fifths."""
ANCHORED, FREE = 10, 1
"""What it costs to move a note. A chord has fewer than ten, so one that is anchored outweighs all that are free."""
IN_SCALE, SIZES = (0,), (0, -1, 1)
APART = range(-2, 3)
"""By how many commas two notes can be moved apart."""

TRIAD = 3
"""Root, third and fifth come first among the notes of a chord."""

Sizes = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class _Pair:
    """Two notes of a chord, and by how many commas the higher may rise above the lower so that they agree."""

    low: int
    high: int
    agreed: frozenset[int]
    pure: int | None

    def apart(self, sizes: Sizes) -> int:
        """How far they are apart; what is not of the chord, the drone, does not move."""
        low, high = (sizes[note] if note < len(sizes) else 0 for note in (self.low, self.high))
        return high - low


def moved(chord: Chord, tuned: Tuning, drone: frozenset[NoteName]) -> dict[NoteName, Fraction]:
    """By which factor notes of the chord leave the scale, for those that do. `drone`: the notes it holds."""
    sizes = _sizes(chord.notes, tuned, drone)
    return {name: SYNTONIC_COMMA**size for name, size in zip(chord.notes, sizes, strict=True) if size}


@lru_cache(maxsize=1024)
def _sizes(notes: tuple[NoteName, ...], tuned: Tuning, drone: frozenset[NoteName]) -> Sizes:
    """The size of each note: the fewest wolves in the triad, with the drone, in all; then what costs least."""
    just = tuned.temperament
    if not isinstance(just, Just):
        return (0,) * len(notes)
    pairs = [pair for pair in _pairs(notes, drone, tuned.reference, just) if pair.agreed]
    costs = [_cost(name, tuned.reference) for name in notes]

    def worth(sizes: Sizes) -> tuple[int, int, int, int, int]:
        wolves = [pair for pair in pairs if pair.apart(sizes) not in pair.agreed]
        in_triad = sum(max(pair.low, pair.high) < TRIAD for pair in wolves)
        with_drone = sum(max(pair.low, pair.high) >= len(notes) for pair in wolves)
        cost = sum(cost for cost, size in zip(costs, sizes, strict=True) if size)
        return in_triad, with_drone, len(wolves), cost, sum(pair.apart(sizes) != pair.pure for pair in pairs)

    return min(product(*(IN_SCALE if name in drone else SIZES for name in notes)), key=worth)


def _pairs(chord: tuple[NoteName, ...], drone: frozenset[NoteName], tonic: NoteName, just: Just) -> Iterator[_Pair]:
    """The fifths of a chord, the two thirds inside each of them, and the fifths that the scale makes with the drone."""
    notes = (*chord, *sorted(drone.difference(chord)))
    ratios = [just.ratio((name.in_octave(4) - tonic.in_octave(4)).within_octave) for name in notes]
    places = [name.fifths for name in notes]
    for root, fifth in permutations(range(len(notes)), 2):
        if places[fifth] - places[root] == FIFTHS_TO_FIFTH:
            pair, of_chord = _pair(root, fifth, ratios, (FIFTH,)), max(root, fifth) < len(chord)
            if of_chord or 0 in pair.agreed:
                yield pair
            if of_chord:
                yield from _thirds_inside(root, fifth, places[: len(chord)], ratios, (tonic.fifths, just))


def _thirds_inside(
    root: int, fifth: int, places: list[int], ratios: list[Fraction | None], scale: tuple[int, Just]
) -> Iterator[_Pair]:
    for third, place in enumerate(places):
        if place - places[root] in {FIFTHS_TO_MINOR_THIRD, FIFTHS_TO_MAJOR_THIRD}:
            sizes = _thirds(place, places[root], *scale)
            yield _pair(root, third, ratios, sizes)
            yield _pair(third, fifth, ratios, tuple(FIFTH / size for size in sizes))


def _thirds(place: int, root: int, tonic: int, just: Just) -> tuple[Fraction, ...]:
    """The sizes that a third above a root may have: pure, or as the player chose the scale's minor third."""
    if place > root:
        return (MAJOR_THIRD,)
    chosen = place - tonic == FIFTHS_TO_MINOR_THIRD and just.minor_third != EQUAL
    return (MINOR_THIRD, Fraction(just.minor_third)) if chosen else (MINOR_THIRD,)


def _pair(low: int, high: int, ratios: list[Fraction | None], aims: tuple[Fraction, ...]) -> _Pair:
    below, above = ratios[low], ratios[high]
    if below is None or above is None:
        return _Pair(low, high, frozenset(), None)
    apart = [_commas(above / below, aim) for aim in aims]
    return _Pair(low, high, frozenset(count for count in apart if count is not None), apart[0])


def _commas(ratio: Fraction, aim: Fraction) -> int | None:
    """How many commas bring a ratio, in any octave, to the aim; None where no number of them does."""
    wanted = _near_one(aim / ratio)
    return next((count for count in APART if SYNTONIC_COMMA**count == wanted), None)


def _near_one(ratio: Fraction) -> Fraction:
    """The ratio, moved by octaves to lie about 1."""
    while ratio > Fraction(3, 2):
        ratio /= 2
    while ratio < Fraction(3, 4):
        ratio *= 2
    return ratio


def _cost(name: NoteName, tonic: NoteName) -> int:
    return ANCHORED if name.fifths - tonic.fifths in ANCHORED_FIFTHS else FREE
