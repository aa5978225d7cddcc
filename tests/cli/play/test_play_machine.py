"""What the machine has and lacks: ports, loudspeakers, small terminals, plain ones.

Referees  JACK 2 with its dummy driver, also behind PortAudio; pyte for the screen; the exit codes of the README.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.play.session import DAY, home, marks_in, stands
from tests.cli.play.stand import OTHER_SCREEN, Stand, play_in
from tests.cli.programs import DRONER, droner_in, surroundings
from tests.midi.live.jack import Ear, listeners
from tests.parts import need

NO_SERVER = {"JACK_DEFAULT_SERVER": "droner-test-nobody", "JACK_NO_START_SERVER": "1"}


def test_no_port_two_ports_and_what_there_is(room: Path, jack: dict[str, str]) -> None:
    with listeners(2, jack):
        two = droner_in(room, "play", DAY, "--port=ear", environment=jack | home(room))
        none = droner_in(room, "play", DAY, "--port=organ", environment=jack | home(room))
        listed = droner_in(room, "play", "--ports", "--json", environment=jack)
    assert (two.code, none.code, listed.code) == (3, 3, 0)
    assert "'ear' fits 2 MIDI output ports" in two.err
    assert "no MIDI output port is called 'organ'" in none.err
    assert "ear1" in none.err
    assert {"ear0", "ear1"} <= {each["name"].partition(":")[0] for each in listed.data["outputs"]}


def test_a_machine_without_ports_says_so(room: Path) -> None:
    need("jackd")
    listed = droner_in(room, "play", "--ports", environment=NO_SERVER)
    assert listed.code == 0
    assert "none" in listed.out
    data = droner_in(room, "play", "--ports", "--json", environment=NO_SERVER).data
    assert set(data) == {"outputs", "inputs", "speakers"}
    ran = droner_in(room, "play", DAY, environment=NO_SERVER | home(room))
    if not data["outputs"]:
        assert ran.code == 3
        assert "--speaker" in ran.err


@pytest.mark.parametrize(
    "arguments",
    [("--port=a", "--own-port"), ("--own-port", "--speaker"), ("--speaker=", "--clock"), ("--learn",), ("--wait=-1",)],
)
def test_what_does_not_go_together_is_refused(room: Path, arguments: tuple[str, ...]) -> None:
    assert droner_in(room, "play", *arguments).code == 2


@pytest.mark.parametrize(("option", "thing"), [("--speaker", "a loudspeaker"), ("--port", "a MIDI port")])
def test_a_session_that_an_output_has_swallowed_is_said(room: Path, option: str, thing: str) -> None:
    ran = droner_in(room, "play", option, "short.toml")
    assert (ran.code, ran.out) == (2, "")
    said = " ".join(ran.err.split())
    assert f"'short.toml' was taken as the name of {thing}: write short.toml first, or {option}=NAME" in said


def test_the_loudspeaker_has_the_same_hands(room: Path, jack: dict[str, str]) -> None:
    listed = droner_in(room, "play", "--ports", "--json", environment=jack).data
    if not listed["speakers"]:
        missing = "PortAudio has no output here: sounddevice, libportaudio2 and JACK are needed"
        if os.environ.get("DRONER_REQUIRE_PARTS"):
            pytest.fail(missing, pytrace=False)
        pytest.skip(missing)
    for way, code in (("q", 0), ("\x03", 130)):
        with play_in(room, jack | home(room), DAY, "--speaker", "--wait=1") as stand:
            stand.until("GET READY")
            stand.until(lambda: "GET READY" not in stand.text)
            stand.press("c")
            stand.until("marked: octave scale, C# minor, 200: clean")
            stand.press("d")
            stand.until("DRONE ONLY")
            stand.press("a")
            stand.until("GET READY")
            stand.press(way)
            assert stand.end() == code
            assert stand.modes == stand.modes_before
    assert [mark[2:4] for mark in marks_in(room)] == [(1, 1), (1, 1)]


def test_a_small_terminal_and_quiet_have_one_line(room: Path, jack: dict[str, str], ear: Ear) -> None:
    with play_in(room, jack | home(room), DAY, "--port=ear0", columns=40, lines=8) as small:
        small.until("1/2 octave scale, C# minor")
        small.press("n")
        small.until("2/2 octave scale, F major")
        assert len([line for line in small.lines if line]) == 1
        small.press("q")
        assert small.end() == 0
        assert OTHER_SCREEN not in small.raw
    with play_in(room, jack | home(room), DAY, "--port=ear0", "--quiet") as quiet:
        quiet.until("1/2 octave scale, C# minor  get ready")
        quiet.press("q")
        assert quiet.end() == 0
        assert OTHER_SCREEN not in quiet.raw
    assert stands(ear) is False


def test_large_letters_are_of_number_signs_where_blocks_cannot_be_written(
    room: Path, jack: dict[str, str], ear: Ear
) -> None:
    plain = {"PYTHONUTF8": "0", "PYTHONIOENCODING": "ascii"}
    with Stand(room, [*DRONER, "play", DAY, "--port=ear0"], jack | home(room), 80, 24) as blocks:
        blocks.until("tempo")
        assert "\N{FULL BLOCK}" in blocks.text
        blocks.press("q")
        assert blocks.end() == 0
    with Stand(room, ["env", *(f"{key}={value}" for key, value in plain.items()), *DRONER, "play", DAY, "--port=ear0"],
               jack | home(room)) as signs:  # fmt: skip
        signs.until("tempo")
        assert "###" in signs.text
        assert signs.raw.isascii()
        signs.press("q")
        assert signs.end() == 0
    assert stands(ear) is False


def test_the_first_tone_waits_for_nothing_that_it_does_not_need(room: Path, jack: dict[str, str], ear: Ear) -> None:
    report = (
        "import sys\n"
        f"sys.argv = ['droner', 'play', '{DAY}', '--port=ear0', '--quiet', '--wait=0']\n"
        "from droner.midi.live.player import Player\n"
        "play = Player.play\n"
        "def first(player, *arguments, **more):\n"
        "    import json\n"
        "    print(json.dumps(sorted(sys.modules)))\n"
        "    raise SystemExit(0)\n"
        "Player.play = first\n"
        "from droner.cli.main import main\n"
        "main()\n"
    )
    ran = subprocess.run(
        [sys.executable, "-c", report],
        cwd=room, env=surroundings(**jack, **home(room)), stdin=subprocess.DEVNULL, capture_output=True, text=True,
        check=True,
    )  # fmt: skip
    loaded = json.loads(ran.stdout.splitlines()[-1])
    heavy = ("numpy", "soundfile", "mido", "sounddevice", "matplotlib", "concurrent.futures", "logging")
    assert [name for name in loaded if name.startswith(heavy)] == []
    assert stands(ear) is False
