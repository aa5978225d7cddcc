"""The tempo map is exact, its two directions are inverse, and a glide moves as a player feels it.

Referee  SMF 1.0: a set-tempo event holds whole microseconds a quarter, 24 bits of them; time is their sum, added up
         here beat by beat. Inverse functions: a theorem, tried by hypothesis.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import accumulate, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.score.tempo_map import Segment, TempoMap, glide, tempo_map, us_per_quarter
from droner.units import Beats, Seconds

QUARTERS_US = st.integers(1, 0xFFFFFF)
MICROSECOND = Fraction(1, 1_000_000)
HALF_A_MICROSECOND_A_QUARTER = 0.5
"""What rounding a stair of a glide may change."""
BPM_SLACK = 1e-3
"""A beat a minute, at 240 to the minute or slower, of half a microsecond a quarter."""


@st.composite
def maps(draw: st.DrawFn) -> TempoMap:
    lengths = draw(st.lists(st.fractions(Fraction(1, 64), 200, max_denominator=64), max_size=12))
    onsets = [Fraction(0), *accumulate(lengths)]
    return tempo_map([(Beats(onset), draw(QUARTERS_US)) for onset in onsets])


def second_by_sum(tempos: list[tuple[int, int]], beat: int) -> Fraction:
    """Whole beats from 0, each as long as the tempo that it starts in."""
    in_force = [max(tempo for tempo in tempos if tempo[0] <= count)[1] for count in range(beat)]
    return sum((quarter_us * MICROSECOND for quarter_us in in_force), Fraction(0))


def test_at_one_tempo_a_beat_is_that_many_microseconds() -> None:
    """63 a minute is FF 51 03 0E 88 3D: 952381 microseconds (SMF 1.0; the tempo table is arithmetic)."""
    steady = tempo_map([(Beats(0), 952_381)])
    assert steady.seconds_at(Beats(63)) == Seconds(Fraction(63 * 952_381, 1_000_000))
    assert steady.seconds_at(Beats(1, 3)) == Seconds(Fraction(952_381, 3_000_000))


def test_seconds_are_the_sum_of_the_beats_before() -> None:
    tempos = [(0, 1_000_000), (5, 666_667), (6, 333_333), (40, 952_381)]
    mapped = tempo_map([(Beats(onset), quarter_us) for onset, quarter_us in tempos])
    for beat in (0, 1, 5, 6, 7, 39, 40, 41, 100):
        assert mapped.seconds_at(Beats(beat)).exact == second_by_sum(tempos, beat)


def test_an_hour_of_quintuplets_adds_up_without_a_rounding() -> None:
    """3600 x 5 notes of a fifth of a beat that lasts 0.952381 s end on 3600 x 0.952381 s exactly."""
    steady = tempo_map([(Beats(0), 952_381)])
    spans = [steady.seconds_at(Beats(note + 1, 5)) - steady.seconds_at(Beats(note, 5)) for note in range(18_000)]
    assert set(spans) == {Seconds(Fraction(952_381, 5_000_000))}
    assert sum(spans, Seconds(0)).exact == 3600 * 952_381 * MICROSECOND


@given(maps(), st.fractions(0, 3000, max_denominator=10_080))
def test_from_beats_to_seconds_and_back_is_the_same_beat(mapped: TempoMap, beat: Fraction) -> None:
    assert mapped.beats_at(mapped.seconds_at(Beats(beat))) == Beats(beat)


@given(maps(), st.fractions(0, 30_000, max_denominator=48_000))
def test_from_seconds_to_beats_and_back_is_the_same_second(mapped: TempoMap, second: Fraction) -> None:
    assert mapped.seconds_at(mapped.beats_at(Seconds(second))) == Seconds(second)


@given(maps(), st.lists(st.fractions(0, 3000, max_denominator=960), min_size=2, unique=True))
def test_later_beats_fall_later(mapped: TempoMap, beats: list[Fraction]) -> None:
    seconds = [mapped.seconds_at(Beats(beat)) for beat in sorted(beats)]
    assert all(before < after for before, after in pairwise(seconds))


@given(maps())
def test_segments_join_without_gap_or_overlap(mapped: TempoMap) -> None:
    assert (mapped.segments[0].onset, mapped.segments[0].start) == (Beats(0), Seconds(0))
    for before, after in pairwise(mapped.segments):
        assert before.quarter_us != after.quarter_us
        lasts = (after.onset - before.onset).exact * before.quarter_us * MICROSECOND
        assert (after.start - before.start).exact == lasts


def test_moments_before_the_start_are_counted_back_at_the_first_tempo() -> None:
    mapped = tempo_map([(Beats(0), 500_000), (Beats(4), 1_000_000)])
    assert mapped.seconds_at(Beats(-1)) == Seconds(Fraction(-1, 2))
    assert mapped.beats_at(Seconds(Fraction(-1, 2))) == Beats(-1)


def test_a_tempo_equal_to_the_one_before_adds_no_segment() -> None:
    mapped = tempo_map([(Beats(0), 500_000), (Beats(4), 500_000), (Beats(8), 600_000)])
    assert mapped.segments == (
        Segment(Beats(0), Seconds(0), 500_000),
        Segment(Beats(8), Seconds(4), 600_000),
    )


@pytest.mark.parametrize(
    "tempos",
    [
        [],
        [(1, 500_000)],
        [(0, 500_000), (0, 600_000)],
        [(0, 500_000), (4, 600_000), (3, 500_000)],
        [(0, 0)],
        [(0, -1)],
        [(0, 0x1000000)],  # SMF 1.0: 24 bits
    ],
)
def test_a_map_that_no_file_could_hold_is_refused(tempos: list[tuple[int, int]]) -> None:
    with pytest.raises(ValueError, match=r"tempo|quarter"):
        tempo_map([(Beats(onset), quarter_us) for onset, quarter_us in tempos])


def test_the_slowest_tempo_of_a_midi_file_is_allowed() -> None:
    """FF 51 03 FF FF FF (SMF 1.0)."""
    assert tempo_map([(Beats(0), 0xFFFFFF)]).seconds_at(Beats(1)).exact == Fraction(0xFFFFFF, 1_000_000)


def test_a_glide_gains_the_same_beats_a_minute_with_every_beat() -> None:
    """From 60 to 120 in 61 beats is one beat a minute more with each: 60, 61, 62 ... (arithmetic)."""
    stair = glide(Beats(0), Beats(61), us_per_quarter(Fraction(60)), us_per_quarter(Fraction(120)), Beats(1))
    assert [onset for onset, _ in stair] == [Beats(beat) for beat in range(61)]
    for beat, (_, quarter_us) in enumerate(stair):
        assert abs(60_000_000 / quarter_us - (60 + beat)) < BPM_SLACK
        assert abs(quarter_us - 60_000_000 / (60 + beat)) <= HALF_A_MICROSECOND_A_QUARTER


@given(QUARTERS_US, QUARTERS_US, st.integers(2, 400))
def test_a_glide_starts_and_ends_where_it_was_asked_to_and_never_turns(start: int, stop: int, beats: int) -> None:
    quarters = [quarter_us for _, quarter_us in glide(Beats(3), Beats(beats), start, stop, Beats(1))]
    assert (quarters[0], quarters[-1]) == (start, stop)
    assert quarters == sorted(quarters, reverse=start > stop)


def test_a_glide_in_dotted_beats_has_a_stair_a_dotted_beat() -> None:
    stair = glide(Beats(3), Beats(6), 1_000_000, 500_000, Beats(3, 2))
    assert [onset for onset, _ in stair] == [Beats(3), Beats(9, 2), Beats(6), Beats(15, 2)]
