"""Orders of keys. Referees: the full cycle (group theory: 1, 5, 7 and 11 generate the twelve pitch classes),
the circle of fifths, usual spellings (common practice, no source)."""

from __future__ import annotations

from itertools import pairwise

import pytest

from droner.theory.key import usual_keys
from droner.theory.key_order import KEY_ORDERS, key_order
from droner.theory.pitch import note_name

MAJORS = "C Db D Eb E F F# G Ab A Bb B"
MINORS = "C C# D Eb E F F# G G# A Bb B"
STARTS = ["C", "B", "Eb", "D#", "F#", "Gb", "B#"]


@pytest.mark.parametrize("name", KEY_ORDERS)
@pytest.mark.parametrize("start", STARTS)
def test_an_order_is_a_full_cycle_of_usual_keys(name: str, start: str) -> None:
    order = key_order(name, note_name(start))
    sounds = {(one.tonic.pitch_class, one.mode) for one in order}
    assert len(order) == len(sounds) == (24 if "then" in name or "pairs" in name else 12)
    assert set(order) <= set(usual_keys())
    assert order[0].tonic.pitch_class == note_name(start).pitch_class


def test_half_steps_up_from_the_lowest_b_go_minor_then_major() -> None:
    # keys up by half-step, minor then major of each tonic, from the instrument's lowest note: common practice
    order = key_order("half-steps up, minor then major", note_name("B"))
    assert [str(one) for one in order[:6]] == ["B minor", "B major", "C minor", "C major", "C# minor", "Db major"]


def test_keys_are_spelled_as_players_write_them() -> None:
    assert " ".join(str(one.tonic) for one in key_order("half-steps up, major", note_name("C"))) == MAJORS
    assert " ".join(str(one.tonic) for one in key_order("half-steps up, minor", note_name("C"))) == MINORS


@pytest.mark.parametrize(("name", "step"), [("circle of fifths, major", 7), ("circle of fourths, minor", 5)])
def test_a_circle_moves_by_its_interval(name: str, step: int) -> None:
    order = key_order(name, note_name("G"))
    assert {(after.tonic.pitch_class - before.tonic.pitch_class) % 12 for before, after in pairwise(order)} == {step}


def test_the_circle_of_fifths_adds_a_sharp_each_time() -> None:
    order = key_order("circle of fifths, major", note_name("C"))
    assert [one.signature for one in order[:7]] == [0, 1, 2, 3, 4, 5, 6]


def test_relative_pairs_share_their_signature() -> None:
    order = key_order("relative pairs", note_name("C"))
    for major, minor in zip(order[::2], order[1::2], strict=True):
        assert major.signature == minor.signature
        assert (major.mode, minor.mode) == ("major", "minor")


def test_relative_pairs_add_a_flat_each_time() -> None:
    order = key_order("relative pairs", note_name("C"))
    assert [one.signature for one in order[::2]] == [0, -1, -2, -3, -4, -5, 6, 5, 4, 3, 2, 1]


def test_down_is_up_backwards() -> None:
    up = key_order("half-steps up, major", note_name("C"))
    down = key_order("half-steps down, major", note_name("B"))
    assert down == up[::-1]


def test_an_unknown_order_gets_the_nearest() -> None:
    with pytest.raises(ValueError, match="did you mean half-steps up, minor then major"):
        key_order("half steps up, minor then major", note_name("C"))
