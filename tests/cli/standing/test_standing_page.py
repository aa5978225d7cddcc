"""The screen of a live drone or click fits its terminal and shows what sounds; the keys are read one by one.

Referees  pyte, a terminal emulator: a page that is too wide or too high would wrap or scroll; ECMA-48 and xterm's
          cursor keys for what a terminal sends.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from droner.cli.keys import DOWN, LEFT, RIGHT, UP, whole_signs
from droner.cli.keys_table import Key
from droner.cli.play_letters import large
from droner.cli.play_letters_table import LETTERS
from droner.cli.play_paper import Paper
from droner.cli.standing_face import Face, one_line, page
from droner.cli.standing_ground import FLAT, ground
from droner.cli.standing_keys_table import CLICK_KEYS, DRONE_KEYS
from droner.cli.standing_pulse import Pulse
from droner.cli.standing_wishes import Wish
from droner.live.words import Place
from droner.practice.pattern import ClickPattern
from droner.theory.meter import meter
from droner.theory.pitch import pitch
from droner.units import Beats
from tests.cli.play.stand import need_pyte

SIZES = [(80, 24), (200, 60), (52, 14), (60, 22), (51, 24), (80, 13), (40, 12), (36, 10), (20, 4)]
SIX = ("Db3", "F3", "Ab3", "C4", "Eb4", "Gb4")
LONG = "a word that is long enough for nobody to read it at all on a terminal as narrow as this one here is"
PATTERN = ClickPattern("two bars on, two off", "", bars_on=2, bars_off=2)


def face_of(*names: str) -> Face:
    return ground(tuple(map(pitch, names)), Fraction(885, 2), "werckmeister 3", "carrying", ("carrying",)).face


def face_of_click() -> Face:
    pulse = Pulse(meter("2+2+3/8"), PATTERN, Fraction(200), meter("2+2+3/8"), (PATTERN,))
    return pulse.face(Place(Beats(2), 1234, 12, paused=False))


FACES = [(face_of("D3", "A3"), DRONE_KEYS), (face_of(*SIX), DRONE_KEYS), (face_of(), DRONE_KEYS),
         (face_of_click(), CLICK_KEYS)]  # fmt: skip


@pytest.mark.parametrize(("columns", "lines"), SIZES)
@pytest.mark.parametrize(("face", "keys"), FACES)
def test_no_page_is_wider_or_higher_than_its_terminal(
    columns: int, lines: int, face: Face, keys: tuple[Key, ...]
) -> None:
    pyte = need_pyte()
    for paused in (False, True):
        drawn = page(face, LONG, keys, Paper(columns, lines), paused=paused)
        screen = pyte.Screen(columns, lines)
        pyte.Stream(screen).feed("\r\n".join(drawn))
        assert [line.rstrip() for line in screen.display][: len(drawn)] == [line.rstrip() for line in drawn]
        assert len(drawn) <= lines
        assert ("PAUSED" in drawn[0]) == (paused and Paper(columns, lines).is_roomy)


@pytest.mark.parametrize("size", [(40, 12), (51, 24), (80, 13)])
def test_where_large_letters_have_no_room_the_line_goes_on_below(size: tuple[int, int]) -> None:
    text = " ".join(" ".join(page(face_of_click(), "a remark", CLICK_KEYS, Paper(*size), paused=True)).split())
    assert text == " ".join(one_line(face_of_click(), "a remark", paused=True).split())
    for words in ("200 eighths a minute", "1234.12", "paused", "a remark"):
        assert words in text


def test_news_without_room_end_at_a_word() -> None:
    text = "\n".join(page(face_of("D3"), LONG, DRONE_KEYS, Paper(60, 22), paused=False))
    assert "a word that is long enough for nobody to read it at...\n" in text


def test_a_page_shows_the_pitches_large_and_the_tuning() -> None:
    text = "\n".join(page(face_of("Db3", "Ab3"), "a remark", DRONE_KEYS, Paper(100, 30), paused=False))
    for row in (*large(f"D{FLAT}3 A{FLAT}3"), *large("442.5")):
        assert row.rstrip() in text
    for words in ("D flat 3, A flat 3", "werckmeister 3 tuning", "A4 = 442.5 Hz", "carrying", "a remark", "q end"):
        assert words in text


def test_where_all_pitches_have_no_room_some_have() -> None:
    text = "\n".join(page(face_of(*SIX), "", DRONE_KEYS, Paper(80, 24), paused=False))
    assert large(f"D{FLAT}3")[1].rstrip() in text
    assert "D flat 3, F 3, A flat 3, C 4, E flat 4, G flat 4" in text


def test_a_page_of_a_click_shows_tempo_bar_and_beat() -> None:
    text = "\n".join(page(face_of_click(), "", CLICK_KEYS, Paper(100, 30), paused=False))
    first = zip(large("200"), large("1234"), large("12"), strict=True)
    for tempo, bar, beat in first:
        assert all(part.strip() in text for part in (tempo, bar, beat))
    assert "200 eighths a minute, 2+2+3/8; click: two bars on, two off" in text


def test_one_line_says_it_all() -> None:
    assert one_line(face_of("D3"), "a remark", paused=True) == (
        "D3  werckmeister 3 tuning, A4 = 442.5 Hz  carrying  paused  a remark"
    )


def test_signs_are_drawn_and_look_like_no_letter() -> None:
    for sign in ("#", FLAT, "/", "+"):
        assert len({len(row) for row in LETTERS[sign]}) == 1
        assert LETTERS[sign] not in [rows for other, rows in LETTERS.items() if other != sign]


@pytest.mark.parametrize("keys", [DRONE_KEYS, CLICK_KEYS])
def test_every_key_gives_one_wish(keys: tuple[Key, ...]) -> None:
    signs = [sign for key in keys for sign in key.sign + key.also]
    assert len(signs) == len(set(signs))
    assert {Wish(key.command) for key in keys} >= {Wish.PAUSE, Wish.END}


@pytest.mark.parametrize(
    ("sent", "keys", "begun"),
    [
        ("a+B", "a+b", ""),
        ("\x1b[A\x1b[B\x1b[C\x1b[D", UP + DOWN + RIGHT + LEFT, ""),
        ("\x1bOAq", f"{UP}q", ""),  # cursor keys in application mode
        ("\x1b[1;5C", RIGHT, ""),  # with Ctrl
        ("\x1b[3~\x1b[15~n", "n", ""),  # Delete and F5 are nothing of ours
        ("q\x1b", "q", "\x1b"),
        ("\x1b[1;", "", "\x1b[1;"),
        ("\x1bO", "", "\x1bO"),
    ],
)
def test_what_a_terminal_sends_is_parted_into_keys(sent: str, keys: str, begun: str) -> None:
    assert whole_signs(sent) == (keys, begun)


def test_a_sequence_that_comes_in_pieces_is_one_key() -> None:
    for cut in range(1, 5):
        first, begun = whole_signs("+\x1b[A"[:cut])
        second, rest = whole_signs(begun + "+\x1b[A"[cut:])
        assert (first + second, rest) == (f"+{UP}", "")
