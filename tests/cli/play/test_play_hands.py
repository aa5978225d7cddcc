"""Keys and pedals: each does what the screen says, and a mark is in the logbook at once.

Referees  an instrument behind JACK 2, which counts what stands by MIDI 1.0; SQLite for the logbook; pyte for the
          screen; the traditional metronome for tempos.
"""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from tests.cli.play.foot import Foot
from tests.cli.play.session import DAY, FASTER, LADDER, SLOWER, home, marks_in, stands
from tests.cli.play.stand import play_in
from tests.midi.live.jack import Ear

STANDS_S = 0.4


def test_a_morning_by_the_keys(room: Path, jack: dict[str, str], ear: Ear) -> None:
    with play_in(room, jack | home(room), DAY, "--port=ear0", "--wait=60") as stand:
        stand.until("1 of 2   octave scale, C# minor")
        stand.until("GET READY")
        assert stand.echoes is False
        stand.press("c")
        stand.until("nothing was played yet")
        stand.until(lambda: "GET READY" not in stand.text)
        stand.press(" ")
        stand.until("PAUSED")
        stand.until(lambda: not stands(ear))
        stand.press("m")
        stand.until("marked: octave scale, C# minor, 200: not yet")
        stand.press("-")
        stand.until("GET READY")
        stand.press(" ")
        stand.until("PAUSED")
        stand.press("d")
        stand.until("DRONE ONLY")
        time.sleep(STANDS_S)
        begun, standing = ear.begun, ear.standing
        assert standing, "the drone goes on"
        assert {channel for channel, _ in standing} <= {2, 3, 4, 5, 15}, "on the drone's channels alone"
        time.sleep(STANDS_S)
        assert (ear.begun, ear.standing) == (begun, standing), "and nothing else begins"
        stand.press("a")
        stand.until("GET READY")
        stand.until(lambda: "GET READY" not in stand.text)
        stand.press("c")
        stand.until(f"marked: octave scale, C# minor, {SLOWER}: clean")
        stand.press("n")
        stand.until("2 of 2   octave scale, F major")
        stand.press("+")
        stand.until(lambda: "GET READY" not in stand.text)
        stand.until("THE LAST RUN IS OVER")
        stand.press("c")
        stand.until(f"marked: octave scale, F major, {FASTER}: clean")
        stand.until(lambda: not stands(ear))
        stand.press("q")
        assert stand.end() == 0
        assert stand.is_on_own_screen
        assert stand.modes == stand.modes_before
    assert marks_in(room) == [
        ("C# minor", "octave scale", 0, 1, "by pedal"),
        ("C# minor", "octave scale", 1, 1, "by pedal"),
        ("F major", "octave scale", 1, 1, "by pedal"),
    ]


def test_a_rest_and_a_breath_are_counted_down_and_may_be_left_out(room: Path, jack: dict[str, str], ear: Ear) -> None:
    with play_in(room, jack | home(room), DAY, "--port=ear0", "--wait=9") as stand:
        stand.until("GET READY")
        stand.until("TAKE A BREATH")
        stand.until("2 of 2   octave scale, F major")
        stand.until(lambda: not stands(ear))
        begun = ear.begun
        stand.press("a")
        stand.until("1 of 2   octave scale, C# minor")
        stand.until(lambda: ear.begun > begun)
        stand.until("TAKE A BREATH")
        stand.press("n")
        stand.until(lambda: "GET READY" in stand.text and "2 of 2   octave scale, F major" in stand.text)
        stand.press("q")
        assert stand.end() == 0


def test_the_ladder_climbs_between_repeats_when_asked(room: Path, jack: dict[str, str], ear: Ear) -> None:
    (room / "practice.toml").write_text(LADDER, encoding="utf-8")
    with play_in(room, jack | home(room), DAY, "--port=ear0", "--climb") as stand:
        stand.until("GET READY")
        stand.until(lambda: "GET READY" not in stand.text)
        stand.press("c")
        stand.until("the ladder: 184 next time")
        stand.press("a")
        stand.until("GET READY")
        stand.until(lambda: "GET READY" not in stand.text)
        stand.press("m")
        stand.until("C# minor, 184: not yet")
        stand.press("q")
        assert stand.end() == 0
    assert stands(ear) is False


def test_a_pedal_keeps_its_command_and_q_ends_learning(room: Path, jack: dict[str, str], foot: Foot) -> None:
    with play_in(room, jack | home(room), "--pedal=foot", "--learn") as learning:
        learning.until("next: press the pedal")
        foot.send("b0 50 7f", "b0 50 00")
        learning.until("again: press the pedal")
        time.sleep(STANDS_S)
        foot.send("b0 50 7f", "b0 50 00")
        learning.until("gives 'next' already")
        time.sleep(STANDS_S)
        foot.send("c2 05")
        learning.until("pause: press the pedal")
        time.sleep(STANDS_S)
        foot.send("c2 05")
        learning.until("gives 'again' already")
        learning.press("\n")
        learning.until("slower: press the pedal")
        learning.press("q")
        assert learning.end() == 0
        assert "faster" not in learning.text
        assert learning.modes == learning.modes_before
    written = (room / "config" / "droner" / "pedal.toml").read_text(encoding="utf-8")
    assert [line for line in written.splitlines() if line.startswith("[")] == ["[next]", "[again]"]
    assert "[next]\ncontroller = 80\nchannel = 1\n" in written


@pytest.mark.usefixtures("foot")
def test_learning_that_ends_at_once_writes_nothing(room: Path, jack: dict[str, str]) -> None:
    with play_in(room, jack | home(room), "--pedal=foot", "--learn") as learning:
        learning.until("next: press the pedal")
        learning.press("q")
        assert learning.end() == 3
        assert "what was learned before stays" in " ".join(learning.lines)
    assert not (room / "config" / "droner" / "pedal.toml").exists()


def test_pedals_are_learned_and_heard(room: Path, jack: dict[str, str], ear: Ear, foot: Foot) -> None:
    with play_in(room, jack | home(room), "--pedal=foot", "--learn") as learning:
        learning.until("next: press the pedal")
        foot.send("b0 50 7f", "b0 50 00")  # controller 80 on channel 1, down and up
        learning.until("again: press the pedal")
        foot.send("c2 05")  # program 5 on channel 3
        for word in ("pause", "slower", "faster"):
            learning.until(f"{word}: press the pedal")
            learning.press("\n")
        learning.until("clean: press the pedal")
        foot.send("90 3c 40", "80 3c 40")  # note 60 on channel 1
        for word in ("not yet", "drone only", "end"):
            learning.until(f"{word}: press the pedal")
            learning.press("\n")
        assert learning.end() == 0
    written = (room / "config" / "droner" / "pedal.toml").read_text(encoding="utf-8")
    assert "[next]\ncontroller = 80\nchannel = 1\n" in written
    assert "[again]\nprogram = 5\nchannel = 3\n" in written
    assert "[clean]\nnote = 60\nchannel = 1\n" in written
    with play_in(room, jack | home(room), DAY, "--port=ear0", "--pedal=foot", "--wait=60") as stand:
        stand.until("GET READY")
        stand.until(lambda: "GET READY" not in stand.text)
        foot.send("90 3c 40", "80 3c 40")
        stand.until("marked: octave scale, C# minor, 200: clean")
        foot.send("b0 50 7f", "b0 50 00")
        stand.until("2 of 2   octave scale, F major")
        stand.press("q")
        assert stand.end() == 0
    assert stands(ear) is False
