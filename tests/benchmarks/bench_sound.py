"""Measure what it costs to make tracks, against the bare encoders and FluidSynth, in one run.

Run     python tests/benchmarks/bench_sound.py [MINUTES]
Rule    a ten-minute session with drone, changes, click and guide. One run prints its own comparisons, so that a slow
        or busy machine cancels out; the best of a few tries counts. Processor time, but for several processes the
        clock. Products of matrices run on one core. Files go to a temporary folder and are removed.
Units   "times" are seconds of music per second of work; a "ratio" is our time over the yardstick's.
"""

from __future__ import annotations

import os
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

import numpy as np
from soundfile import SoundFile

from droner.cli.jobs import AudioJob
from droner.cli.workers import write_in_processes
from droner.midi.smf_file import write_smf
from droner.score.score import Score
from droner.sound.audio_file import write_audio
from droner.sound.formats_table import AudioFormat, audio_format
from droner.sound.mix import Mix
from droner.sound.render import RATE_HZ, render_blocks
from droner.sound.tags import Tags
from droner.sound.voice import Samples
from tests.sound.scores import day_of_work

MINUTES = 10
TRIES = 3
WRITE_FRAMES = 65_536
EVERY_PART = Mix(guide=True)
BANK = Path("/usr/share/sounds/sf2/FluidR3_GM.sf2")
TRACKS, TRACK_MINUTES = 8, {"wav": (3, 10), "mp3": (3,)}
KILOBYTES = 1024

MEMORY_OF_WORK = """
import sys
from pathlib import Path
from droner.score.columns import score_in_columns
from droner.score.join import join
from droner.sound.audio_file import write_audio
from droner.sound.mix import Mix
from tests.sound.scores import day_of_work
minutes = int(sys.argv[1])
items = [score_in_columns(day_of_work(min(minutes, 5))) for _ in range(max(minutes // 5, 1))]
write_audio(Path(sys.argv[2]), join("long", items), Mix(guide=True), "wav")
print(next(line for line in Path("/proc/self/status").read_text().splitlines() if line.startswith("VmHWM")).split()[1])
"""
"""The highest memory that a process of its own ever holds, in kilobytes (Linux). The long file is items of five minutes
end to end, as `render --long` makes it."""

MEMORY_OF_SESSION = """
import sys
from datetime import date
from pathlib import Path
from droner.cli.day import open_day
from droner.cli.mixing import mix_of
from droner.cli.tracks import tracks
from droner.sound.audio_file import write_audio
goal = Path(sys.argv[2])
session = goal.with_suffix(".toml")
session.write_text('''
title = "Every key"
instrument = "flute"
minutes = 120
[rotation]
keys = "half-steps up, minor then major"
keys_per_day = 24
''' + "".join(f'''
[[block]]
drill = "{drill}"
tempo = 63
speeds = [70, 85, 100]
drone = "tonic and fifth"
changes = "under each beat"
click = "subdivisions"
guide = true
''' for drill in ("turning scale", "thirds")))
day = open_day(session, day=date(2026, 11, 25), quiet=True)
only = [1] if int(sys.argv[1]) == 1 else []
long = tracks(day, goal.parent, ["wav"], only, long=True)[-1]
write_audio(goal, long.heard, mix_of(day.session.sound), "wav")
print(next(line for line in Path("/proc/self/status").read_text().splitlines() if line.startswith("VmHWM")).split()[1])
print(float(long.score.duration) / 60)
"""
"""The same of an invented session's day, from its file to the long track: 48 items, two drills in every key; and how
many minutes that are. Against the first item alone. More keys fill more of the tables that are kept."""


def processor_seconds(work: Callable[[], object], of: int = resource.RUSAGE_SELF) -> float:
    """The best of a few tries, in seconds of the processor."""
    best = float("inf")
    for _ in range(TRIES):
        before = resource.getrusage(of)
        work()
        after = resource.getrusage(of)
        best = min(best, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return best


def clock_seconds(work: Callable[[], object]) -> float:
    best = float("inf")
    for _ in range(TRIES):
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


def write_plainly(path: Path, samples: Samples, form: AudioFormat) -> None:
    """What any program must do at least: libsndfile, the samples from memory, the same kind of file."""
    wishes: dict[str, Any] = {"compression_level": form.effort[0]} if form.effort else {}
    if form.bitrate_mode:
        wishes["bitrate_mode"] = form.bitrate_mode
    with SoundFile(path, "w", RATE_HZ, 1, form.coding, format=form.container, **wishes) as file:
        at_once = form.at_once or WRITE_FRAMES
        for start in range(0, len(samples), at_once):
            file.write(samples[start : start + at_once])


def compare_formats(folder: Path, score: Score, music: float) -> float:
    """Our file of every form against its bare encoder; gives the time of our WAV."""
    samples = np.concatenate(list(render_blocks(score, EVERY_PART)))
    alone = processor_seconds(lambda: [None for _ in render_blocks(score, EVERY_PART)])
    print(f"samples alone: {music / alone:,.0f} times")
    ours_wav = 0.0
    for name in ("wav", "flac", "ogg", "mp3", "opus"):
        form = audio_format(name)
        path = folder / f"track{form.suffix}"
        ours = processor_seconds(lambda name=name, path=path: write_audio(path, score, EVERY_PART, name))  # type: ignore[misc]
        bare = processor_seconds(lambda form=form, path=path: write_plainly(path, samples, form))  # type: ignore[misc]
        print(f"{name:5} ours {music / ours:7,.0f} times, bare {music / bare:7,.0f} times, ratio {ours / bare:.2f}")
        ours_wav = ours if name == "wav" else ours_wav
    return ours_wav


def compare_fluidsynth(folder: Path, score: Score, music: float, ours: float) -> None:
    program = shutil.which("fluidsynth")
    if not program or not BANK.is_file():
        print("FluidSynth or its bank is not here")
        return
    written, heard = folder / "session.mid", folder / "heard.wav"
    write_smf(written, score)
    command = [program, "-ni", "-F", str(heard), "-r", str(RATE_HZ), "-R", "0", "-C", "0", "-O", "s16", str(BANK)]
    command.append(str(written))
    theirs = processor_seconds(
        lambda: subprocess.run(command, check=True, capture_output=True), resource.RUSAGE_CHILDREN
    )
    print(f"FluidSynth without effects {music / theirs:,.0f} times; our WAV takes {ours / theirs:.3f} of its time")


def told_by(program: str, minutes: int, folder: Path) -> list[float]:
    """What a program in a process of its own prints, as numbers."""
    command = [sys.executable, "-c", program, str(minutes), str(folder / "long.wav")]
    root = Path(__file__).resolve().parents[2]
    printed = subprocess.run(command, check=True, capture_output=True, text=True, cwd=root).stdout
    return [*map(float, printed.split())]


def compare_memory(folder: Path) -> None:
    one, two = (told_by(MEMORY_OF_WORK, minutes, folder)[0] / KILOBYTES for minutes in (1, 120))
    print(f"peak memory: 1 minute {one:.1f} MB, 2 hours {two:.1f} MB, ratio {two / one:.2f}")
    (one, short), (two, long) = (told_by(MEMORY_OF_SESSION, minutes, folder) for minutes in (1, 120))
    print(
        f"of a session in every key: its first item ({short:.1f} minutes) {one / KILOBYTES:.1f} MB, "
        f"its whole day ({long:.0f} minutes) {two / KILOBYTES:.1f} MB, ratio {two / one:.2f}"
    )


def compare_processes(folder: Path) -> None:
    """Short tracks too: what every process has to load, in a sixth of a second, weighs most there."""
    for name, lengths in TRACK_MINUTES.items():
        for minutes in lengths:
            score = day_of_work(minutes)
            jobs = [
                AudioJob(folder / f"{number}.{name}", name, score, EVERY_PART, Tags(title=str(number)))
                for number in range(TRACKS)
            ]
            one, two = (
                clock_seconds(partial(write_in_processes, jobs, each, _tell_no_one, _nor_when_done)) for each in (1, 2)
            )
            print(
                f"{TRACKS} tracks of {minutes} minutes as {name}: two processes are {one / two:.2f} times as fast "
                f"as one ({two:.2f} s)"
            )


def _tell_no_one(_: int, __: int) -> None:
    pass


def _nor_when_done(_: int) -> None:
    pass


def main() -> None:
    minutes = int(sys.argv[1]) if len(sys.argv) > 1 else MINUTES
    with tempfile.TemporaryDirectory() as made:
        folder, score, music = Path(made), day_of_work(minutes), minutes * 60
        compare_processes(folder)  # first: a forked process shall not bear what the others load
        ours = compare_formats(folder, score, music)
        compare_fluidsynth(folder, score, music, ours)
        compare_memory(folder)


if __name__ == "__main__":
    main()
