"""Referee: arithmetic of exact fractions, and the limits that SMF 1.0 sets to division and tempo."""

from __future__ import annotations

from fractions import Fraction

import pytest

from droner.midi.ticks import PPQ, tick_at
from droner.units import Beats

LARGEST_DIVISION = 0x7FFF
"""SMF 1.0: bit 15 of the division is not ours."""
SLOWEST_QUARTER_S = Fraction(0xFFFFFF, 1_000_000)
"""SMF 1.0: a tempo is 24 bits of microseconds."""
AUDIBLE_S = Fraction(1, 1000)
"""A millisecond: no two attacks so close are heard apart."""

QUARTER, EIGHTH, SIXTEENTH = Fraction(1), Fraction(1, 2), Fraction(1, 4)
DOTTED = Fraction(3, 2)


def test_the_division_fits_the_file() -> None:
    assert 0 < PPQ <= LARGEST_DIVISION


@pytest.mark.parametrize("notes", range(1, 11))
@pytest.mark.parametrize("value", [QUARTER, EIGHTH, SIXTEENTH, QUARTER * DOTTED, EIGHTH * DOTTED])
def test_even_divisions_lie_on_ticks(value: Fraction, notes: int) -> None:
    assert (value / notes * PPQ).denominator == 1
    assert tick_at(Beats(value / notes)) == value / notes * PPQ


@pytest.mark.parametrize("notes", range(1, 11))
@pytest.mark.parametrize("value", [QUARTER, EIGHTH, QUARTER * DOTTED])
def test_notes_cut_to_half_end_on_ticks(value: Fraction, notes: int) -> None:
    assert (value / notes / 2 * PPQ).denominator == 1


def test_an_eleventh_is_rounded_once_and_never_drifts() -> None:
    for count in (1, 5, 10_001, 1_000_000_007):
        exact = Fraction(count, 11) * PPQ
        assert abs(tick_at(Beats(Fraction(count, 11))) - exact) <= Fraction(1, 2)


def test_no_tempo_of_a_file_makes_half_a_tick_a_millisecond() -> None:
    assert SLOWEST_QUARTER_S / PPQ / 2 < AUDIBLE_S
