"""A dense rhythm slows the beat, so that notes come no faster than four to a beat would.

Referee  arithmetic in Fractions, worked out beside each row; the metronome's numbers as in `tests/theory`. The rule
         itself is common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.practice.density import most_in_a_beat, slowed_bpm
from droner.practice.item import Item
from droner.practice.pattern import Rhythm, Variant
from droner.theory.meter import meter
from droner.units import Beats
from tests.practice.days import item_of
from tests.practice.lines import patterns

DENSE = {"even in five": 5, "even in seven": 7}
"""Droner's own rhythms of more than four notes to a beat, by their names."""

WIDEST_STEP = Fraction(76, 72)
"""Of the metronome: 5.56 per cent."""


def rhythm_of(text: str, written: str = "4/4") -> Rhythm:
    """A rhythm as a pattern file writes it. Invented."""
    return Rhythm("mine", "", tuple(Beats(length) for length in text.split()), written)


def spoken(rhythm: str) -> Variant:
    """A variant that is plain but for its rhythm. Invented."""
    return Variant(7, rhythm, "all slurred", "medium", "no accent", "every beat", "from the low tonic")


@pytest.mark.parametrize(
    ("text", "written", "most"),
    [
        ("1/4 1/4 1/4 1/4", "4/4", 4),
        ("1/8 1/8 1/8 1/8 1/2", "4/4", 5),
        ("1/4 1/4 1/4 5/4", "4/4", 4),  # then a beat on which nothing begins
        ("1 1/6 1/6 1/6 1/6 1/6 1/6", "4/4", 6),  # one, then six
        ("3/4 1/2 1/4 1/2", "4/4", 2),  # 0, 3/4 | 5/4, 3/2
        ("1/4 1/4 1/4 1/4 1/4 1/4", "6/8", 6),  # sixteenths to a dotted beat
        ("1/2 1/2 1/2", "12/8", 3),
        ("1/4 1/4", "7/8", 2),  # an additive meter counts its eighths
    ],
)
def test_the_densest_felt_beat_is_counted(text: str, written: str, most: int) -> None:
    assert most_in_a_beat(rhythm_of(text, written), meter(written).beat) == most


@pytest.mark.parametrize(
    ("bpm", "notes", "slowed"),
    [
        (96, 7, 54),  # 96 x 4/7 = 54.86
        (126, 7, 72),  # 126 x 4/7 = 72, itself a number
        (60, 5, 48),  # 60 x 4/5 = 48
        (84, 5, 66),  # 84 x 4/5 = 67.2
        (84, 6, 56),  # 84 x 4/6 = 56
        (60, 8, 30),  # slower than the metronome goes
        (50, 7, 28),  # 50 x 4/7 = 28.57
        (30, 7, Fraction(120, 7)),  # 17.1: a whole number would be too far off
        (300, 5, 240),  # faster than it goes
        (69, 4, 69),
        (Fraction(133, 2), 3, Fraction(133, 2)),  # as it is written
    ],
)
def test_the_beat_is_slowed_to_the_number_below(bpm: Fraction, notes: int, slowed: Fraction) -> None:
    even = rhythm_of(" ".join([f"1/{notes}"] * notes))
    assert slowed_bpm(Fraction(bpm), even, Beats(1)) == slowed


@given(st.fractions(20, 300, max_denominator=10), st.integers(1, 16))
def test_notes_come_no_faster_than_four_to_the_beat_asked_for_and_hardly_slower(bpm: Fraction, notes: int) -> None:
    slowed = slowed_bpm(bpm, rhythm_of(" ".join([f"1/{notes}"] * notes)), Beats(1))
    assert slowed <= bpm
    assert slowed * notes <= bpm * 4
    assert slowed * max(notes, 4) * WIDEST_STEP >= bpm * 4


def tempos(item: Item) -> tuple[Fraction, Fraction]:
    """The tempo at which it is played, and the tempo that is asked for."""
    return item.bpm, item.asked_bpm


def test_a_drill_with_lengths_of_its_own_is_left_alone() -> None:
    assert slowed_bpm(Fraction(132), None, Beats(1)) == 132
    item = item_of('drill = "tongue bursts"\ntempo = 132', "Eb major")
    assert tempos(item) == (Fraction(132), Fraction(132))


@pytest.mark.parametrize("name", sorted(patterns().rhythms))
def test_of_our_own_rhythms_fives_and_sevens_are_slowed(name: str) -> None:
    item = item_of('drill = "turning scale"\ntempo = 96', "C major", spoken(name))
    expected = {4: 96, 5: 76, 7: 54}[DENSE.get(name, 4)]  # 96 x 4/5 = 76.8, 96 x 4/7 = 54.86
    assert tempos(item) == (Fraction(expected), Fraction(96))


def test_a_ladders_rung_and_a_drills_own_tempo_are_slowed_too() -> None:
    on_a_ladder = item_of(
        'drill = "turning scale"\nladder = { from = 63, to = 126 }', "C major", spoken("even in seven")
    )
    assert tempos(on_a_ladder) == (Fraction(36), Fraction(63))  # 63 x 4/7 = 36, below the metronome
    its_own = item_of('drill = "turning scale"', "C major", spoken("even in five"))
    assert tempos(its_own) == (Fraction(66), Fraction(84))  # 84 x 4/5 = 67.2


def test_what_is_heard_goes_at_the_slowed_tempo() -> None:
    item = item_of('drill = "octave scale"\ntempo = 96', "C major", spoken("even in seven"))
    assert {us for _, us in item.performance.tempos} == {1_111_111}  # 60 000 000 / 54
