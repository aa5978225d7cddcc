"""Whatever interrupts the music, and whenever: no note is left on.

Referees  an instrument in another process behind JACK 2, which counts what stands by MIDI 1.0; a pipe, which has the
          record of all that was sent and loses nothing, so that a fault of the server could be told from ours; the
          system's signals, and the exit codes that they give when nobody catches them (POSIX: killed by the signal's
          number; Python's KeyboardInterrupt for SIGINT).
"""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from tests.midi.live.interrupted import LEFT, RAISED
from tests.midi.live.jack import REPOSITORY, Ear, jack_server, listeners, overruns

PLAYERS = 6
WAYS = {"int": 48, "term": 48, "hup": 42, "raise": 30, "exit": 12, "impatient": 12, "killed": 6, "pulled": 6}
CODES = {
    "int": {128 + signal.SIGINT},
    "term": {128 + signal.SIGTERM},
    "hup": {128 + signal.SIGHUP},
    "raise": {RAISED},
    "exit": {LEFT},
    "impatient": {128 + signal.SIGINT, 128 + signal.SIGTERM, 128 + signal.SIGHUP},
    "killed": {-signal.SIGTERM},
    "pulled": {128 + signal.SIGTERM},
}
"""What the process ends with: 128 and the signal where it is caught, the signal itself where nobody catches it."""
ARRIVED_S = 0.05
BACK_WITHIN_S = 10
LOST_BY_THE_SERVER = 3
"""Of more than 200. A server that was late, by its own word, may lose the last messages, which the pipe has."""


class Evening:
    """Six players at once, each interrupted again and again before an instrument of its own."""

    def __init__(self, ears: Sequence[Ear], surroundings: dict[str, str]) -> None:
        self.hanging: list[str] = []
        self.left_on: list[str] = []
        self.codes: list[tuple[str, int]] = []
        self._ears, self._surroundings = ears, surroundings

    def player(self, number: int, ways: Sequence[str]) -> None:
        with subprocess.Popen(
            [sys.executable, "-m", "tests.midi.live.interrupted", f"ear{number}", str(number), *ways],
            cwd=REPOSITORY,
            env=os.environ | self._surroundings,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        ) as process:
            assert process.stdin is not None
            assert process.stdout is not None
            for line in process.stdout:
                self._hear(self._ears[number], line.split())
                print(file=process.stdin, flush=True)

    def _hear(self, ear: Ear, words: list[str]) -> None:
        if words[0] == "pull":
            with ear.away():
                time.sleep(float(words[1]))
            _wait_for_more(ear)
            return
        _, way, code, left_on = words
        time.sleep(ARRIVED_S)
        self.codes.append((way, int(code)))
        self.left_on += [way] * int(left_on)
        if standing := ear.standing:
            self.hanging.append(f"{way}: {standing}")


def _wait_for_more(ear: Ear) -> None:
    """Until the player has found the port again, and plays on."""
    before, until = ear.begun, time.monotonic() + BACK_WITHIN_S
    while ear.begun == before:
        assert time.monotonic() < until, "the port came back, and nothing played on it"
        time.sleep(ARRIVED_S)


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no fork")
def test_two_hundred_interruptions_leave_no_note_on(tmp_path: Path) -> None:
    ways = [way for way, count in WAYS.items() for _ in range(count)]
    assert len(ways) >= 200
    random.Random(7).shuffle(ways)
    with jack_server(tmp_path) as jack, listeners(PLAYERS, jack) as ears:
        evening = Evening(ears, jack)
        with ThreadPoolExecutor(PLAYERS) as pool:
            list(pool.map(evening.player, range(PLAYERS), [ways[number::PLAYERS] for number in range(PLAYERS)]))
        begun, late = sum(ear.begun for ear in ears), overruns(jack)
    assert evening.left_on == [], "notes that were begun and not ended, whatever the server does"
    assert len(evening.hanging) <= (LOST_BY_THE_SERVER if late else 0), evening.hanging
    assert Counter(way for way, _ in evening.codes) == WAYS
    assert [(way, code) for way, code in evening.codes if code not in CODES[way]] == []
    print(
        f"{len(ways)} interruptions, {begun} notes begun, none left on; standing at the instrument all the same: "
        f"{evening.hanging}, the server having been late {late} times"
    )
    assert begun > 5 * len(ways), "there was music to be interrupted"
