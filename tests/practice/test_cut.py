"""A line too long for the air is cut where a musician would breathe.

Referee  what a phrase may hold and how many pieces that takes, by division; the order of places (a turn, the tonic, any
         cell), and that silence for nothing is worth avoiding, are common practice, no source.
"""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.practice.cut import cut
from droner.practice.layout.line import LaidNote
from droner.practice.reach import Reach
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


def carrying(most: int, inner: int = 0, size: int = 1, needless: tuple[float, ...] = ()) -> Reach:
    """So many notes to a breath; `inner` of them before another phrase, as many when it is not said."""
    return Reach(most, inner or most, size, needless)


@given(
    st.integers(2, 300),
    st.integers(2, 60),
    st.integers(2, 60),
    st.integers(1, 7),
    st.integers(1, 8),
    st.integers(0, 300),
)
def test_as_few_pieces_as_air_and_bars_allow_and_each_starts_where_the_last_one_stopped(
    count: int, most: int, less: int, size: int, opens: int, turns: int
) -> None:
    whole, inner = notes(count, turns=turns, opens=opens), min(most, less)
    found = cut(whole, carrying(most, inner, size), C4)
    assert all(2 <= len(piece) <= inner for piece in found[:-1])
    assert 2 <= len(found[-1]) <= most
    assert all(two[0] is one[-1] for one, two in pairwise(found))
    assert (*found[0], *(note for piece in found[1:] for note in piece[1:])) == whole
    fewest = 1 + -(-max(count - most, 0) // (inner - 1))
    assert len(found) >= fewest
    assert opens > 1 or len(found) == fewest


@given(st.integers(2, 300), st.integers(2, 60), st.integers(1, 8))
def test_no_cell_is_parted_of_which_a_breath_carries_two(count: int, most: int, opens: int) -> None:
    found = cut(notes(count, opens=opens), carrying(most), C4)
    assert all(piece[0].opens for piece in found) or 2 * opens > most - 1


def test_what_fits_is_not_cut() -> None:
    assert len(cut(notes(21), carrying(21, size=4), C4)) == 1


def test_a_turn_comes_before_a_tonic_and_a_tonic_before_any_other_note() -> None:
    assert ends(cut(notes(21), carrying(15), C4)) == [10, 20]  # even shares
    assert ends(cut(notes(21, tonic=11), carrying(15), C4)) == [11, 20]
    assert ends(cut(notes(21, tonic=11, turns=9), carrying(15), C4)) == [9, 20]


def test_a_cut_falls_where_a_cell_opens() -> None:
    assert ends(cut(notes(21, opens=3), carrying(15), C4)) == [9, 20]


def test_among_equals_a_place_that_fills_the_rhythm_is_best() -> None:
    assert ends(cut(notes(21), carrying(15, size=4), C4))[0] in (8, 12)
    assert ends(cut(notes(21, turns=9), carrying(15, size=4), C4))[0] == 9


def test_a_cell_is_not_parted_where_a_breath_more_will_do() -> None:
    # twenty steps in two breaths of eleven would be cut after nine to eleven of them, inside a cell of eight or six
    assert ends(cut(notes(21, opens=8), carrying(12), C4)) == [8, 16, 20]
    assert ends(cut(notes(21, opens=6), carrying(12), C4)) == [6, 12, 20]


def test_a_cell_longer_than_the_breath_is_parted() -> None:
    assert ends(cut(notes(21, opens=20), carrying(12), C4)) == [10, 20]


def test_only_the_last_phrase_may_leave_its_bar_empty() -> None:
    # thirty steps; a breath carries fifteen, but only ten of them fill their bars: ten, then what is left
    assert ends(cut(notes(31), carrying(16, inner=11), C4))[:-1] == [10, 20]
    assert ends(cut(notes(26), carrying(16, inner=11), C4)) == [10, 25]


def test_silence_for_nothing_counts_against_a_place() -> None:
    # an even share is ten steps; after ten and more the bar line is three seconds off, after nine it is not
    silent = (*(0.0,) * 10, *(3.0,) * 5)
    assert ends(cut(notes(21), carrying(15, needless=silent), C4)) == [9, 20]
    # a turn is worth it
    assert ends(cut(notes(21, turns=11), carrying(15, needless=silent), C4)) == [11, 20]


@pytest.mark.parametrize(("key", "top"), [("C major", "D7"), ("D minor", "D7"), ("Bb major", "D7"), ("F major", "F6")])
def test_a_scale_over_the_whole_flute_breathes_at_its_top_or_on_a_tonic_near_it(key: str, top: str) -> None:
    # 45 notes or so, and air for 33: the middle of the line is at its highest note or not far
    whole = line("turning scale", key)
    found = cut(whole.notes, carrying(33, size=4), whole.home)
    assert [str(piece[-1].pitch) for piece in found] == [top, str(whole.home)]


def test_with_less_air_it_breathes_on_the_tonic_too() -> None:
    whole = line("turning scale", "C major")
    found = cut(whole.notes, carrying(17, size=4), whole.home)
    assert [str(piece[-1].pitch) for piece in found] == ["C6", "C6", "C4"]
