"""Chords in tune by three policies, and the ledger that tells it.

Referees  the syntonic comma, 1200 log2(81/80) = 21.506 cents, by which I vi ii V I sinks when its common tones are held
          (five-limit arithmetic); pure triads 4:5:6 and 10:12:15; numpy's least squares; the theorem that the least of
          a sum of squares cannot be bettered by moving one unknown.
"""

from __future__ import annotations

from itertools import pairwise
from math import log2

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from droner.errors import MistakesFound
from droner.score.least_squares import Wish, nearest_to
from droner.score.ledger import LedgerChord, ledger
from droner.score.score import ChordEvent
from tests.score.composed import MAJOR_KEYS, MINOR_KEYS, Composed, composed, manner, patterns, rows

COMMA_CENTS = 1200 * log2(81 / 80)
SLACK_CENTS = 1e-6
ROUND_BY_TWO = 'drill = "turning scale"\ntempo = 60\nchanges = "round by two"\ndrone = "none"\ncount_in = 0'
EXAMPLES = 40
FAR_CENTS = 200
"""Several laps of a comma each; more would be a chord in another key."""


def under(policy: str, block: str = ROUND_BY_TWO, key: str = "C major") -> Composed:
    return composed(block, key=key, played=manner("one a beat"), top=f'[tuning]\nchords = "{policy}"')


def home_chords(made: Composed) -> list[ChordEvent]:
    return [chord for chord in made.score.changes if chord.symbol == "C"]


def tonic_cents(chord: ChordEvent) -> float:
    """Above some C, whatever the octave."""
    (hz,) = {tone.hz for tone in chord.tones if str(tone.pitch.name) == "C"}
    return 1200 * (log2(hz / 440) % 1)


@pytest.mark.parametrize(("policy", "sinks"), [("free", COMMA_CENTS), ("anchored", 0.0)])
def test_a_round_of_held_common_tones_sinks_a_comma_a_lap_when_free(policy: str, sinks: float) -> None:
    homes = [tonic_cents(chord) for chord in home_chords(under(policy))]
    assert len(homes) > 2
    laps = [before - after for before, after in pairwise(homes)]
    turns = laps[:-1]  # the last is the ending: the dominant goes home at once
    assert turns == pytest.approx([sinks] * len(turns), abs=SLACK_CENTS)


def test_spread_drifts_less_than_half_a_comma_however_long_it_goes_on() -> None:
    homes = [tonic_cents(chord) for chord in home_chords(under("spread"))]
    assert max(homes) - min(homes) < COMMA_CENTS / 2


@pytest.mark.parametrize("key", ["C major", "F# minor", "Bb major"])
def test_every_triad_is_pure_in_itself_when_free(key: str) -> None:
    found = 0
    for chord in under("free", key=key).score.changes:
        ratios = sorted({round(tone.hz / min(one.hz for one in chord.tones), 6) for tone in chord.tones})
        if chord.symbol.endswith("m") or (chord.symbol.strip("#b").isalpha() and len(chord.tones) == 3):
            intervals = {log2(ratio) % 1 for ratio in ratios}
            pure = [{0.0, log2(third), log2(3 / 2)} for third in (5 / 4, 6 / 5)]
            inversions = [{(step - root) % 1 for step in triad} for triad in pure for root in triad]
            assert any(
                all(
                    min(abs(one - other), 1 - abs(one - other)) < 1e-5
                    for one, other in zip(sorted(intervals), sorted(each), strict=True)
                )
                for each in inversions
                if len(each) == len(intervals)
            ), chord.symbol
            found += 1
    assert found > 3


@given(st.integers(2, 8), st.integers(0, 10_000))
@settings(max_examples=EXAMPLES, deadline=None)
def test_the_least_squares_are_numpys_and_cannot_be_bettered(count: int, seed: int) -> None:
    chance = np.random.default_rng(seed)
    wishes = [Wish(((place, 1.0),), float(chance.normal()), 0.1) for place in range(count)]
    wishes += [
        Wish(((place, -1.0), (place + 1, 1.0)), float(chance.normal()), float(chance.uniform(0.1, 2)))
        for place in range(count - 1)
    ]
    matrix = np.zeros((len(wishes), count))
    for row, wish in enumerate(wishes):
        for place, factor in wish.terms:
            matrix[row, place] = factor
    root = np.sqrt([wish.weight for wish in wishes])
    aims = np.array([wish.aim for wish in wishes])
    found = np.array(nearest_to(wishes, count))
    assert found == pytest.approx(np.linalg.lstsq(matrix * root[:, None], aims * root, rcond=None)[0], abs=1e-9)

    def cost(values: np.ndarray) -> float:
        return float(np.sum((root * (matrix @ values - aims)) ** 2))

    for place in range(count):
        for step in (-0.01, 0.01):
            other = found.copy()
            other[place] += step
            assert cost(other) > cost(found)


@given(
    st.sampled_from(sorted(patterns().drills)),
    st.sampled_from(("anchored", "free", "spread")),
    st.sampled_from(MAJOR_KEYS + MINOR_KEYS),
    st.sampled_from(("plain cadence", "warm degrees", "round by two", "as played")),
)
@settings(max_examples=EXAMPLES, deadline=None)
def test_every_policy_writes_every_drill(drill: str, policy: str, key: str, changes: str) -> None:
    keyed = patterns().drills[drill].keyed
    block = f'drill = "{drill}"\ntempo = 90\nchanges = "{changes}"'
    made = composed(block, key=key if keyed else None, played=rows()[0], top=f'[tuning]\nchords = "{policy}"')
    for chord in made.score.changes:
        for tone in chord.tones:
            equal_hz = 440 * 2 ** ((tone.pitch.midi - 69) / 12)
            assert abs(1200 * log2(tone.hz / equal_hz)) < FAR_CENTS


def test_other_temperaments_have_no_such_choice() -> None:
    with pytest.raises(MistakesFound, match="only just tuning"):
        composed(ROUND_BY_TWO, top='[tuning]\ntemperament = "equal"\nchords = "free"')


def told(policy: str) -> tuple[LedgerChord, ...]:
    made = under(policy)
    return ledger(made.item, made.session)


def test_the_ledger_tells_every_chord_as_it_sounds() -> None:
    made, written = under("free"), told("free")
    assert [row.symbol for row in written] == [chord.symbol for chord in made.score.changes]
    for row, chord in zip(written, made.score.changes, strict=True):
        for tone, sounding in zip(row.tones, chord.tones, strict=True):
            equal_hz = 440 * 2 ** ((sounding.pitch.midi - 69) / 12)
            assert tone.equal_cents == pytest.approx(1200 * log2(sounding.hz / equal_hz), abs=SLACK_CENTS)


def test_the_ledger_tells_the_drift() -> None:
    drifts = {round(row.drift_cents, 3) for row in told("free") if row.symbol == "C"}
    assert {0.0, -21.506, -43.013} <= drifts | {-0.0}
    assert {row.drift_cents for row in told("anchored")} == {0.0}
