"""In just tuning every major and minor chord is pure, on whichever degree, and nothing drifts.

Referee  five-limit arithmetic: a major triad is 4:5:6, a minor one 10:12:15. Two sizes of the second degree, 9/8 and
         10/9: without them D-A in C is 40/27, the wolf that the tables of just ratios list with 680.449 cents.
         Drift: held common tones through I vi ii V I sink by 81/80; standing on the tonic, by nothing.
"""

from __future__ import annotations

from math import floor, log2

import pytest

from droner.score.score import ChordEvent, Score, Tone
from tests.score.composed import MAJOR_KEYS, MINOR_KEYS, composed, manner

FLOAT_SLACK = 1e-12
"""Relative; a few roundings of a 53-bit fraction."""
WOLF_CENTS = 680.449
COMMA_CENTS = 21.506
CENTS_SLACK = 0.001
"""The tables print three decimals."""
BLOCKS = (
    'drill = "turning scale"\nchanges = "round by two"',
    'drill = "turning scale"\nchanges = "warm degrees"',
    'drill = "triads on every degree"\nchanges = "as played"',
    'drill = "every triad of each note"\nchanges = "as played"',
    'drill = "curving study"',
    'drill = "little curving study"',
)
PURE = {(4, 7): (5 / 4, 3 / 2), (3, 7): (6 / 5, 3 / 2)}


def triad(chord: ChordEvent) -> tuple[Tone, Tone, Tone] | None:
    """Root, third and fifth of a major or minor chord, found by their half-steps; None for others."""
    tones = {tone.pitch.midi % 12: tone for tone in chord.tones}
    root = next(tone for tone in chord.tones if chord.symbol.startswith(str(tone.pitch.name)))
    for third, fifth in PURE:
        places = [(root.pitch.midi + step) % 12 for step in (third, fifth)]
        if all(place in tones for place in places):
            return root, tones[places[0]], tones[places[1]]
    return None


def above(low: Tone, high: Tone) -> float:
    """The ratio of two tones within an octave; an octave is a unison."""
    octaves = log2(high.hz / low.hz)
    return float(2.0 ** (octaves - floor(octaves + FLOAT_SLACK)))


def scores(block: str) -> list[Score]:
    return [composed(block, key=key, played=manner("even in four")).score for key in MAJOR_KEYS + MINOR_KEYS]


@pytest.mark.parametrize("block", BLOCKS, ids=[block.replace("\n", ", ") for block in BLOCKS])
def test_every_major_and_minor_chord_is_pure(block: str) -> None:
    found = 0
    for score in scores(block):
        for chord in score.changes:
            tones = triad(chord)
            if tones:
                root, third, fifth = tones
                minor = (third.pitch.midi - root.pitch.midi) % 12 == 3
                assert above(root, third) == pytest.approx(6 / 5 if minor else 5 / 4, rel=FLOAT_SLACK), chord.symbol
                assert above(root, fifth) == pytest.approx(3 / 2, rel=FLOAT_SLACK), chord.symbol
                found += 1
    assert found > 24


@pytest.mark.parametrize("block", BLOCKS, ids=[block.replace("\n", ", ") for block in BLOCKS])
def test_a_note_of_the_drill_that_is_in_the_chord_agrees_with_it(block: str) -> None:
    agreed = 0
    for score in scores(block):
        for chord in score.changes:
            end = chord.onset + chord.length
            for note in score.solo:
                if chord.onset <= note.onset < end:
                    for tone in chord.tones:
                        if tone.pitch.name == note.pitch.name:
                            octaves = note.pitch.octave - tone.pitch.octave
                            assert note.hz == pytest.approx(tone.hz * 2.0**octaves, rel=FLOAT_SLACK)
                            agreed += 1
    assert agreed > 24


def chord_named(score: Score, symbol: str) -> dict[str, float]:
    chord = next(chord for chord in score.changes if chord.symbol == symbol)
    return {str(tone.pitch.name): tone.hz for tone in chord.tones}


def test_the_second_degree_comes_in_two_sizes() -> None:
    """D is 10/9 of C in D minor, so that F and A can stay, and 9/8 in G major and under the dominant of G."""
    block = 'drill = "curving study"\ntempo = 120'
    score = composed(block).score
    c3_hz = 440 * 2 ** (-21 / 12)
    low_d, high_d = chord_named(score, "Dm")["D"], chord_named(score, "G")["D"]
    assert low_d / c3_hz == pytest.approx(2 * 10 / 9, rel=FLOAT_SLACK)
    assert high_d / c3_hz == pytest.approx(2 * 9 / 8, rel=FLOAT_SLACK)
    assert 1200 * log2(high_d / low_d) == pytest.approx(COMMA_CENTS, abs=CENTS_SLACK)
    assert chord_named(score, "D7")["D"] == high_d
    assert chord_named(score, "D7")["A"] / c3_hz == pytest.approx(27 / 16, rel=FLOAT_SLACK)


@pytest.mark.parametrize("block", BLOCKS[:4], ids=[block.replace("\n", ", ") for block in BLOCKS[:4]])
def test_no_fifth_between_chord_and_still_drone_is_a_wolf(block: str) -> None:
    for score in scores(f'{block}\ndrone = "tonic"'):
        (tonic,) = score.drone
        for chord in score.changes:
            for tone in chord.tones:
                for ratio in (above(tonic, tone), above(tone, tonic)):
                    assert abs(1200 * log2(ratio) - WOLF_CENTS) > 1, chord.symbol


def test_home_is_the_same_at_the_end_as_at_the_start() -> None:
    """I vi ii V and round again: the tonic of the last chord is the drone's, to the last figure."""
    for key in MAJOR_KEYS:
        block = 'drill = "turning scale"\nchanges = "round by two"\ndrone = "tonic"\ntempo = 40'
        score = composed(block, key=key, played=manner("one a beat")).score
        tonic = score.drone[0]
        homes = [chord for chord in score.changes if chord.symbol == str(tonic.pitch.name)]
        assert len(homes) > 2
        for chord in homes:
            root = next(tone for tone in chord.tones if tone.pitch.name == tonic.pitch.name)
            assert above(tonic, root) == pytest.approx(1.0, rel=FLOAT_SLACK)


def test_over_a_drone_on_the_second_degree_the_chord_is_pure_on_the_drone() -> None:
    """The drone does not move for the chord: under D the fifth A comes up to 27/16 of C."""
    block = 'drill = "every triad of each note"\nspeeds = [100]\ndrone = "under each degree"'
    score = composed(block, played=manner("even in three")).score
    over_d = [
        (tone, chord)
        for chord in score.changes
        for tone in score.drone
        if tone.onset <= chord.onset < tone.onset + tone.length and str(tone.pitch.name) == "D" and chord.symbol == "Dm"
    ]
    assert over_d
    for drone, chord in over_d:
        notes = {str(tone.pitch.name): tone for tone in chord.tones}
        found = [above(drone, notes[name]) for name in ("D", "F", "A")]
        assert found == pytest.approx([1, 6 / 5, 3 / 2], rel=FLOAT_SLACK)


@pytest.mark.parametrize("temperament", ["equal", "meantone", "pythagorean", "vallotti"])
def test_other_temperaments_are_left_as_they_are(temperament: str) -> None:
    top = f'[tuning]\ntemperament = "{temperament}"'
    score = composed('drill = "turning scale"\nchanges = "round by two"', top=top, played=manner("one a beat")).score
    heard: dict[str, set[float]] = {}
    for chord in score.changes:
        for tone in chord.tones:
            heard.setdefault(str(tone.pitch), set()).add(tone.hz)
    assert all(len(found) == 1 for found in heard.values()), "one size of each note"


def test_a_third_that_the_player_chose_is_kept() -> None:
    """A minor third of 7/6 is no comma off, so no chord puts it back."""
    top = '[tuning]\nminor_third = "7/6"'
    block = 'drill = "turning scale"\nchanges = "one four five"'
    score = composed(block, key="C minor", top=top, played=manner("one a beat")).score
    home = chord_named(score, "Cm")
    ratio = home["Eb"] / home["C"]
    assert ratio == pytest.approx(7 / 6, rel=FLOAT_SLACK)
