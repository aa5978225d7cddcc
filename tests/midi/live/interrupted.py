"""Play dense music to one instrument again and again, and be interrupted at moments drawn by chance.

Run     python -m tests.midi.live.interrupted EAR SEED WAY...
Rule    for each way a process of its own is forked, which plays; once its first note has been sent it is interrupted
        after a while. Then `ended WAY CODE LEFT` is printed, and a line on stdin waited for. LEFT is how many notes
        stand in the record of all that was sent, which comes through a pipe: a pipe loses nothing. The way `pulled`
        prints `pull SECONDS` and waits for a line: who reads lets the port vanish so long, and be heard again. The
        signals are caught as a command line does it, by leaving the program; in the way `killed` nobody catches them.
"""

from __future__ import annotations

import os
import random
import signal
import sys
import time
from queue import SimpleQueue
from types import FrameType
from typing import BinaryIO

from droner.midi.live.moments import piece
from droner.midi.live.player import Player
from droner.midi.live.port import OutputPort
from tests.midi.live.fakes import Instrument
from tests.midi.live.music import dense

MUSIC = piece(dense())
LONGEST_S = 0.2
AWAY_S = (0.6, 1.0)
"""Long enough for a look, which comes every quarter of a second."""
SIGNALS = {
    "int": [signal.SIGINT],
    "term": [signal.SIGTERM],
    "hup": [signal.SIGHUP],
    "impatient": [signal.SIGINT, signal.SIGTERM, signal.SIGINT, signal.SIGHUP, signal.SIGINT],
    "killed": [signal.SIGTERM],
    "pulled": [signal.SIGTERM],
}
RAISED, LEFT = 40, 41
TRIES = 5
"""A busy server may refuse a client; then nothing has been played, and nothing interrupted."""


class BrokenError(Exception):
    """Something in the caller's own code."""


def play(ear: str, record: int, way: str, after_s: float) -> None:
    """In the forked process: play until interrupted, from outside or from within."""
    first: list[float] = []

    def tell(wire: bytes) -> None:
        port.send(wire)
        os.write(record, bytes((len(wire),)) + wire)
        if not first and wire[0] & 0xF0 == 0x90:
            first.append(time.monotonic())

    def break_off() -> None:
        if first and time.monotonic() - first[0] > after_s:
            if way == "exit":
                sys.exit(LEFT)
            raise BrokenError

    with OutputPort.called(ear) as port:
        player = Player(tell, look=port.look, idle=break_off if way in ("raise", "exit") else None)
        with player:
            player.play(MUSIC, SimpleQueue())


def leave(number: int, _: FrameType | None) -> None:
    sys.exit(128 + number)


def forked(ear: str, way: str, after_s: float) -> tuple[int, int]:
    """The number of the process that plays, and where it tells what it sends."""
    reading, writing = os.pipe()
    number = os.fork()
    if number:
        os.close(writing)
        return number, reading
    code = 0
    try:
        if way != "killed":
            for each in (signal.SIGTERM, signal.SIGHUP):
                signal.signal(each, leave)
        play(ear, writing, way, after_s)
    except BrokenError:
        code = RAISED
    except KeyboardInterrupt:
        code = 128 + signal.SIGINT
    except SystemExit as left:
        code = int(left.code or 0)
    finally:
        os._exit(code)


def ask(words: str) -> None:
    print(words, flush=True)
    sys.stdin.readline()


def interrupt(ear: str, way: str, chance: random.Random) -> str:
    """Once through: the exit code, or the number of the signal below zero; how many notes stand by the record."""
    for _ in range(TRIES):
        after_s = chance.uniform(0, LONGEST_S)
        number, reading = forked(ear, way, after_s)
        instrument = Instrument()
        with os.fdopen(reading, "rb") as record:
            while not instrument.struck and hear(record, instrument):
                pass
            if instrument.struck:
                disturb(number, way, after_s, chance)
            code = os.waitstatus_to_exitcode(os.waitpid(number, 0)[1])
            while hear(record, instrument):
                pass
        if instrument.struck:
            return f"{code} {len(instrument.sounding)}"
    raise AssertionError(f"{ear} cannot be played to")


def hear(record: BinaryIO, instrument: Instrument) -> bool:
    """One more message of the record; False at its end."""
    length = record.read(1)
    if length:
        instrument.hear(record.read(length[0]))
    return bool(length)


def disturb(number: int, way: str, after_s: float, chance: random.Random) -> None:
    """From outside, when it is time."""
    if way in SIGNALS:
        time.sleep(after_s)
    if way == "pulled":
        ask(f"pull {chance.uniform(*AWAY_S)}")
        time.sleep(after_s)
    for each in SIGNALS.get(way, ()):
        os.kill(number, each)
        time.sleep(chance.uniform(0, 0.01) if way == "impatient" else 0)


def main() -> None:
    ear, seed, *ways = sys.argv[1:]
    chance = random.Random(int(seed))
    for way in ways:
        ask(f"ended {way} {interrupt(ear, way, chance)}")


if __name__ == "__main__":
    main()
