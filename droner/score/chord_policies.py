"""Tune the chords of just tuning one after another, by one of three policies.

Rule    anchored  every chord stands on the tonic, which never moves; a note may come in two sizes.
        free      every chord is pure in itself, and what it shares with the chord before does not move; so the
                  whole drifts. Where the shared notes cannot all stay, the most stay, and among as many the
                  chord's root. A chord that shares nothing stands as far from its anchored place as the one
                  before. The first chord is anchored.
        spread    a compromise of purity, held notes and the anchor: `spread`.
        Temperaments other than just have no pure chords, so there is nothing to choose: they stay as they are.
Units   cents against equal temperament at the same A4, for each note of a chord from the root upwards.
Source  I vi ii V I with held notes sinks by a syntonic comma: five-limit arithmetic.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType

from droner.score.chord_place import ChordPlace
from droner.score.spread import spread
from droner.theory.cents import factor_of
from droner.theory.pitch import NoteName, Pitch
from droner.theory.tuning import equal_hz

ANCHORED = "anchored"
SAME_CENTS = 1e-6
"""Places nearer than this are one: far above the rounding of a float, far below what is heard."""

Places = Sequence[ChordPlace]
Cents = tuple[float, ...]
Hertz = Callable[[Pitch], float]


def hertz(policy: str, places: Places) -> tuple[Hertz, ...]:
    """What gives each pitch of a chord its hertz, chord by chord: a row of chords without a silence in it."""
    if policy == ANCHORED or not all(place.is_just for place in places):
        return tuple(place.hz for place in places)
    found = POLICIES[policy](places)
    return tuple(_hertz(place, cents) for place, cents in zip(places, found, strict=True))


def _hertz(place: ChordPlace, cents: Cents) -> Hertz:
    above_equal = dict(zip(place.chord.notes, cents, strict=True))
    return lambda pitch: equal_hz(place.tuned.a4_hz, pitch) * factor_of(above_equal[pitch.name])


def _free(places: Places) -> tuple[Cents, ...]:
    found: list[Cents] = []
    for place in places:
        if not found:
            root, before = place.cents[0], dict[NoteName, float]()
        else:
            last = places[len(found) - 1]
            before = dict(zip(last.chord.notes, found[-1], strict=True))
            drifted = found[-1][0] - last.cents[0]
            root = _root(place, before, otherwise=place.cents[0] + drifted)
        found.append(_standing(place, root, before))
    return tuple(found)


def _root(place: ChordPlace, before: Mapping[NoteName, float], otherwise: float) -> float:
    """Where the root of a chord sounds so that most of its notes are where they were before."""
    asked = [before[name] - pure for name, pure in zip(place.chord.notes, place.pure, strict=True) if name in before]
    return max(asked, key=lambda one: sum(_same(one, other) for other in asked), default=otherwise)


def _standing(place: ChordPlace, root: float, before: Mapping[NoteName, float]) -> Cents:
    """The chord pure on a root. A note that stays does so to the last figure, so that it is not struck again."""
    pure = [root + above for above in place.pure]
    kept = [before.get(name, cents) for name, cents in zip(place.chord.notes, pure, strict=True)]
    return tuple(old if _same(old, new) else new for old, new in zip(kept, pure, strict=True))


def _same(one: float, other: float) -> bool:
    return abs(one - other) < SAME_CENTS


POLICIES: Mapping[str, Callable[[Places], tuple[Cents, ...]]] = MappingProxyType({"free": _free, "spread": spread})
"""The policies that move chords, by name."""
