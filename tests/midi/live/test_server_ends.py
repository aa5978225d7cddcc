"""A JACK server that ends in the middle of the music, and comes back. Referee: JACK 2 itself, killed."""

from __future__ import annotations

import json
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path

import pytest

from droner.midi.live.server_lines import are_cut, new_lines, open_lines
from tests.midi.live.jack import REPOSITORY, Ear, jack_server
from tests.sound.live.test_speaker import servers

NOTICED_WITHIN_S = 3.0
"""What a player may take to say so: a look a second, and the second that RtMidi needs to give the client up."""
BACK_WITHIN_S = 6.0
ENDS_WITHIN_S = 20.0
LOOK_COSTS_AT_MOST_S = 0.001
"""It happens between two notes."""

PLAYS = """
import json, sys, time
from droner.midi.live.port import InputPort, OutputPort
port = OutputPort.of_our_own("ours") if sys.argv[1] == "own" else OutputPort.called("ear0")
with port, InputPort.of_our_own("foot") as pedal:
    print("ready", flush=True)
    until, changes = time.monotonic() + float(sys.argv[2]), []
    while time.monotonic() < until and len(changes) < 4:
        for name, each in (("port", port), ("pedal", pedal)):
            found = each.look().value
            if found != "same":
                changes.append([name, found])
                print(json.dumps([name, found]), flush=True)
        pedal.receive()
        port.send(bytes.fromhex("90 3C 50"))
        time.sleep(0.1)
print("closed", flush=True)
"""


@contextmanager
def playing(kind: str, surroundings: dict[str, str], seconds: float) -> Iterator[subprocess.Popen[str]]:
    """A process that plays, listens to a pedal, and tells what its looks find."""
    with subprocess.Popen(
        [sys.executable, "-c", PLAYS, kind, str(seconds)],
        cwd=REPOSITORY, env=os.environ | surroundings, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True,
    ) as begun:  # fmt: skip
        try:
            assert begun.stdout is not None
            assert begun.stdout.readline() == "ready\n"
            yield begun
        finally:
            begun.kill()


def told(process: subprocess.Popen[str]) -> list[str]:
    assert process.stdout is not None
    found: list[str] = json.loads(process.stdout.readline())
    return found


@contextmanager
def instrument(surroundings: dict[str, str]) -> Iterator[Ear]:
    ear = Ear("ear0", surroundings)
    try:
        yield ear
    finally:
        ear.end()


@pytest.mark.parametrize("way", [signal.SIGTERM, signal.SIGKILL])
@pytest.mark.parametrize("kind", ["ear", "own"])
def test_a_server_that_ends_is_noticed_and_met_again_when_it_is_back(
    tmp_path: Path, kind: str, way: signal.Signals
) -> None:
    with ExitStack() as lasting:
        with jack_server(tmp_path) as surroundings, instrument(surroundings):
            player = lasting.enter_context(playing(kind, surroundings, 60))
            [server] = servers(surroundings)
            os.kill(server, way)
            killed_s = time.monotonic()
            gone = [told(player), told(player)]
            assert time.monotonic() - killed_s < NOTICED_WITHIN_S
            assert sorted(gone) == [["pedal", "gone"], ["port", "gone"]]
        with jack_server(tmp_path) as again, instrument(again) as ear:
            assert again["JACK_DEFAULT_SERVER"] == surroundings["JACK_DEFAULT_SERVER"], "the first free name"
            started_s = time.monotonic()
            assert sorted([told(player), told(player)]) == [["pedal", "back"], ["port", "back"]]
            assert time.monotonic() - started_s < BACK_WITHIN_S
            assert player.wait(ENDS_WITHIN_S) == 0, "and it is closed without a crash"
            assert (ear.begun > 0) == (kind == "ear"), "it is heard again"


def test_a_player_whose_server_stays_away_ends_in_order(tmp_path: Path) -> None:
    with jack_server(tmp_path) as surroundings, playing("own", surroundings, 4) as player:
        [server] = servers(surroundings)
        os.kill(server, signal.SIGKILL)
        assert player.wait(ENDS_WITHIN_S) == 0


def test_lines_are_cut_when_all_of_them_are() -> None:
    """POSIX, poll: a socket whose other end is closed has hung up."""
    before = open_lines()
    here, there = socket.socketpair()
    other, another = socket.socketpair()
    with here, there, other, another:
        ours = {
            number: known for number, known in new_lines(before).items() if number in {here.fileno(), other.fileno()}
        }
        assert set(ours) == {here.fileno(), other.fileno()}
        began_s = time.perf_counter()
        assert not are_cut(ours)
        assert time.perf_counter() - began_s < LOOK_COSTS_AT_MOST_S
        there.close()
        assert not are_cut(ours), "one is still whole"
        another.close()
        assert are_cut(ours)
        here.close()
        assert are_cut(ours), "closed on our side"
    assert not are_cut({}), "where none are known none is cut"
