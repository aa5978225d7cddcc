"""Measure the loudspeaker: how soon it sounds, whether it ever breaks, what it costs.

Run     python tests/benchmarks/bench_speaker.py [--minutes M] [--starts N] [--period FRAMES]
Rule    PortAudio plays to a JACK server of our own without a sound card, and a JACK client in a process of its own
        keeps what arrives. First sound: from the start of a process to the first sample that is not zero; the
        yardstick is Python loading numpy and sounddevice and nothing else, in turn with it. Then everything at once
        (drone, chords, clicks, guide) in real time: samples that came too late, periods that the server lost, the
        share of the processor, and whether what arrived is what a file would hold. Nobody here runs in real time, so
        a busy machine loses periods whoever plays: the yardstick is what it loses while nobody does.
        Nothing is asserted.
Units   seconds; periods of so many frames at 48 kHz.
"""

from __future__ import annotations

import argparse
import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

import numpy as np

from droner.sound.render import render_blocks
from droner.sound.voice import Samples
from tests.midi.live.jack import REPOSITORY, jack_server
from tests.sound.live.listening import Listener, listener, slips
from tests.sound.live.sounding import EVERY_PART
from tests.sound.scores import day_of_work

MINUTES, STARTS, PERIOD_FRAMES, ALONE_S = 1, 9, 1024, 20
SAME = 1e-7
YARDSTICK = "import numpy, sounddevice"

FIRST_SOUND = """
from droner.sound.live.device import speaker_soon
coming = speaker_soon("ear")
from fractions import Fraction
from queue import SimpleQueue
from droner.score.plain import drone_score
from droner.sound.live.endless import standing_drone
from droner.sound.live.player import Player
from droner.live.words import Act
from droner.sound.mix import Mix
from droner.theory.pitch import pitch
from droner.theory.tuning import tuning
asked = SimpleQueue()
with Player(coming()) as player:
    score = drone_score((pitch("D3"),), tuning(442.0, "just", pitch("D3").name), Fraction(60))
    from threading import Timer
    Timer(0.3, lambda: asked.put(Act.STOP)).start()
    player.play(standing_drone(score, Mix(), player.rate_hz), asked)
"""

LONG = """
import sys
from queue import SimpleQueue
from droner.live.machine_time import undisturbed
from droner.live.noted_signals import noted_signals
from droner.sound.live.device import Speaker
from droner.sound.live.piece import piece
from droner.sound.live.player import Player
from tests.sound.live.sounding import EVERY_PART
from tests.sound.scores import day_of_work
with Player(Speaker.called("ear"), noted_signals=noted_signals, undisturbed=undisturbed) as player:
    print(player.play(piece(day_of_work(int(sys.argv[1])), EVERY_PART, player.rate_hz), SimpleQueue()))
"""


def run(program: str, surroundings: dict[str, str], *arguments: str) -> str:
    return subprocess.run(
        [sys.executable, "-c", program, *arguments],
        cwd=REPOSITORY,
        env=os.environ | surroundings,
        check=True,
        capture_output=True,
        text=True,
    ).stdout


def first_sounds(ear: Listener, surroundings: dict[str, str], starts: int) -> None:
    sounds, loads = list[float](), list[float]()
    for turn in range(starts + 1):
        ear.ask("again")
        began = time.monotonic()
        run(FIRST_SOUND, surroundings)
        sounded = float(ear.ask("first")) - began
        began = time.monotonic()
        run(YARDSTICK, surroundings)
        if turn:  # the first turn warms the disk
            sounds.append(sounded)
            loads.append(time.monotonic() - began)
    print(f"first sound after {median(sounds):.3f} s (best {min(sounds):.3f}, worst {max(sounds):.3f})")
    print(f"{YARDSTICK!r} alone, started and ended: {median(loads):.3f} s")


def long_run(ear: Listener, surroundings: dict[str, str], minutes: int, period: int, folder: Path) -> None:
    before = ear.ask("lost")
    time.sleep(ALONE_S)
    print(f"nobody plays: the server loses {(ear.ask('lost') - before) * 60 / ALONE_S:.0f} periods a minute")
    ear.ask("again")
    lost_before, used_before = ear.ask("lost"), resource.getrusage(resource.RUSAGE_CHILDREN)
    said = run(LONG, surroundings, str(minutes)).strip()
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    share = (used.ru_utime + used.ru_stime - used_before.ru_utime - used_before.ru_stime) / (60 * minutes)
    print(f"{minutes} minutes of everything: {said}")
    print(f"{share:.1%} of one processor; the server lost {ear.ask('lost') - lost_before} periods")
    heard, made = ear.heard(folder), whole(minutes)
    first = int(np.flatnonzero(made.any(axis=1))[0])
    print(f"every sample that arrived is that of the file; broken in {slips(heard, made[first:], SAME, period)} places")


def whole(minutes: int) -> Samples:
    return np.concatenate(list(render_blocks(day_of_work(minutes), EVERY_PART)))


def main() -> None:
    asked = argparse.ArgumentParser()
    asked.add_argument("--minutes", type=int, default=MINUTES)
    asked.add_argument("--starts", type=int, default=STARTS)
    asked.add_argument("--period", type=int, default=PERIOD_FRAMES)
    wanted = asked.parse_args()
    with (
        tempfile.TemporaryDirectory() as made,
        jack_server(Path(made), wanted.period) as surroundings,
        listener("ear", surroundings, seconds=60 * wanted.minutes + 10) as ear,
    ):
        if wanted.starts:
            first_sounds(ear, surroundings, wanted.starts)
        long_run(ear, surroundings, wanted.minutes, wanted.period, Path(made))


if __name__ == "__main__":
    main()
