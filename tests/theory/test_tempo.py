"""Tempo in microseconds. Referee: SMF 1.0, set-tempo meta event: whole microseconds a quarter, 24 bits."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.theory.tempo import SLOWEST_US, glide, lasting, us_per_quarter
from droner.units import Beats, Seconds

WHOLE_MICROSECOND_BPM = 0.01
"""What rounding a quarter to whole microseconds does to a tempo of up to 300, with room to spare."""
bpms = st.integers(20, 300)


@pytest.mark.parametrize(
    ("bpm", "event"),
    # FF 51 03 and these three bytes; 120 is the standard's own default, the others by its rule
    [
        (40, "16 E3 60"),
        (60, "0F 42 40"),
        (63, "0E 88 3D"),
        (72, "0C B7 35"),
        (100, "09 27 C0"),
        (120, "07 A1 20"),
        (138, "06 A2 5F"),
        (208, "04 66 CE"),
    ],
)
def test_a_tempo_is_the_bytes_of_the_standard(bpm: int, event: str) -> None:
    assert us_per_quarter(bpm).to_bytes(3, "big") == bytes.fromhex(event)


def test_the_tempo_counts_the_beat_of_the_meter() -> None:
    # 6/8 at 60 dotted quarters a minute: a dotted quarter lasts a second, a quarter two thirds; by arithmetic
    assert us_per_quarter(60, Beats("3/2")) == 666_667
    assert us_per_quarter(120, Beats("1/2")) == us_per_quarter(60)


@pytest.mark.parametrize("bpm", [0.1, 3, 10**9])
def test_a_tempo_that_no_file_can_hold_is_refused(bpm: float) -> None:
    with pytest.raises(ValueError, match="cannot be written"):
        us_per_quarter(bpm)


def test_a_span_lasts_its_quarters_exactly() -> None:
    assert lasting(Beats("3/2"), 952_381) == Seconds(Fraction(952_381 * 3, 2_000_000))


@given(bpms, bpms, st.integers(2, 32))
def test_a_glide_is_a_stair_from_one_tempo_to_the_other(from_bpm: int, to_bpm: int, beats: int) -> None:
    from_us, to_us = us_per_quarter(from_bpm), us_per_quarter(to_bpm)
    stairs = glide(Beats(4), Beats(beats), from_us, to_us, Beats(1))
    tempos = [quarter_us for _, quarter_us in stairs]
    assert [onset for onset, _ in stairs] == [Beats(4 + beat) for beat in range(beats)]
    assert (tempos[0], tempos[-1]) == (from_us, to_us)
    assert all(0 < tempo <= SLOWEST_US for tempo in tempos)
    assert tempos == sorted(tempos, reverse=to_us < from_us)


@given(bpms, bpms)
def test_the_tempo_not_the_quarter_moves_by_equal_amounts(from_bpm: int, to_bpm: int) -> None:
    stairs = glide(Beats(0), Beats(9), us_per_quarter(from_bpm), us_per_quarter(to_bpm), Beats(1))
    tempos = [60_000_000 / quarter_us for _, quarter_us in stairs]
    moves = [after - before for before, after in pairwise(tempos)]
    assert moves == pytest.approx([(to_bpm - from_bpm) / 8] * 8, abs=WHOLE_MICROSECOND_BPM)
