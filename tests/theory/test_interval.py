"""Names of intervals. Referee: music21's interval names."""

from __future__ import annotations

from types import ModuleType

import pytest

from droner.theory.interval import degree, degrees, interval, interval_name
from droner.theory.pitch import Interval

SHORT = [f"{quality}{size}" for size in (2, 3, 6, 7) for quality in ("d", "m", "M", "A")]
SHORT += [f"{quality}{size}" for size in (1, 4, 5, 8) for quality in ("P", "A")] + ["d4", "d5", "d8", "M9", "M13"]


@pytest.mark.parametrize("short", SHORT)
def test_short_and_long_names_mean_what_music21_means(music21: ModuleType, short: str) -> None:
    judge = music21.interval.Interval(short)
    read = interval(short)
    assert (read.steps, read.semitones) == (judge.generic.staffDistance, judge.semitones)
    if read.steps < 7:
        assert interval_name(read) == judge.niceName.lower().replace("perfect unison", "unison")


@pytest.mark.parametrize("short", SHORT)
def test_a_name_reads_back(short: str) -> None:
    assert interval(interval_name(interval(short))) == interval(short)
    assert interval(f"{short} down") == -interval(short)


def test_wide_and_falling_intervals_are_named_in_octaves() -> None:
    # musicians' compound intervals: a ninth is an octave and a second; common practice, no source
    assert interval_name(interval("M9")) == "octave and a major second"
    assert interval_name(interval("P4 down")) == "perfect fourth down"
    assert interval("octave and a major second down") == Interval(-8, -14)


def test_degrees_are_counted_from_the_major_scale() -> None:
    # the natural minor scale against major: common practice, no source
    assert [one.semitones for one in degrees("1 2 b3 4 5 b6 b7")] == [0, 2, 3, 5, 7, 8, 10]
    assert degree("9") == Interval(8, 14)
    assert degree("bb7") == Interval(6, 9)


@pytest.mark.parametrize("text", ["", "0", "b", "3b", "#b3", "16"])
def test_what_is_no_degree_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="not a degree"):
        degree(text)


@pytest.mark.parametrize("text", ["", "third", "minor fifth", "P3", "M5", "m0"])
def test_what_is_no_interval_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="not an interval"):
        interval(text)
