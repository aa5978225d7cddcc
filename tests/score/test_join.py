"""A day end to end: each item lies in it as it was, moved by exactly what comes before.

Referee  arithmetic on the single scores: a moment of an item is its own moment, later by the sum of the others.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest

from droner.score.join import join
from droner.score.score import Score
from droner.score.tempo_map import tempo_map
from droner.units import Beats, Seconds
from tests.score.composed import composed, manner

PLACED = ("bars", "keys", "markers", "cues", "breaths", "solo", "drone", "clicks")
PARTS = (*PLACED, "changes")


def day() -> list[Score]:
    blocks = [
        ('drill = "slow chromatic"\ntempo = 50', None, None),
        ('drill = "turning scale"\ntempo = 63\nglide = [80, 120]', "Eb major", manner("even in seven")),
        ('drill = "triads on every degree"\ntempo = 77\nspeeds = [60, 100]', "C# minor", manner("even in three")),
        ('drill = "curving study"', "G major", None),
    ]
    return [composed(block, key=key, played=played).score for block, key, played in blocks]


def test_nothing_is_lost_and_nothing_added() -> None:
    scores = day()
    joined = join("a day", scores)
    for part in PARTS:
        assert len(getattr(joined, part)) == sum(len(getattr(score, part)) for score in scores)


def test_every_event_is_later_by_the_beats_before_it_and_otherwise_unchanged() -> None:
    scores = day()
    joined = join("a day", scores)
    for part in PLACED:
        events = iter(getattr(joined, part))
        before = Fraction(0)
        for score in scores:
            for event in getattr(score, part):
                moved = next(events)
                assert moved.onset.exact == event.onset.exact + before
                assert replace(moved, onset=event.onset) == event
            before += score.length.exact


def test_the_tones_of_a_chord_move_with_it() -> None:
    for chord in join("a day", day()).changes:
        assert {(tone.onset, tone.length) for tone in chord.tones} == {(chord.onset, chord.length)}


def test_the_day_lasts_as_long_as_its_items_to_the_microsecond() -> None:
    scores = day()
    joined = join("a day", scores)
    assert joined.duration == sum((score.duration for score in scores), Seconds(0))
    assert joined.length == sum((score.length for score in scores), Beats(0))


def test_every_moment_falls_at_its_own_second_after_the_seconds_before() -> None:
    scores = day()
    joined = join("a day", scores)
    beats, seconds = Beats(0), Seconds(0)
    for score in scores:
        for note in score.solo[:: max(len(score.solo) // 20, 1)]:
            own = score.tempo_map.seconds_at(note.onset)
            assert joined.tempo_map.seconds_at(note.onset + beats) == seconds + own
        beats, seconds = beats + score.length, seconds + score.duration


def test_bars_follow_one_another_through_the_day() -> None:
    joined = join("a day", day())
    for bar, following in pairwise(joined.bars):
        assert bar.onset + bar.meter.bar == following.onset
    assert joined.bars[-1].onset + joined.bars[-1].meter.bar == joined.length


def test_a_tempo_that_goes_on_adds_no_tempo_event() -> None:
    one = composed('drill = "octave scale"\ntempo = 60', played=manner()).score
    assert join("twice", [one, one]).tempo_map == tempo_map([(Beats(0), 1_000_000)])


def test_one_item_is_itself() -> None:
    (one,) = day()[:1]
    assert join(one.title, [one]) == one


def test_a_day_of_nothing_or_of_two_pitches_is_refused() -> None:
    one = composed('drill = "octave scale"', played=manner()).score
    with pytest.raises(ValueError, match="no items"):
        join("nothing", [])
    with pytest.raises(ValueError, match="one A4"):
        join("two", [one, replace(one, a4_hz=442.0)])
