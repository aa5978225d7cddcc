"""Meters. Referees: the definition of simple and compound time (common practice), arithmetic of the bar,
music21's beat count and bar length."""

from __future__ import annotations

from fractions import Fraction
from types import ModuleType

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.theory.meter import UNITS, Meter, meter
from droner.units import Beats

meters = st.builds(Meter, st.lists(st.integers(1, 9), min_size=1, max_size=5).map(tuple), st.sampled_from(UNITS))

FELT = [
    # text, kind, beat in quarters, divisions, pulses in quarters; common practice, no source
    ("4/4", "simple", "1", 2, "0 1 2 3"),
    ("3/4", "simple", "1", 2, "0 1 2"),
    ("2/2", "simple", "2", 2, "0 2"),
    ("3/8", "simple", "1/2", 2, "0 1/2 1"),
    ("6/8", "compound", "3/2", 3, "0 3/2"),
    ("9/8", "compound", "3/2", 3, "0 3/2 3"),
    ("12/8", "compound", "3/2", 3, "0 3/2 3 9/2"),
    ("6/16", "compound", "3/4", 3, "0 3/4"),
    ("7/8", "additive", "1/2", 2, "0 1 2"),
    ("2+2+3/8", "additive", "1/2", 2, "0 1 2"),
    ("3+2+2/8", "additive", "1/2", 2, "0 3/2 5/2"),
    ("8/8", "additive", "1/2", 2, "0 3/2 3"),
    ("5/8", "additive", "1/2", 2, "0 3/2"),
    ("5/4", "additive", "1", 2, "0 1 2 3 4"),
    ("3+3/8", "additive", "1/2", 2, "0 3/2"),
]


@pytest.mark.parametrize(("text", "kind", "beat", "divisions", "pulses"), FELT)
def test_a_meter_is_felt_as_players_feel_it(text: str, kind: str, beat: str, divisions: int, pulses: str) -> None:
    felt = meter(text)
    assert felt.kind == kind
    assert felt.beat == Beats(beat)
    assert felt.divisions == divisions
    assert felt.pulses == tuple(Beats(onset) for onset in pulses.split())


@pytest.mark.parametrize("text", ["2/4", "3/4", "4/4", "2/2", "3/2", "6/8", "9/8", "12/8"])
def test_music21_counts_the_same_beats_in_the_same_bar(music21: ModuleType, text: str) -> None:
    judge = music21.meter.TimeSignature(text)
    ours = meter(text)
    assert len(ours.pulses) == judge.beatCount
    assert ours.beat.exact == Fraction(judge.beatDuration.quarterLength)
    assert ours.bar.exact == Fraction(judge.barDuration.quarterLength)
    assert ours.divisions == judge.beatDivisionCount


MUSIC21_NAMES = {"half": "halves", "quarter": "quarters", "eighth": "eighths"}


@pytest.mark.parametrize("text", ["2/2", "3/2", "2/4", "4/4", "6/8", "9/8", "12/8", "6/16", "9/16"])
def test_the_beat_is_called_as_music21_calls_it(music21: ModuleType, text: str) -> None:
    theirs = music21.meter.TimeSignature(text).beatDuration
    assert meter(text).beat_name == "dotted " * theirs.dots + MUSIC21_NAMES[theirs.type]


def test_an_additive_meter_counts_what_stands_below_the_line() -> None:
    """Common practice, no source."""
    named = [meter(text).beat_name for text in ("7/8", "5/4", "3+3/16")]
    assert named == ["eighths", "quarters", "sixteenths"]


@given(meters)
def test_a_bar_is_its_counts_and_its_pulses_lie_in_it_in_order(one: Meter) -> None:
    assert one.bar == Beats(4 * sum(one.groups), one.unit)
    assert one.pulses[0] == Beats(0)
    assert list(one.pulses) == sorted(set(one.pulses), key=float)
    assert one.pulses[-1] < one.bar
    assert set(one.group_onsets) <= set(one.pulses) | {Beats(0)}


@given(meters)
def test_the_beat_fills_the_bar_evenly(one: Meter) -> None:
    assert one.bar.ratio(one.beat).denominator == 1


@given(meters)
def test_an_additive_meter_reads_back_as_written(one: Meter) -> None:
    if len(one.groups) > 1:
        assert meter(str(one)) == one


def test_plain_five_seven_and_eight_eighths_take_their_usual_groups() -> None:
    # common practice, no source
    assert str(meter("5/4")) == "3+2/4"
    assert str(meter("7/8")) == "2+2+3/8"
    assert str(meter("8/8")) == "3+3+2/8"
    assert str(meter(" 4 / 4 ")) == "4/4"


@pytest.mark.parametrize(
    "text", ["", "4", "4/3", "0/4", "4/0", "2+/8", "+2/8", "2+0/8", "common", "99/8", "4/64", "1 2/8"]
)
def test_what_is_no_meter_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="is not a meter"):
        meter(text)


@pytest.mark.parametrize("text", ["\u0663/\u0664", "3/\u0664", "\uff14/\uff14", "\u0662+2/8"])
def test_figures_of_other_scripts_are_no_meter(text: str) -> None:
    with pytest.raises(ValueError, match="is not a meter"):
        meter(text)


@pytest.mark.parametrize("text", ["10/8", "11/8", "13/16"])
def test_a_meter_whose_groups_are_not_usual_asks_for_them(text: str) -> None:
    with pytest.raises(ValueError, match="needs its groups"):
        meter(text)


def test_an_impossible_meter_cannot_be_made() -> None:
    with pytest.raises(ValueError, match="counts notes"):
        Meter((3,), 3)
    with pytest.raises(ValueError, match="groups"):
        Meter((), 4)
