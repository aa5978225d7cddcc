"""A tempo goes to the ladder and back as it was played, and never changes places with another.

Referee  theorem: a map that keeps the order has slower tempos below faster ones, on the ladder as in the room. Seven
         notes in a beat in the time of four are played at 4/7 of the tempo, by hand.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.practice.density import slowed_by, slowing
from droner.practice.items import PLAIN
from droner.practice.played_tempo import on_the_ladder, played_bpm, slowing_of, slowing_of_item
from droner.theory.metronome_table import TRADITIONAL_BPM
from tests.practice.days import MONDAY, item_of, session_of
from tests.practice.entries import entry
from tests.practice.lines import patterns

BLOCK = 'drill = "thirds"\nladder = { from = 60, to = 120 }'
SLOWINGS = st.integers(4, 12).map(lambda notes: Fraction(4, notes))
TEMPOS = st.integers(20, 400).map(lambda halves: Fraction(halves, 2))
ASKED = st.sampled_from(TRADITIONAL_BPM).map(Fraction)


@given(TEMPOS, ASKED, SLOWINGS)
def test_what_was_told_comes_back_within_the_metronome_s_step(told: Fraction, asked: Fraction, slows: Fraction) -> None:
    """Exactly, but where the plan's own rung is meant, or where another rung of the metronome is played as fast."""
    ladder = on_the_ladder(told, asked, slows)
    shown = played_bpm(ladder, slows)
    if shown != told:
        assert slowed_by(ladder, slows) == shown
        assert shown <= told <= ladder * slows


@given(TEMPOS, TEMPOS, ASKED, SLOWINGS)
def test_what_is_played_faster_stands_no_lower(
    one: Fraction, other: Fraction, asked: Fraction, slows: Fraction
) -> None:
    slower, faster = sorted((one, other))
    assert on_the_ladder(slower, asked, slows) <= on_the_ladder(faster, asked, slows)


@given(ASKED, SLOWINGS)
def test_the_plan_s_own_tempo_is_its_rung_and_shown_as_planned(asked: Fraction, slows: Fraction) -> None:
    planned = slowed_by(asked, slows)
    assert on_the_ladder(planned, asked, slows) == asked
    assert played_bpm(asked, slows) == planned


@pytest.mark.parametrize("name", sorted({variant.rhythm for variant in patterns().variants}))
def test_an_entry_is_slowed_as_its_item_was(name: str) -> None:
    variant = next(one for one in patterns().variants if one.rhythm == name)
    item = item_of(BLOCK, variant=variant)
    told = entry(MONDAY, 1, 1, drill="thirds", variant=variant.number, session="Practice")
    assert slowing_of(told, session_of(BLOCK), patterns()) == slowing_of_item(item)


def test_seven_in_a_beat_are_slowed_to_four_sevenths() -> None:
    rhythm = patterns().rhythms["even in seven"]
    beat = item_of(BLOCK).meter.beat
    assert slowing(rhythm, beat) == Fraction(4, 7)
    assert slowing(patterns().rhythms[PLAIN.rhythm], beat) == 1


def test_what_is_not_known_here_is_not_guessed() -> None:
    assert slowing_of(entry(MONDAY, 1, 1, drill="another's own"), None, patterns()) is None
    assert slowing_of(entry(MONDAY, 1, 1, drill="thirds", variant=10**6), None, patterns()) is None
