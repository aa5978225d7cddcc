"""A drone alone and a click alone.

Referee  ISO 16 by its formula, just ratios by arithmetic; a minute has sixty seconds and, at 90, ninety beats.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from droner.score.plain import click_score, drone_score
from droner.score.score import ClickKind
from droner.theory.meter import meter
from droner.theory.pitch import note_name, pitch
from droner.theory.tuning import tuning
from droner.units import Beats, Seconds
from tests.score.composed import patterns

FLOAT_SLACK = 1e-12
"""Relative; a few roundings of a 53-bit fraction."""


@pytest.mark.parametrize("seconds", ["60", "1", "7.3", "3600.001"])
def test_a_drone_lasts_so_many_seconds_exactly(seconds: str) -> None:
    score = drone_score((pitch("D3"),), tuning(440.0, "just", note_name("D")), Fraction(seconds))
    assert score.duration == Seconds(Fraction(seconds))
    assert [(tone.onset, tone.onset + tone.length) for tone in score.drone] == [(Beats(0), score.length)]


def test_a_drones_tones_are_pure_on_its_tonic() -> None:
    """D3 at 442 stands at its equal place; F# 5/4, A 3/2, the octave 2/1."""
    pitches = tuple(pitch(name) for name in ("D3", "F#3", "A3", "D4"))
    score = drone_score(pitches, tuning(442.0, "just", note_name("D")), Fraction(10))
    d3_hz = 442 * 2 ** (-19 / 12)
    assert [tone.hz for tone in score.drone] == pytest.approx(
        [d3_hz * ratio for ratio in (1, 5 / 4, 3 / 2, 2)], rel=FLOAT_SLACK
    )
    assert score.a4_hz == 442
    assert (score.solo, score.changes, score.clicks) == ((), (), ())


def test_an_hour_of_clicks_at_90_is_5400_beats_and_an_hour_within_a_rounded_tempo() -> None:
    """90 a minute is 666667 microseconds (666666.7 rounded): 5400 of them are 1.8 ms over the hour."""
    score = click_score(meter("4/4"), patterns().clicks["every beat"], Fraction(90), 1350, 440.0)
    assert len(score.clicks) == 5400
    assert score.duration == Seconds(Fraction(5400 * 666_667, 1_000_000))
    assert [bar.number for bar in score.bars] == list(range(1, 1351))


def test_a_click_starts_at_once_and_has_no_count() -> None:
    score = click_score(meter("6/8"), patterns().clicks["every beat"], Fraction(60), 2, 440.0)
    assert score.clicks[0].onset == Beats(0)
    assert ClickKind.COUNT not in {click.kind for click in score.clicks}
    assert score.duration == Seconds(Fraction(6 * 666_667, 1_000_000)), "four dotted beats at sixty, as a file holds it"


@pytest.mark.parametrize("name", sorted(patterns().clicks))
def test_every_click_lies_inside_the_bars(name: str) -> None:
    for asked in ("4/4", "6/8", "7/8", "5/4", "3/8"):
        score = click_score(meter(asked), patterns().clicks[name], Fraction(90), 5, 440.0)
        onsets = [click.onset for click in score.clicks]
        assert onsets == sorted(set(onsets), key=lambda onset: onset.exact)
        assert all(Beats(0) <= onset < score.length for onset in onsets)
