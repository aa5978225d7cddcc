"""A line too long for the air is cut where a musician would breathe.

Referee  what a phrase may hold and how many pieces that takes, by division; the order of places (a turn, the tonic, any
         cell) is common practice, no source.
"""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.practice.cut import cut
from droner.practice.layout.line import LaidNote
from droner.theory.pitch import pitch
from tests.practice.lines import line

C4, D4 = pitch("C4"), pitch("D4")


def notes(count: int, *, turns: int = -1, tonic: int = -1, opens: int = 1) -> tuple[LaidNote, ...]:
    """A row of D4; one turn and one tonic C4 in it; every so many notes a cell opens. Invented."""
    return tuple(
        LaidNote(C4 if place == tonic else D4, D4, place // opens, place % opens == 0, place == turns)
        for place in range(count)
    )


def ends(found: list[tuple[LaidNote, ...]]) -> list[int]:
    """Where each piece ends in the line."""
    last, places = 0, []
    for piece in found:
        last += len(piece) - 1
        places.append(last)
    return places


@given(st.integers(2, 300), st.integers(2, 60), st.integers(1, 7), st.integers(1, 8), st.integers(0, 300))
def test_as_few_pieces_as_the_air_allows_and_each_starts_where_the_last_one_stopped(
    count: int, most: int, size: int, opens: int, turns: int
) -> None:
    whole = notes(count, turns=turns, opens=opens)
    found = cut(whole, most, size, C4)
    assert all(2 <= len(piece) <= most for piece in found)
    assert all(two[0] is one[-1] for one, two in pairwise(found))
    assert (*found[0], *(note for piece in found[1:] for note in piece[1:])) == whole
    assert len(found) == -(-(count - 1) // (most - 1))


def test_what_fits_is_not_cut() -> None:
    assert len(cut(notes(21), 21, 4, C4)) == 1


def test_a_turn_comes_before_a_tonic_and_a_tonic_before_any_other_note() -> None:
    assert ends(cut(notes(21), 15, 1, C4)) == [10, 20]  # even shares
    assert ends(cut(notes(21, tonic=11), 15, 1, C4)) == [11, 20]
    assert ends(cut(notes(21, tonic=11, turns=9), 15, 1, C4)) == [9, 20]


def test_a_cut_falls_where_a_cell_opens() -> None:
    assert ends(cut(notes(21, opens=3), 15, 1, C4)) == [9, 20]


def test_among_equals_a_place_that_fills_the_rhythm_is_best() -> None:
    assert ends(cut(notes(21), 15, 4, C4))[0] in (8, 12)
    assert ends(cut(notes(21, turns=9), 15, 4, C4))[0] == 9


@pytest.mark.parametrize(("key", "top"), [("C major", "D7"), ("D minor", "D7"), ("Bb major", "D7"), ("F major", "F6")])
def test_a_scale_over_the_whole_flute_breathes_at_its_top_or_on_a_tonic_near_it(key: str, top: str) -> None:
    # 45 notes or so, and air for 33: the middle of the line is at its highest note or not far
    whole = line("turning scale", key)
    found = cut(whole.notes, 33, 4, whole.home)
    assert [str(piece[-1].pitch) for piece in found] == [top, str(whole.home)]


def test_with_less_air_it_breathes_on_the_tonic_too() -> None:
    whole = line("turning scale", "C major")
    found = cut(whole.notes, 17, 4, whole.home)
    assert [str(piece[-1].pitch) for piece in found] == ["C6", "C6", "C4"]
