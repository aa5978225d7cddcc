"""A part in columns is the part: event by event, wherever one looks, alone and end to end.

Referee  the events that were put in, which Python itself compares field by field; arithmetic of fractions for what is
         moved. The events are invented.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.score.columns import different, end_to_end, in_columns, score_in_columns, with_each
from droner.score.score import Bearing, ChordEvent, Click, ClickKind, Tone
from droner.theory.pitch import pitch
from droner.units import Beats
from tests.score.composed import composed, manner

PARTS = ("solo", "drone", "changes", "clicks")
TOO_LARGE = Fraction(10**30, 7)
"""A moment that no eight bytes hold."""

moments = st.fractions(min_value=0, max_value=10_000, max_denominator=5_040).map(Beats)
courses = st.lists(st.builds(Bearing, moments, st.floats(-50, 50), st.floats(-6, 0)), max_size=2).map(tuple)
names = st.sampled_from(["D3", "Db3", "C#3", "A4"]).map(pitch)
tones = st.builds(
    Tone, moments, moments, names, st.sampled_from([146.8, 440.0]), st.sampled_from([0.0, -3.0]), st.booleans(), courses
)
clicks = st.builds(Click, moments, st.sampled_from(ClickKind), st.sampled_from([0.5, 1.0]))


@st.composite
def chords(draw: st.DrawFn) -> ChordEvent:
    """A chord whose tones nearly always share its onset, as they should."""
    onset = draw(moments)
    held = draw(st.lists(tones, max_size=3))
    together = held if draw(st.integers(0, 3)) == 0 else [replace(tone, onset=onset) for tone in held]
    return ChordEvent(onset, draw(moments), draw(st.sampled_from("CG")), "I", tuple(together))


parts = st.one_of(*(st.lists(events, max_size=12).map(tuple) for events in (tones, chords(), clicks)))


def later(event: Any, shift: Beats) -> Any:
    """The event and every moment in it, so much later."""
    moved = replace(event, onset=event.onset + shift)
    if isinstance(event, ChordEvent):
        return replace(moved, tones=tuple(later(tone, shift) for tone in event.tones))
    if isinstance(event, Tone):
        return replace(moved, course=tuple(later(bearing, shift) for bearing in event.course))
    return moved


@given(parts)
def test_every_event_comes_back_as_it_was(part: tuple[Any, ...]) -> None:
    columns: Sequence[Any] = in_columns(part)
    assert tuple(columns) == part
    assert [columns[place] for place in range(-len(part), len(part))] == [*part, *part]
    assert tuple(columns[1:-1]) == part[1:-1]
    assert columns == part
    assert part == columns
    assert hash(columns) == hash(part)


@given(parts, parts.filter(bool))
def test_other_events_are_not_the_same(one: tuple[Any, ...], other: tuple[Any, ...]) -> None:
    assert (in_columns(one) == other) is (one == other)
    assert in_columns(one) != (*one, *other)


@given(st.data(), st.lists(moments, max_size=4))
def test_end_to_end_each_piece_is_later_by_its_shift(data: st.DataObject, shifts: list[Beats]) -> None:
    kind = data.draw(st.sampled_from([tones, chords(), clicks]))
    pieces: list[tuple[Any, ...]] = [tuple(data.draw(st.lists(kind, max_size=6))) for _ in shifts]
    wanted = [later(event, shift) for piece, shift in zip(pieces, shifts, strict=True) for event in piece]
    assert [*end_to_end(zip(pieces, shifts, strict=True))] == wanted
    assert [*end_to_end((in_columns(piece), shift) for piece, shift in zip(pieces, shifts, strict=True))] == wanted


def test_a_shared_course_stays_shared() -> None:
    course = (Bearing(Beats(1), 5.0, 0.0),)
    part = [Tone(Beats(onset), Beats(1), pitch("D3"), 146.8, course=course) for onset in range(3)]
    assert len({id(tone.course) for tone in end_to_end([(part, Beats(2))])}) == 1


def test_moments_of_any_size_are_kept() -> None:
    part = (Click(Beats(0), ClickKind.BEAT), Click(Beats(TOO_LARGE), ClickKind.BEAT))
    assert tuple(in_columns(part)) == part


@pytest.mark.parametrize("name", PARTS)
def test_a_composed_score_is_the_same_score(name: str) -> None:
    score = composed(
        'drill = "turning scale"\ntempo = 63\nspeeds = [60, 100]', key="Eb major", played=manner("even in seven")
    ).score
    assert getattr(score_in_columns(score), name) == getattr(score, name)


def test_what_differs_only_in_its_onset_is_kept_once() -> None:
    part = [Click(Beats(beat), ClickKind.BEAT) for beat in range(100)]
    assert len(different(in_columns(part))) == 1


@given(parts)
def test_a_change_of_each_is_a_change_of_every_one(part: tuple[Any, ...]) -> None:
    def longer(event: Any) -> Any:
        return replace(event, gain=0.25) if isinstance(event, Click) else replace(event, length=event.length + Beats(1))

    assert tuple(with_each(in_columns(part), longer)) == tuple(map(longer, part))
