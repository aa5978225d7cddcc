"""Stopped in any way, at any moment: silent, the terminal as it was, the marks kept, the shell's exit code.

Referees  an instrument behind JACK 2, which counts what stands by MIDI 1.0; the terminal's own modes (POSIX.1 termios);
          bash for Ctrl-Z, bg and fg; SQLite for the logbook; 128 + the signal's number, every shell's habit.
"""

from __future__ import annotations

import random
import signal
import sqlite3
import time
from contextlib import closing
from pathlib import Path

import pytest

from tests.cli.play.session import DAY, home, marks_in, stands
from tests.cli.play.stand import OTHER_SCREEN, Stand, play_in
from tests.cli.programs import DRONER, droner_in
from tests.midi.live.jack import Ear
from tests.parts import need

ARRIVED_S = 0.15
STANDS_S = 0.4


def moments(count: int, seed: int) -> list[float]:
    """Moments drawn by chance: in the item, or in the breath after it."""
    chance = random.Random(seed)
    return [chance.uniform(0, 1.5) for _ in range(count)]


@pytest.mark.parametrize(
    ("number", "after_s"),
    [
        *((signal.SIGINT, after_s) for after_s in moments(3, 1)),
        *((signal.SIGTERM, after_s) for after_s in moments(3, 2)),
        *((signal.SIGHUP, after_s) for after_s in moments(2, 3)),
        (signal.SIGQUIT, 0.5),
    ],
)
def test_stopped_at_any_moment(
    room: Path, jack: dict[str, str], ear: Ear, number: signal.Signals, after_s: float
) -> None:
    with play_in(room, jack | home(room), DAY, "--port=ear0", "--wait=1") as stand:
        stand.until("GET READY")
        stand.until(lambda: "GET READY" not in stand.text)
        stand.press("c")
        time.sleep(after_s)
        stand.send(number)
        assert stand.end() == 128 + number
        assert stand.is_on_own_screen
        assert stand.modes == stand.modes_before
        assert "stopped" in stand.text
        assert "Traceback" not in stand.text
    time.sleep(ARRIVED_S)
    assert ear.standing == []
    assert ear.begun > 0
    assert [mark[2:4] for mark in marks_in(room)] == [(1, 1)]


@pytest.mark.usefixtures("ear")
def test_a_mark_that_no_logbook_took_is_told_though_a_signal_ends_it(room: Path, jack: dict[str, str]) -> None:
    with play_in(room, jack | home(room), DAY, "--port=ear0", "--logbook=marks") as stand:
        stand.until("GET READY")
        (room / "marks").mkdir()
        stand.until(lambda: "GET READY" not in stand.text)
        stand.press("c")
        stand.until("not written down")
        stand.send(signal.SIGTERM)
        assert stand.end() == 128 + signal.SIGTERM
        assert [line for line in stand.lines if line.startswith("not written down: ")]


def test_a_logbook_that_is_held_is_waited_for_whatever_is_pressed(room: Path, jack: dict[str, str], ear: Ear) -> None:
    with play_in(room, jack | home(room), DAY, "--port=ear0", "--logbook=marks") as stand:
        stand.until("GET READY")
        stand.until(lambda: "GET READY" not in stand.text)
        stand.press("c")
        stand.until("marked: ")
        with closing(sqlite3.connect(room / "marks", isolation_level=None)) as other:
            other.execute("BEGIN EXCLUSIVE")
            stand.press("m")
            time.sleep(STANDS_S)
            stand.press("q")
            stand.until("waiting for the logbook with the last mark")
            assert ear.standing == []
            stand.send(signal.SIGINT)
            time.sleep(STANDS_S)
            other.execute("ROLLBACK")
        assert stand.end() == 128 + signal.SIGINT
    told = droner_in(room, "log", "--last", "2", "--logbook=marks", "--json")
    assert [(entry["clean"], entry["total"]) for entry in told.data] == [(0, 1)]


def test_ctrl_c_on_the_keyboard(room: Path, jack: dict[str, str], ear: Ear) -> None:
    with play_in(room, jack | home(room), DAY, "--port=ear0") as stand:
        stand.until("GET READY")
        stand.press("\x03")
        assert stand.end() == 130
        assert stand.modes == stand.modes_before
    time.sleep(ARRIVED_S)
    assert ear.standing == []


def test_ctrl_z_gives_the_terminal_back_and_fg_takes_it_again(room: Path, jack: dict[str, str], ear: Ear) -> None:
    shell = need("bash")
    with Stand(room, [shell, "--norc", "--noprofile", "-i"], jack | home(room) | {"PS1": "ready> "}) as stand:
        stand.until("ready>")
        stand.press(" ".join([*DRONER, "play", DAY, "--port=ear0", "--wait=60"]) + "\n")
        stand.until("GET READY")
        stand.until(lambda: stands(ear))
        stand.press("\x1a")
        stand.until("Stopped")
        assert stand.is_on_own_screen
        assert ear.standing == []
        stand.press("echo told $((6*7)); stty\n")
        stand.until("told 42")
        assert "-icanon" not in stand.text
        assert "-echo\n" not in stand.text
        taken = stand.raw.count(OTHER_SCREEN)
        stand.press("bg\n")
        time.sleep(STANDS_S)
        assert stand.is_on_own_screen
        assert stand.raw.count(OTHER_SCREEN) == taken, "in the background it leaves the terminal alone"
        stand.press("fg\n")
        stand.until("PAUSED")
        stand.until(lambda: not stand.echoes)
        begun = ear.begun
        stand.press(" ")
        stand.until(lambda: ear.begun > begun)
        stand.press("q")
        stand.until(lambda: stand.is_on_own_screen)
        stand.press("echo ended with $?\n")
        stand.until("ended with 0")
        stand.press("exit\n")
        assert stand.end() == 0
    assert ear.standing == []


@pytest.mark.usefixtures("foot")
def test_ctrl_z_while_pedals_are_learned(room: Path, jack: dict[str, str]) -> None:
    shell = need("bash")
    with Stand(room, [shell, "--norc", "--noprofile", "-i"], jack | home(room) | {"PS1": "ready> "}) as stand:
        stand.until("ready>")
        stand.press(" ".join([*DRONER, "play", "--pedal=foot", "--learn"]) + "\n")
        stand.until("press the pedal")
        stand.press("\x1a")
        stand.until("Stopped")
        stand.press("echo told $((6*7)); stty\n")
        stand.until("told 42")
        assert "-icanon" not in stand.text
        stand.press("fg\n")
        stand.until(lambda: not stand.echoes)
        time.sleep(STANDS_S)
        stand.press("q")
        stand.until("what was learned before stays")
        stand.press("exit\n")
        assert stand.end() == 3
