"""The screen of a live day fits its terminal, whatever is on it, and its large letters can be told apart.

Referees  pyte, a terminal emulator: a page that is too wide or too high would wrap or scroll; the plan's own words.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction
from itertools import combinations, pairwise
from string import ascii_uppercase, digits

import pytest

from droner.cli.play_board import Board, Kind, Scene, large_names
from droner.cli.play_letters import ROWS, large, large_width
from droner.cli.play_letters_table import LETTERS
from droner.cli.play_page import one_line, page
from droner.cli.play_paper import NARROWEST, Paper, shortened
from droner.cli.play_scores import silent_score
from droner.live.words import Place
from droner.practice.plan import Planner
from droner.practice.reading.files import load_patterns, load_session
from droner.score.compose import bars_of
from droner.score.tempo_map import tempo_map
from droner.score.words import manner_words, shown_bpm
from droner.theory.key_order import key_order
from droner.theory.pitch import note_name
from droner.units import Beats
from tests.cli.play.stand import need_pyte

SIZES = [(80, 24), (200, 60), (52, 14), (60, 22), (60, 20), (51, 24), (80, 13), (40, 12), (36, 10), (20, 4), (40, 1)]
WHOLE = [(80, 24), (60, 20), (40, 12), (200, 60)]
"""Sizes at which no number and no key may be cut."""
LATE = 128
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


def long_names() -> list[str]:
    """The longest names of drills in the library, and one that a player might give."""
    longest = sorted((drill.name for drill in load_patterns().drills.values()), key=len)[-3:]
    return [*longest, "a drill of my own with a name that is longer than any line of a small terminal"]


def with_drill(board: Board, name: str, kind: Kind = Kind.ITEM) -> Scene:
    """The scene of a board with its drill under another name, late in a day of more than a hundred items."""
    assert board.scene is not None
    item = board.scene.item
    renamed = replace(item, drill=replace(item.drill, name=name))
    return replace(
        board.scene, kind=kind, item=renamed, following=renamed, number=101, of=126, seconds=Fraction(3725),
        after=Fraction(3600),
    )  # fmt: skip


@pytest.mark.parametrize("size", WHOLE)
@pytest.mark.parametrize("name", long_names())
def test_key_tempo_bar_and_time_are_whole_at_every_size(size: tuple[int, int], name: str) -> None:
    """An hour, two minutes and five seconds are left less what two beats took; an hour more of the day."""
    for board in boards()[:: len(Kind)]:
        board.scene = scene = with_drill(board, name)
        board.place = lambda: Place(Beats(2), LATE, 12, paused=False)
        rows = page(board, Paper(*size))
        text = "\n".join(rows)
        left = round(float(3725 - scene.tempos.seconds_at(Beats(2)).exact))
        assert "101 of 126" in text
        assert f"1:{left // 60 - 60:02}:{left % 60:02} left" in text
        assert f"2:{left // 60 - 60:02}:{left % 60:02}" in text
        if scene.item.key:
            heads = [row for row in rows if row.endswith(f", {scene.item.key}") or f", {scene.item.key}  " in row]
            assert heads
            comes = [row for row in rows if row.lstrip().startswith("next: ")]
            assert all(f", {scene.item.key}" in row for row in comes)
            assert comes or size == (40, 12)
        assert f"bar {LATE} of " in text
        for label, number in (("beat", "12"), ("tempo", shown_bpm(scene.bpm_at(Beats(2))))):
            drawn = [row.rstrip() for row in large(number)]
            assert f"{label} {number}" in text or all(any(part in row for row in rows) for part in drawn)


@pytest.mark.parametrize("size", WHOLE)
def test_what_is_left_out_leaves_a_sign(size: tuple[int, int]) -> None:
    """Each line of small print ends with the end of its text or with the sign."""
    for board in boards()[:: len(Kind)]:
        scene = board.scene
        assert scene is not None
        comes = scene.following
        row = next((row for row in page(board, Paper(*size)) if row.lstrip().startswith("next: ")), None)
        if comes is not None:
            assert row is not None
            assert row.endswith(("...", f", {comes.key}", *("; ".join(manner_words(comes)), "plain")))


def test_a_text_is_cut_behind_a_word() -> None:
    assert shortened("dynamic with the contour", 24) == "dynamic with the contour"
    assert shortened("dynamic with the contour", 23) == "dynamic with the..."
    assert shortened("accent, cross", 10) == "accent..."
    assert shortened("unbroken", 6) == "unb..."


def test_a_minor_key_is_never_written_large_without_its_mode() -> None:
    for board in boards():
        assert board.scene is not None
        key = board.scene.item.key
        if str(key).endswith("minor"):
            assert all(name.lower().endswith("minor") for name in large_names(board.scene.item))


@pytest.mark.parametrize("size", [(80, 24), (200, 60)])
def test_a_page_says_what_sounds_under_the_drill(size: tuple[int, int]) -> None:
    for board in boards()[:: len(Kind)]:
        assert board.scene is not None
        item = board.scene.item
        board.tuning = "just tuning"
        text = " ".join(" ".join(page(board, Paper(*size))).split())
        assert f"drone: {item.drone.name};" in text or (item.drone.name == "none" and "no drone;" in text)
        assert f"chords: {item.changes.name};" in text or "no chords;" in text
        assert "just tuning" in text


@pytest.mark.parametrize("times", [1, 3])
def test_the_last_bar_is_that_of_the_score(times: int) -> None:
    """The score numbers bars on through all repeats; count-ins have no number."""
    for board in boards()[:: len(Kind)]:
        assert board.scene is not None
        item = board.scene.item
        again = replace(item.performance, repeats=item.performance.repeats * times)
        scene = replace(board.scene, item=replace(item, performance=again))
        assert scene.bars == bars_of(scene.item)[-1].number


@pytest.mark.parametrize("size", WHOLE)
@pytest.mark.parametrize("kind", [Kind.BREATH, Kind.REST])
def test_a_pause_says_which_item_the_keys_are_for(size: tuple[int, int], kind: Kind) -> None:
    """The rule of `play_day`: in a pause a mark, again, slower and faster are for the item before."""
    for before, after in pairwise(boards()[:: len(Kind)]):
        assert before.scene is not None
        assert after.scene is not None
        over, comes = before.scene.item, after.scene.item
        before.scene = replace(after.scene, kind=kind, following=comes)
        text = " ".join(" ".join(page(before, Paper(*size))).split())
        is_plain = over.key is not None and over.key != comes.key
        named = f"{over.drill.name}, {over.key}" if over.key else over.drill.name
        assert f"{over.key if is_plain else named} is over: c clean, m not yet, a again" in text
        assert (f"{named} is over" in text) == (not is_plain)


@pytest.mark.parametrize("size", WHOLE)
def test_how_a_run_was_marked_is_never_cut(size: tuple[int, int]) -> None:
    board = boards()[0]
    board.remark, board.mark = "", "octatonic scale, half step first, C# minor, 132: not yet"
    text = "\n".join(page(board, Paper(*size)))
    assert "C# minor, 132: not yet" in text


def test_a_pause_is_written_over_the_place() -> None:
    board = boards()[0]
    board.place = lambda: Place(Beats(2), 3, 1, paused=True)
    assert "PAUSED" in "\n".join(page(board, Paper(80, 24)))
    assert "paused" in one_line(board)


@pytest.mark.parametrize("size", WHOLE)
def test_a_pause_hides_neither_bar_nor_beat_nor_tempo(size: tuple[int, int]) -> None:
    for board in boards()[:: len(Kind)]:
        assert board.scene is not None
        board.place = lambda: Place(Beats(2), LATE, 12, paused=True)
        tempo = shown_bpm(board.scene.bpm_at(Beats(2)))
        text = "\n".join(page(board, Paper(*size)))
        assert f"bar {LATE} of {board.scene.bars}, beat 12, tempo {tempo}" in text
        assert all(row.rstrip() in text for row in large("paused"))


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
