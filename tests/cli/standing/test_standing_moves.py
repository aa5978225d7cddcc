"""What a wish makes of a drone or a click, on paper.

Referees  music21: scales, transposition and the spelling of intervals; the traditional metronome as its table's source
          quotes it (40 42 44 ..., 104 108 112 116 120 126, ... 200 208); a pseudo-random walk must come back.
"""

from __future__ import annotations

import random
from fractions import Fraction
from itertools import pairwise

import music21
import pytest

from droner.cli.standing_ground import MOST_TONES, Ground, ground, simplest
from droner.cli.standing_pulse import Pulse, next_number
from droner.cli.standing_wishes import Held, Wish
from droner.practice.pattern import ClickPattern
from droner.theory.meter import meter
from droner.theory.pitch import pitch

A4_HZ = Fraction(440)
EVERY_BEAT, OFF_BEATS = ClickPattern("every beat", ""), ClickPattern("off-beats", "", offset=Fraction(1, 2))


def drone(*names: str, temperament: str = "just") -> Ground:
    return ground(tuple(map(pitch, names)), A4_HZ, temperament, "medium", ("medium", "bright"))


def after(state: Ground, *wishes: Wish | Held) -> Ground:
    for wish in wishes:
        made = state.after(wish)
        assert isinstance(made, Ground), made
        state = made
    return state


def names(state: Ground) -> list[str]:
    return list(map(str, state.pitches))


def theirs(name: str) -> music21.pitch.Pitch:
    return music21.pitch.Pitch(name.replace("b", "-"))


def ours(found: music21.pitch.Pitch) -> str:
    return str(found.nameWithOctave).replace("-", "b")


@pytest.mark.parametrize("home", ["D3", "Eb3", "F3", "Bb2", "A3", "C4"])
def test_degrees_go_along_the_major_scale_and_the_fifth_stays_one(home: str) -> None:
    scale = music21.scale.MajorScale(theirs(home))  # type: ignore[no-untyped-call] # music21 has no annotation here
    state = drone(home, ours(theirs(home).transpose("P5")))
    for degree in [*range(2, 8), 1]:
        state = after(state, Wish.DEGREE_UP)
        octave = 1 if degree == 1 else 0
        tonic = next(found for found in scale.getPitches(home, theirs(home).transpose("P8"))[octave * 7 :]
                     if found.name == scale.pitchFromDegree(degree).name)  # fmt: skip
        assert names(state) == [ours(tonic), ours(tonic.transpose("P5"))]
    assert names(after(state, *[Wish.DEGREE_DOWN] * 7)) == names(drone(home, ours(theirs(home).transpose("P5"))))


def test_a_walk_of_any_length_can_be_walked_back() -> None:
    chance = random.Random(1)
    there = (Wish.DEGREE_UP, Wish.HALF_STEP_UP, Wish.OCTAVE_UP, Wish.A4_UP)
    back = (Wish.DEGREE_DOWN, Wish.HALF_STEP_DOWN, Wish.OCTAVE_DOWN, Wish.A4_DOWN)
    state, walked = drone("D3", "F#3", "A3"), list[int]()
    for _ in range(200):
        place = chance.randrange(4)
        moved = state.after(there[place])
        if isinstance(moved, Ground):
            state, walked = moved, [*walked, place]
    assert [tone.midi for tone in after(state, *(back[place] for place in reversed(walked))).pitches] == [50, 54, 57]


@pytest.mark.parametrize("written", ["D3", "D3 A3", "D3 F#3 A3", "D3 F3 A3", "D3 F#3 A3 C4"])
def test_half_steps_keep_every_interval_and_spell_it_with_as_few_signs_as_can_be(written: str) -> None:
    start = written.split()
    intervals = [music21.interval.Interval(theirs(start[0]), theirs(name)) for name in start]
    state = drone(*start)
    for step in range(1, 13):
        state = after(state, Wish.HALF_STEP_UP)
        assert state.pitches[0].midi == pitch("D3").midi + step
        found = [music21.interval.Interval(theirs(names(state)[0]), theirs(name)) for name in names(state)]
        assert found == intervals
        spelled = theirs(names(state)[0])
        others = [spelled, *spelled.getAllCommonEnharmonics(alterLimit=1)]
        signs = [sum(abs(other.transpose(each).alter) for each in intervals) for other in others]
        assert signs[0] == min(signs)


@pytest.mark.parametrize(
    ("keys", "spelled"),
    [
        ((60,), "C4"),
        ((61,), "Db4"),
        ((66,), "F#4"),
        ((58, 65), "Bb3 F4"),
        ((61, 64, 68), "C#4 E4 G#4"),
        ((61, 65, 68), "Db4 F4 Ab4"),
        ((50, 54, 57), "D3 F#3 A3"),
        ((50, 66), "D3 F#4"),
    ],
)
def test_what_is_held_is_spelled_as_a_player_would(keys: tuple[int, ...], spelled: str) -> None:
    """By hand: C sharp minor has four sharps and D flat major five flats; the others would have seven and more."""
    assert " ".join(names(after(drone("A4"), Held(keys)))) == spelled


def test_simplest_never_has_double_signs_for_one_tone() -> None:
    for midi in range(21, 109):
        assert abs(simplest(midi, ()).name.alter) <= 1
        assert simplest(midi, ()).midi == midi


def test_there_is_a_word_for_what_cannot_be() -> None:
    assert "further" in str(drone("C9").after(Wish.OCTAVE_UP))
    assert "further" in str(drone("C0").after(Wish.HALF_STEP_DOWN))
    assert "480" in str(ground((pitch("A4"),), Fraction(480), "just", "", ()).after(Wish.A4_UP))
    assert "own" in str(ground((pitch("A4"),), A4_HZ, "just", "", ()).after(Wish.TIMBRE))
    assert "held" in str(ground((), A4_HZ, "just", "", ()).after(Wish.DEGREE_UP))
    assert str(MOST_TONES) in str(drone("A4").after(Held(tuple(range(60, 61 + MOST_TONES)))))


def test_temperaments_and_timbres_come_round() -> None:
    state, seen = drone("D3"), []
    while state.temperament not in seen:
        seen.append(state.temperament)
        state = after(state, Wish.TEMPERAMENT)
    assert (state.temperament, seen[:3]) == ("just", ["just", "equal", "pythagorean"])
    assert after(drone("D3"), Wish.TIMBRE, Wish.TIMBRE).timbre == "medium"


def test_just_tuning_stands_on_the_tonic_wherever_it_is() -> None:
    state = drone("D3", "A3")
    for _ in range(30):
        low, high = (state.tuned.hz(each) for each in state.pitches)
        assert high / low == pytest.approx(3 / 2, rel=1e-12)
        state = after(state, Wish.DEGREE_UP) if _ % 3 else after(state, Wish.HALF_STEP_DOWN, Wish.HALF_STEP_DOWN)


def pulse(bpm: int, bar: str = "4/4") -> Pulse:
    return Pulse(meter(bar), EVERY_BEAT, Fraction(bpm), meter(bar), (EVERY_BEAT, OFF_BEATS))


def test_the_metronome_has_its_traditional_numbers_and_beyond_them_the_double_and_the_half() -> None:
    assert next_number(Fraction(84), 1) == 88
    assert next_number(Fraction(85), -1) == 84
    assert next_number(Fraction(208), 1) == 2 * 108
    assert next_number(Fraction(2 * 108), -1) == 208
    assert next_number(Fraction(40), -1) == Fraction(76, 2)
    assert next_number(Fraction(76, 2), 1) == 40
    for start, clicks, end in ((Fraction(20), 1, 400), (Fraction(400), -1, 20)):
        numbers = [start]
        while next_number(numbers[-1], clicks) != numbers[-1]:
            numbers.append(next_number(numbers[-1], clicks))
        assert numbers[-1] == end
        ratios = [max(one / other, other / one) for one, other in pairwise(numbers)]
        assert max(ratios) < Fraction(107, 100), "a step is never larger than those of the table, but at a seam"


def test_patterns_and_meters_come_round() -> None:
    state = pulse(84, "2+2+3/8")
    other = state.after(Wish.PATTERN)
    assert isinstance(other, Pulse)
    assert other.pattern == OFF_BEATS
    assert other.after(Wish.PATTERN) == state
    seen = []
    now: Pulse | str = state
    while isinstance(now, Pulse) and str(now.meter) not in seen:
        seen.append(str(now.meter))
        now = now.after(Wish.METER)
    assert now == state
    assert len(seen) == len(set(seen)) >= 9
    assert "further" in str(pulse(400).after(Wish.FASTER))


def test_a_pitch_is_nothing_of_a_click() -> None:
    assert isinstance(pulse(84).after(Wish.DEGREE_UP), str)
