"""The screen of a live day fits its terminal, whatever is on it, and its large letters can be told apart.

Referees  pyte, a terminal emulator: a page that is too wide or too high would wrap or scroll; the plan's own words.
"""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from itertools import combinations
from string import ascii_uppercase, digits

import pytest

from droner.cli.play_board import Board, Kind, Scene
from droner.cli.play_letters import ROWS, large, large_width
from droner.cli.play_letters_table import LETTERS
from droner.cli.play_page import one_line, page
from droner.cli.play_paper import NARROWEST, Paper
from droner.cli.play_scores import silent_score
from droner.live.words import Place
from droner.practice.plan import Planner
from droner.practice.reading.files import load_patterns, load_session
from droner.score.tempo_map import tempo_map
from droner.theory.key_order import key_order
from droner.theory.pitch import note_name
from droner.units import Beats
from tests.cli.play.stand import need_pyte

SIZES = [(80, 24), (200, 60), (52, 14), (60, 22), (51, 24), (80, 13), (20, 4), (40, 1)]
ROOM = 80 - 4
"""Columns of an ordinary terminal, without the edges of the page."""


def boards() -> list[Board]:
    """A board for each item of a day of the built-in session, in each kind of scene."""
    patterns = load_patterns()
    session = load_session(None, patterns)
    items = [one.item for one in Planner(session, patterns).day(date(2026, 11, 25)).items]
    silence = silent_score("", Fraction(4), 440.0)
    found = []
    for number, item in enumerate(items):
        for kind in Kind:
            tempos = tempo_map(item.performance.tempos) if kind is Kind.ITEM else silence.tempo_map
            following = items[number + 1] if number + 1 < len(items) else None
            board = Board(placed, str)
            board.mark, board.remark = "a mark that is long enough for nobody to read it at all", "a remark"
            board.scene = Scene(
                kind, item, number + 1, len(items), tempos, Fraction(90), Fraction(1000), following, item.meter.beat
            )
            found.append(board)
    return found


def placed() -> Place:
    return Place(Beats(2), 128, 12, paused=False)


@pytest.mark.parametrize(("columns", "lines"), SIZES)
def test_no_page_is_wider_or_higher_than_its_terminal(columns: int, lines: int) -> None:
    pyte = need_pyte()
    for board in boards():
        drawn = page(board, Paper(columns, lines))
        screen = pyte.Screen(columns, lines)
        pyte.Stream(screen).feed("\r\n".join(drawn))
        assert [line.rstrip() for line in screen.display][: len(drawn)] == [line.rstrip() for line in drawn]
        assert len(drawn) <= lines


def test_a_page_says_what_sounds_how_where_and_what_comes() -> None:
    """Two beats at 60 a minute of a minute and a half leave 1:28."""
    board = boards()[len(Kind)]
    assert board.scene is not None
    text = "\n".join(page(board, Paper(100, 30)))
    item, following = board.scene.item, board.scene.following
    assert following is not None
    for words in (
        f"{item.drill.name}, {item.key}",
        "1:28 left",
        "bar",
        "beat",
        "tempo",
        f"next: {following.drill.name}",
    ):
        assert words in text
    for row in (*large(item.key.spoken if item.key else ""), *large("128")):
        assert row.rstrip() in text


def test_a_pause_is_written_over_the_place() -> None:
    board = boards()[0]
    board.place = lambda: Place(Beats(2), 3, 1, paused=True)
    assert "PAUSED" in "\n".join(page(board, Paper(80, 24)))
    assert "paused" in one_line(board)


def test_where_there_is_no_room_there_is_one_line() -> None:
    for board in boards():
        assert len(page(board, Paper(NARROWEST - 1, 50))) == 1


@pytest.mark.parametrize("sign", [*ascii_uppercase, *digits, ".", "-", ":"])
def test_a_large_letter_has_five_rows_of_one_width(sign: str) -> None:
    rows = LETTERS[sign]
    assert (len(rows), len({len(row) for row in rows})) == (ROWS, 1)
    assert set("".join(rows)) == {"#", " "} or sign == "I"


def test_no_two_letters_or_two_figures_look_the_same() -> None:
    for signs in (ascii_uppercase, digits):
        for one, other in combinations(signs, 2):
            assert LETTERS[one] != LETTERS[other], f"{one} and {other}"


def test_every_usual_key_has_room_on_an_ordinary_terminal() -> None:
    keys = key_order("half-steps up, minor then major", note_name("C"))
    assert len(keys) == 24
    assert max(large_width(key.spoken) for key in keys) <= ROOM
