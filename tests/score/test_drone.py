"""The drone: what it holds, where it moves, that it never stops and is never struck for nothing.

Referee  frequencies: ISO 16 by its formula (C3 130.8128, A2 110). Just ratios: five-limit arithmetic, fifth 3/2,
         octave 2/1. Harmonics of a fingering: whole multiples. That a drone has no gap: design of the instrument,
         tried on every kind of drone with all sixty variants.
"""

from __future__ import annotations

from itertools import groupby, pairwise

import pytest

from droner.score.score import Score, Tone
from droner.units import Beats
from tests.score.composed import MAJOR_KEYS, MINOR_KEYS, composed, manner, patterns, rows, rows_in_keys

FLOAT_SLACK = 1e-12
"""Relative; a few roundings of a 53-bit fraction."""
SCALE = 'drill = "octave scale"'
MOVING = ("under each degree", "follows the note")


def together(score: Score) -> list[list[Tone]]:
    """The drone chord by chord: tones of one onset."""
    return [list(tones) for _, tones in groupby(score.drone, key=lambda tone: tone.onset)]


def held_at(score: Score, moment: Beats) -> list[Tone]:
    return [tone for tone in score.drone if tone.onset <= moment < tone.onset + tone.length]


@pytest.mark.parametrize(
    ("kind", "names", "ratios"),
    [
        ("tonic", ["C3"], [1.0]),
        ("fifth", ["G3"], [3 / 2]),
        ("tonic and fifth", ["C3", "G3"], [1.0, 3 / 2]),
        ("tonic in octaves", ["C3", "C4"], [1.0, 2.0]),
    ],
)
def test_a_still_drone_holds_its_degrees_in_pure_ratios(kind: str, names: list[str], ratios: list[float]) -> None:
    score = composed(f'{SCALE}\ndrone = "{kind}"').score
    c3_hz = 440 * 2 ** (-21 / 12)
    assert c3_hz == pytest.approx(130.8128, abs=5e-5)
    assert [str(tone.pitch) for tone in score.drone] == names
    assert [tone.hz / c3_hz for tone in score.drone] == pytest.approx(ratios, rel=FLOAT_SLACK)
    assert {(tone.onset, tone.length) for tone in score.drone} == {(Beats(0), score.length)}


@pytest.mark.parametrize("key", MAJOR_KEYS + MINOR_KEYS)
@pytest.mark.parametrize("temperament", ["just", "equal"])
def test_the_fifth_over_the_tonic_is_three_halves_in_every_key_or_seven_half_steps(key: str, temperament: str) -> None:
    top = f'[tuning]\ntemperament = "{temperament}"'
    low, high = composed(f'{SCALE}\ndrone = "tonic and fifth"', key=key, top=top).score.drone
    assert (high.pitch - low.pitch).semitones == 7
    wanted = 3 / 2 if temperament == "just" else 2 ** (7 / 12)
    assert high.hz / low.hz == pytest.approx(wanted, rel=FLOAT_SLACK)


def test_no_drone_is_no_drone() -> None:
    assert composed(f'{SCALE}\ndrone = "none"').score.drone == ()


def test_the_octave_can_be_asked_for_and_low_instruments_have_a_low_one() -> None:
    assert str(composed(f'{SCALE}\ndrone = "tonic"\ndrone_octave = 2').score.drone[0].pitch) == "C2"
    assert str(composed(f'{SCALE}\ndrone = "tonic"', top='instrument = "bassoon"').score.drone[0].pitch) == "C2"


def test_a_transposing_player_hears_the_tonic_that_is_written() -> None:
    """An alto saxophone reading C major sounds E flat."""
    score = composed(f'{SCALE}\ndrone = "tonic and fifth"', top='instrument = "alto saxophone"').score
    assert [str(tone.pitch) for tone in score.drone] == ["Eb3", "Bb3"]


STILL = sorted(
    name for name, row in patterns().drones.items() if not (row.bars_off or row.only or row.pairs or row.ghost_bars)
)


@pytest.mark.parametrize("kind", sorted(set(STILL) - {"none"}))
def test_it_sounds_from_the_count_in_to_the_end_without_a_gap_and_is_never_struck_again(kind: str) -> None:
    for drill in ("octave scale", "every triad of each note", "arpeggio through inversions"):
        for key, row in rows_in_keys(step=2):
            block = f'drill = "{drill}"\ndrone = "{kind}"\nspeeds = [70, 100]\nchanges = "none"'
            score = composed(block, key=key, played=row).score
            chords = together(score)
            assert chords[0][0].onset == Beats(0)
            for now, following in pairwise(chords):
                assert {tone.onset + tone.length for tone in now} == {following[0].onset}
                assert [tone.hz for tone in now] != [tone.hz for tone in following]
            assert {tone.onset + tone.length for tone in chords[-1]} == {score.length}
            assert len({len(chord) for chord in chords}) == 1


@pytest.mark.parametrize("kind", MOVING)
def test_a_moving_drone_moves_at_most_once_a_felt_beat(kind: str) -> None:
    for row in rows():
        made = composed(f'{SCALE}\ndrone = "{kind}"', played=row)
        for tone in made.score.drone[:-1]:
            assert tone.length >= made.item.meter.beat


@pytest.mark.parametrize("kind", MOVING)
def test_with_a_note_a_beat_the_drone_is_each_note(kind: str) -> None:
    score = composed(f'{SCALE}\ndrone = "{kind}"', played=manner("one a beat")).score
    for note in score.solo:
        (tone,) = held_at(score, note.onset)
        assert tone.pitch.name == note.pitch.name
        assert tone.hz * 2.0 ** (note.pitch.octave - tone.pitch.octave) == pytest.approx(note.hz, rel=FLOAT_SLACK)


def test_a_followed_note_is_in_unison_up_to_b5_and_octaves_below_above_that() -> None:
    score = composed('drill = "slow chromatic"', key=None).score
    octaves_down = set()
    for note in score.solo:
        (tone,) = held_at(score, note.onset)
        down = (note.pitch - tone.pitch).semitones
        assert note.hz / tone.hz == pytest.approx(2.0 ** (down / 12), rel=FLOAT_SLACK)
        assert down % 12 == 0
        assert (down == 0) == (note.pitch.midi <= 83), "B5 is MIDI 83"
        octaves_down.add(down // 12)
    assert octaves_down == {0, 1, 2}


def test_on_a_halt_the_drone_comes_to_the_note_that_is_held() -> None:
    """Stop and go: three quick notes and a halt of five quarters of a beat, which starts before the beat is over."""
    made = composed(f'{SCALE}\ndrone = "follows the note"', played=manner("stop and go"))
    halts = [note for note in made.score.solo if note.length == Beats(5, 4)]
    assert halts
    for note in halts:
        (tone,) = held_at(made.score, note.onset + note.length / 2)
        assert tone.pitch.name == note.pitch.name


def test_under_cells_of_three_the_drone_moves_where_the_cells_root_does() -> None:
    """Triads as root, third, fifth of each note in sixteenths: nine notes on each degree, then the next degree."""
    made = composed('drill = "every triad of each note"\nspeeds = [100]', played=manner("even in four"))
    first = made.item.performance.repeats[0].phrases[0]
    roots: dict[str, Beats] = {}
    for timed in first.phrase.notes:
        roots.setdefault(str(timed.laid.root.name), first.onset + timed.onset)
    tones = {str(tone.pitch.name): tone.onset for tone in reversed(made.score.drone)}
    for name, onset in list(roots.items())[1:4]:
        assert tones[name] == onset


def test_a_second_time_through_starts_with_its_first_note_in_the_count_in() -> None:
    """The slow chromatic ends at the top of the compass and starts again in the middle."""
    made = composed('drill = "slow chromatic"\nspeeds = [80, 100]\ncount_in = 2', key=None)
    again = made.item.performance.repeats[1]
    (before,), (tone,) = held_at(made.score, again.onset - Beats(1, 4)), held_at(made.score, again.onset)
    first = next(note for note in made.score.solo if note.onset >= again.onset)
    assert tone.pitch == first.pitch
    assert before.pitch != first.pitch


@pytest.mark.parametrize("instrument", ["flute", "clarinet", "horn"])
def test_under_partials_the_drone_is_the_fingering_and_every_note_a_whole_multiple_of_it(instrument: str) -> None:
    score = composed('drill = "partials"', key=None, top=f'instrument = "{instrument}"').score
    for note in score.solo:
        (tone,) = held_at(score, note.onset)
        multiple = note.hz / tone.hz
        assert multiple == pytest.approx(round(multiple), rel=FLOAT_SLACK)
    assert len({tone.hz for tone in score.drone}) > 1


def test_under_cells_that_climb_by_half_steps_the_drone_is_each_cells_pure_tonic() -> None:
    score = composed('drill = "five-note cells"', played=manner("even in four")).score
    tonics = {tone.pitch.midi: tone.hz for tone in score.drone}
    assert len(tonics) >= 12
    for midi, hz in tonics.items():
        assert hz == pytest.approx(440 * 2 ** ((midi - 69) / 12), rel=FLOAT_SLACK)
    fifths = 0
    for note in score.solo:
        (tone,) = held_at(score, note.onset)
        if (note.pitch - tone.pitch).semitones % 12 == 7:
            octaves = (note.pitch.midi - tone.pitch.midi) // 12
            assert note.hz / tone.hz == pytest.approx(3 / 2 * 2**octaves, rel=FLOAT_SLACK)
            fifths += 1
    assert fifths > 12


def test_a_note_spelled_two_ways_is_two_notes_to_a_drone_that_follows_in_just_tuning() -> None:
    """A sharp going up is a diesis of 41.059 cents or so from B flat coming down; the drone must not stay behind."""
    made = composed('drill = "running chromatic"\ndrone = "follows the note"\ntempo = 40', played=manner("one a beat"))
    for note in made.score.solo:
        (tone,) = held_at(made.score, note.onset)
        assert tone.hz * 2.0 ** (note.pitch.octave - tone.pitch.octave) == pytest.approx(note.hz, rel=FLOAT_SLACK)
