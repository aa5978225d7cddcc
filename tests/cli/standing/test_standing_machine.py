"""What the machine has and lacks, what does not go together, and every way to stop.

Referees  an instrument behind JACK 2, which counts what stands by MIDI 1.0; a JACK client that keeps every sample; the
          terminal's own modes (POSIX.1 termios); the exit codes of the README; 128 + the signal's number, every shell's
          habit; `sys.modules` of a fresh interpreter.
"""

from __future__ import annotations

import json
import os
import random
import signal
import subprocess
import sys
import time
from contextlib import ExitStack
from pathlib import Path

import numpy as np
import pytest

from tests.cli.play.stand import Stand
from tests.cli.programs import DRONER, Ran, droner_in, surroundings
from tests.cli.standing.heard import RATE_HZ
from tests.midi.live.jack import Ear, jack_server, listeners
from tests.parts import need
from tests.sound.live.listening import PERIOD_FRAMES, Listener, listener
from tests.sound.live.test_speaker import servers

ARRIVED_S = 0.15
SILENT_WITHIN_S = 0.25
"""Of a signal: 5 ms to notice it, 30 ms of fade, a period, and what a busy machine takes to wake a process."""
DRONE, CLICK = ("drone", "D3", "A3"), ("click", "4/4", "--tempo=208")
NO_SERVER = {"JACK_DEFAULT_SERVER": "droner-test-nobody", "JACK_NO_START_SERVER": "1"}


@pytest.mark.parametrize(
    "words",
    [
        (*DRONE, "--speaker=", "--port=ear"),
        (*DRONE, "--own-port", "--port=ear"),
        (*DRONE, "--own-port", "--out=d.wav"),
        (*CLICK, "--speaker=", "--out=c.wav"),
        (*CLICK, "--port=ear", "--own-port"),
        (*DRONE, "--port=ear", "--timbre=bright"),
        (*DRONE, "--keyboard=foot"),
        ("drone", "--speaker="),
        ("drone",),
        ("drone", "C3", "D3", "E3", "F3", "G3", "A3", "B3", "--port=ear"),
        (*DRONE, "--port=ear", "--seconds=0"),
        (*CLICK, "--port=ear", "--pattern=silent"),
        ("click", "4/4", "--port=ear", "--tempo=500"),
    ],
)
def test_what_does_not_go_together_is_refused_and_said(tmp_path: Path, words: tuple[str, ...]) -> None:
    ran = droner_in(tmp_path, *words)
    assert (ran.code, ran.out) == (2, "")
    assert "Help: droner" in ran.err


@pytest.mark.parametrize(
    ("words", "name", "thing", "option"),
    [
        (("drone", "--speaker", "D3"), "D3", "a loudspeaker", "--speaker"),
        (("drone", "--port", "D3"), "D3", "a MIDI port", "--port"),
        (("click", "--speaker", "4/4"), "4/4", "a loudspeaker", "--speaker"),
        (("click", "--port", "2+2+3/8", "--tempo=90"), "2+2+3/8", "a MIDI port", "--port"),
    ],
)
def test_what_an_output_has_swallowed_is_said(
    tmp_path: Path, words: tuple[str, ...], name: str, thing: str, option: str
) -> None:
    ran = droner_in(tmp_path, *words)
    assert (ran.code, ran.out) == (2, "")
    assert f"'{name}' was taken as the name of {thing}: write {name} first, or {option}=NAME" in " ".join(
        ran.err.split()
    )


def test_what_has_swallowed_nothing_is_said_as_ever(tmp_path: Path, jack: dict[str, str]) -> None:
    assert "Name a PITCH such as D3" in droner_in(tmp_path, "drone", "--speaker").err
    assert "Missing argument 'METER'" in droner_in(tmp_path, "click", "--speaker=phone").err
    assert "Missing argument 'METER'" in droner_in(tmp_path, "click").err
    half = droner_in(tmp_path, "drone", "--port", "D3", "A3", environment=jack)
    assert half.code == 3
    assert "'D3' was taken as the name of a MIDI port" in half.err
    assert "was taken" not in droner_in(tmp_path, *DRONE, "--port=organ", environment=jack).err


def test_no_port_two_ports_no_keyboard(tmp_path: Path, jack: dict[str, str]) -> None:
    def told(*words: str) -> Ran:
        ran = droner_in(tmp_path, *words, environment=jack)
        assert (ran.code, ran.out) == (3, "")
        return ran

    with listeners(2, jack):
        assert "'ear' fits 2 MIDI output ports" in told(*DRONE, "--port=ear").err
        none = told(*CLICK, "--port=organ").err
        assert "no MIDI output port is called 'organ'" in none
        assert "--speaker" in none
        # the end of our own cable, just opened, is nobody's keyboard
        assert "this machine has no MIDI input port" in told(*DRONE, "--port=ear0", "--keyboard=organ").err
        assert "no audio output is called 'organ'" in told(*DRONE, "--speaker=organ").err
    ran = droner_in(tmp_path, *DRONE, "--port=ear0", environment=NO_SERVER)
    assert ran.code == 3
    assert "MIDI output port" in ran.err


@pytest.mark.parametrize("words", [DRONE, CLICK])
def test_without_a_terminal_it_sounds_for_its_seconds(
    tmp_path: Path, jack: dict[str, str], ear: Ear, words: tuple[str, ...]
) -> None:
    began = time.monotonic()
    ran = droner_in(tmp_path, *words, "--port=ear0", "--seconds=1", "--json", environment=jack)
    assert time.monotonic() - began > 1
    assert ran.code == 0
    assert ran.data["kind"] == words[0]
    assert ran.data["seconds"] == pytest.approx(1, abs=0.2)
    assert ran.data["timing"]["messages"] > 0
    assert ran.err.count("\n") == 1, "what sounds is said once"
    assert ear.begun >= 2
    assert ear.standing == []


def test_the_hertz_that_are_told_are_those_of_the_definition(tmp_path: Path, jack: dict[str, str], ear: Ear) -> None:
    words = ("drone", "A3", "E4", "--port=ear0", "--seconds=1", "--json", "--quiet", "--a4=442")
    ran = droner_in(tmp_path, *words, environment=jack)
    assert (ran.code, ran.err) == (0, "")
    assert ran.data["hertz"] == [221, 331.5]
    assert ran.data["pitches"] == ["A3", "E4"]
    assert ear.standing == []


@pytest.mark.parametrize("words", [DRONE, CLICK])
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP])
def test_stopped_at_any_moment_on_a_port(
    tmp_path: Path, jack: dict[str, str], ear: Ear, words: tuple[str, ...], number: signal.Signals
) -> None:
    chance = random.Random(f"{words} {number}")
    with Stand(tmp_path, [*DRONER, *words, "--port=ear0"], jack) as stand:
        stand.until("q end")
        stand.until(lambda: ear.begun > 0)
        for key in "+-":
            stand.press(key)
            time.sleep(chance.uniform(0, 0.1))
        stand.send(number)
        assert stand.end() == 128 + number
        assert stand.is_on_own_screen
        assert stand.modes == stand.modes_before
        assert "stopped" in stand.text
        assert "Traceback" not in stand.text
    time.sleep(ARRIVED_S)
    assert ear.standing == []


@pytest.mark.parametrize("words", [DRONE, CLICK])
def test_a_signal_is_soon_silent_on_the_loudspeaker(
    tmp_path: Path, jack: dict[str, str], phone: Listener, words: tuple[str, ...]
) -> None:
    with Stand(tmp_path, [*DRONER, *words, "--speaker=phone"], jack) as stand:
        stand.until("q end")
        stand.until(lambda: phone.ask("first") is not None)
        time.sleep(0.5)
        stand.press("+")
        sent = time.monotonic()
        stand.send(signal.SIGTERM)
        assert stand.end() == 128 + signal.SIGTERM
        assert stand.modes == stand.modes_before
    heard, first = phone.heard(tmp_path)[:, 0], float(phone.ask("first"))
    last = int(np.flatnonzero(heard)[-1])
    print(f"silent {first + last / RATE_HZ - sent:.3f} s after the signal")
    assert first + last / RATE_HZ - sent < SILENT_WITHIN_S


LOADED = """
import json, sys
sys.argv = ["droner", *{words!r}]
from droner.cli.main import main
try:
    main()
except SystemExit as ended:
    assert not ended.code, ended.code
print(json.dumps(sorted(sys.modules)))
"""


@pytest.mark.parametrize(
    ("output", "others"),
    [("--port=ear0", ("numpy", "sounddevice")), ("--speaker=phone", ("rtmidi",))],
)
@pytest.mark.parametrize("words", [DRONE, CLICK])
def test_a_command_pays_for_its_own_output_only(
    tmp_path: Path,
    jack: dict[str, str],
    ear: Ear,
    phone: Listener,
    words: tuple[str, ...],
    output: str,
    others: tuple[str, ...],
) -> None:
    ran = subprocess.run(
        [sys.executable, "-c", LOADED.format(words=(*words, output, "--seconds=1"))],
        cwd=tmp_path, env=surroundings(**jack), stdin=subprocess.DEVNULL, capture_output=True, text=True, check=True,
    )  # fmt: skip
    loaded = json.loads(ran.stdout.splitlines()[-1])
    heavy = (*others, "mido", "soundfile", "matplotlib", "concurrent.futures", "logging")
    assert [name for name in loaded if name.startswith(heavy)] == []
    assert ear.standing == []
    assert (phone.ask("first") is not None) == output.startswith("--speaker")


def test_ctrl_z_is_silent_and_fg_goes_on(tmp_path: Path, jack: dict[str, str], ear: Ear) -> None:
    shell = need("bash")
    with Stand(tmp_path, [shell, "--norc", "--noprofile", "-i"], jack | {"PS1": "ready> "}) as stand:
        stand.until("ready>")
        stand.press(" ".join([*DRONER, *DRONE, "--port=ear0"]) + "\n")
        stand.until("q end")
        stand.until(lambda: len(ear.standing) == 2)
        stand.press("\x1a")
        stand.until("Stopped")
        assert stand.is_on_own_screen
        assert ear.standing == []
        stand.press("fg\n")
        stand.until("PAUSED")
        stand.until(lambda: not stand.echoes)
        stand.press("+")
        stand.until("E 3, B 3")
        stand.press(" ")
        stand.until(lambda: sorted(key for _, key in ear.standing) == [52, 59])
        stand.press("q")
        stand.until(lambda: stand.is_on_own_screen)
        stand.press("echo ended with $?\n")
        stand.until("ended with 0")
        stand.press("exit\n")
        assert stand.end() == 0
    assert ear.standing == []


def test_a_loudspeaker_that_goes_ends_it_in_plain_words(tmp_path: Path) -> None:
    with jack_server(tmp_path, PERIOD_FRAMES) as surroundings, listener("phone", surroundings) as own:
        [server] = servers(surroundings)
        with Stand(tmp_path, [*DRONER, *DRONE, "--speaker=phone"], surroundings) as stand:
            stand.until("q end")
            stand.until(lambda: own.ask("first") is not None)
            os.kill(server, signal.SIGTERM)
            assert stand.end() == 3
            assert stand.is_on_own_screen
            assert stand.modes == stand.modes_before
            assert "has gone away" in " ".join(stand.lines)
            assert "Traceback" not in stand.text


def test_a_midi_server_that_is_killed_is_said_and_the_drone_is_heard_again_when_it_is_back(tmp_path: Path) -> None:
    with ExitStack() as lasting:
        with jack_server(tmp_path) as before, listeners(1, before) as [first]:
            [server] = servers(before)
            stand = lasting.enter_context(Stand(tmp_path, [*DRONER, *DRONE, "--port=ear0"], before))
            stand.until(lambda: len(first.standing) == 2)
            os.kill(server, signal.SIGKILL)
            stand.until("the MIDI port has gone")
        with jack_server(tmp_path) as again, listeners(1, again) as [second]:
            assert again["JACK_DEFAULT_SERVER"] == before["JACK_DEFAULT_SERVER"], "the first free name"
            stand.until(lambda: len(second.standing) == 2)
            stand.until(lambda: "the MIDI port has gone" not in stand.text)
            stand.press("q")
            assert stand.end() == 0
            assert second.standing == []
            assert stand.modes == stand.modes_before
