"""What the policy `spread` promises, under every row of chords that the patterns make.

Referees  the figures are the promise in the first lines of `spread`, measured here against the rows of whole numbers in
          `sequences` (five-limit arithmetic). Least squares: numpy's, of equations written down here from the rule. A
          chord does not beat with a drone on its root when it is pure above it: the definition of beats.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, pairwise

import numpy as np
import pytest

from droner.score.chord_place import chord_place
from droner.score.score import ChordEvent, Score
from droner.score.spread import FIFTH, OTHER, THIRD, Weights, spread
from droner.theory.key import key as read_key
from droner.theory.roman import roman
from droner.theory.tuning import tuning
from tests.score.composed import composed, manner
from tests.score.sequences import (
    KEYS,
    SLACK_CENTS,
    Row,
    by_name,
    cents,
    neighbours,
    octave_cents,
    pure_cents,
    root_and_kind,
    rows_of_chords,
    sounding,
    upwards,
    within,
)

ROWS = rows_of_chords()
STAYING = [row for row in ROWS if not row.moves_its_key]
FIFTH_CENTS, THIRD_CENTS, HELD_CENTS = 2.2, 3.0, 6.5
THIRD_CENTS_OF_SEVENTHS, HELD_CENTS_OF_SEVENTHS = 4.0, 8.0
FIFTH_CENTS_OF_MOVING, THIRD_CENTS_OF_MOVING, HELD_CENTS_OF_MOVING = 3.5, 7.0, 14.0
HOME_CENTS = 0.1
SEVENTHS = "sevenths on every degree"
LEAN_CENTS = 3.0


def off(chord: ChordEvent, steps: tuple[int, ...]) -> float:
    """By how much the worst of a chord's intervals is off that are so many fifths wide, either way."""
    rows = list(zip(upwards(chord), pure_cents(chord), strict=True))
    return max(
        (
            abs(octave_cents(cents(high.hz) - cents(low.hz) - above + below))
            for (low, below), (high, above) in combinations(rows, 2)
            if abs(high.pitch.name.fifths - low.pitch.name.fifths) in steps
        ),
        default=0.0,
    )


@pytest.mark.parametrize("row", ROWS, ids=str)
@pytest.mark.parametrize("key", KEYS)
def test_spread_keeps_what_it_promises(row: Row, key: str) -> None:
    fifth, third, held = FIFTH_CENTS, THIRD_CENTS, HELD_CENTS
    if row.moves_its_key:
        fifth, third, held = FIFTH_CENTS_OF_MOVING, THIRD_CENTS_OF_MOVING, HELD_CENTS_OF_MOVING
    elif row.drill == SEVENTHS:
        third, held = THIRD_CENTS_OF_SEVENTHS, HELD_CENTS_OF_SEVENTHS
    score = sounding(row, key, "spread")
    for chord in score.changes:
        assert off(chord, (1,)) <= fifth, chord.symbol
        assert off(chord, (3, 4)) <= third, chord.symbol
    for old, new in neighbours(score):
        before, now = by_name(old), by_name(new)
        for name in set(before).intersection(now):
            assert abs(cents(now[name]) - cents(before[name])) <= held, f"{name}, {old.symbol} {new.symbol}"


def at_home(score: Score) -> list[ChordEvent]:
    """The chords on the tonic of the drone."""
    return [chord for chord in score.changes if root_and_kind(chord)[0] == str(score.drone[0].pitch.name)]


@pytest.mark.parametrize("row", STAYING, ids=str)
@pytest.mark.parametrize("key", KEYS)
def test_the_home_chord_of_spread_does_not_beat_with_the_drone(row: Row, key: str) -> None:
    """Root on the tonic, and all of it pure above it: at the start, on the way and at the end."""
    score = sounding(row, key, "spread")
    homes = at_home(score)
    for chord in homes:
        for tone, pure in zip(upwards(chord), pure_cents(chord), strict=True):
            assert within(cents(tone.hz) - cents(score.drone[0].hz) - pure, HOME_CENTS), chord.symbol
    if row.changes in {"round by two", "one four five"}:
        assert {score.changes[0].onset, score.changes[-1].onset} <= {chord.onset for chord in homes}


def test_left_to_the_others_home_would_lean() -> None:
    """Why home is a wish of its own: without it the first chord stands some cents high, and its root beats with a drone
    on the tonic; with it, less than one beat in ten seconds at middle C (262 Hz times 0.1 cents are 0.015 Hz)."""
    keyed = read_key("C major")
    tuned = tuning(440, "just", keyed.tonic)
    places = [chord_place(roman(numeral, keyed), tuned, frozenset()) for numeral in ("I", "vi", "ii", "V") * 4]
    leans, stands = spread(places, Weights(home=0.0))[0][0], spread(places)[0][0]
    assert leans > LEAN_CENTS
    assert abs(stands) < HOME_CENTS


def test_home_is_the_tonic_also_where_the_tuning_starts_from_another_note() -> None:
    block = 'drill = "turning scale"\ntempo = 90\nchanges = "round by two"\ndrone = "tonic"'
    top = '[tuning]\nreference = "D"\nchords = "spread"'
    score = composed(block, key="C major", played=manner("one a beat"), top=top).score
    homes = at_home(score)
    assert len(homes) > 2
    for chord in homes:
        assert within(cents(upwards(chord)[0].hz) - cents(score.drone[0].hz), HOME_CENTS)


@dataclass(frozen=True)
class Note:
    """A note of a row: its number, its anchored place, and how far pure lies above the root."""

    number: int
    place: float
    pure: float
    fifths: int


def notes(anchored: Score) -> list[dict[str, Note]]:
    """The notes of each chord by name, from the root up."""
    found: list[dict[str, Note]] = []
    for chord in anchored.changes:
        start = sum(map(len, found))
        rows = zip(upwards(chord), pure_cents(chord), strict=True)
        found.append(
            {
                str(tone.pitch): Note(start + count, cents(tone.hz), pure, tone.pitch.name.fifths)
                for count, (tone, pure) in enumerate(rows)
            }
        )
    return found


def equations(anchored: Score) -> Iterator[tuple[dict[int, float], float, float]]:
    """What the rule of `spread` wishes: numbers with their factors, the aim, the weight."""
    weights, chords, homes = Weights(), notes(anchored), at_home(anchored)
    for event, chord in zip(anchored.changes, chords, strict=True):
        root = next(iter(chord.values()))
        for note in chord.values():
            yield {note.number: 1.0}, note.place, weights.anchor
            if event in homes:
                yield {note.number: 1.0}, near(note.place, root.place + note.pure), weights.home
        for low, high in combinations(chord.values(), 2):
            worth = {1: FIFTH, 3: THIRD, 4: THIRD}.get(abs(high.fifths - low.fifths), OTHER)
            aim = near(high.place - low.place, high.pure - low.pure)
            yield {high.number: 1.0, low.number: -1.0}, aim, weights.vertical * worth
    for before, now in pairwise(chords):
        shared = [(before[name], now[name]) for name in now if name in before]
        for old, new in shared:
            yield {new.number: 1.0, old.number: -1.0}, 0.0, weights.held
        if not shared:
            old, new = next(iter(before.values())), next(iter(now.values()))
            yield {new.number: 1.0, old.number: -1.0}, new.place - old.place, weights.held


def near(place: float, aim: float) -> float:
    """The aim in the octave of a place."""
    return place + octave_cents(aim - place)


@pytest.mark.parametrize("row", STAYING, ids=str)
@pytest.mark.parametrize("key", KEYS[:2])
def test_spread_is_numpys_least_squares_of_its_rule(row: Row, key: str) -> None:
    score = sounding(row, key, "spread")
    found = [cents(tone.hz) for chord in score.changes for tone in upwards(chord)]
    asked = list(equations(sounding(row, key, "anchored")))
    matrix, aims = np.zeros((len(asked), len(found))), np.zeros(len(asked))
    for line, (terms, aim, weight) in enumerate(asked):
        aims[line] = aim * weight**0.5
        for place, factor in terms.items():
            matrix[line, place] = factor * weight**0.5
    referee = np.linalg.lstsq(matrix, aims, rcond=None)[0]
    assert found == pytest.approx(list(referee), abs=SLACK_CENTS)
