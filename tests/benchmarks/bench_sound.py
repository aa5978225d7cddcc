"""Measure how fast a ten-minute session becomes audio, against libsndfile writing the same frames from memory.

Run     python tests/benchmarks/bench_sound.py [MINUTES]
Rule    one run prints its own comparison, so that a slow or busy machine cancels out. One processor core for
        the products of matrices; the files go to a temporary folder and are removed.
Units   "times" are seconds of music per second of work; "share" is the plain writer's time over ours.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

import numpy as np
from soundfile import SoundFile

from droner.score.score import Score
from droner.sound.audio_file import write_audio
from droner.sound.formats_table import AudioFormat, audio_format
from droner.sound.mix import EachPart, Mix
from droner.sound.render import RATE_HZ, render_blocks
from droner.sound.voice import Samples
from tests.sound.scores import day_of_work

MINUTES = 10
WRITE_FRAMES = 65_536
OFF = float("-inf")
MIXES = {
    "drone and click": Mix(gain_db=EachPart(changes=OFF)),
    "drone, changes, click and guide": Mix(guide=True),
}


def seconds_of(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def write_plainly(path: Path, samples: Samples, form: AudioFormat) -> None:
    """What any program must do at least: libsndfile, the samples from memory, the same kind of file."""
    wishes = {"bitrate_mode": form.bitrate_mode, "compression_level": form.effort[0]} if form.effort else {}
    with SoundFile(path, "w", RATE_HZ, 1, form.coding, format=form.container, **wishes) as file:
        for start in range(0, len(samples), WRITE_FRAMES):
            file.write(samples[start : start + WRITE_FRAMES])


def compare(folder: Path, score: Score, minutes: int) -> None:
    music = minutes * 60
    for words, mix in MIXES.items():
        samples = np.concatenate(list(render_blocks(score, mix)))
        made = seconds_of(lambda mix=mix: [None for _ in render_blocks(score, mix)])  # type: ignore[misc]
        print(f"{words}: samples alone {music / made:,.0f} times")
        for name in ("wav", "mp3"):
            form = audio_format(name)
            path = folder / f"track{form.suffix}"
            ours = seconds_of(lambda path=path, mix=mix, name=name: write_audio(path, score, mix, name))  # type: ignore[misc]
            plain = seconds_of(lambda path=path, form=form, samples=samples: write_plainly(path, samples, form))  # type: ignore[misc]
            print(
                f"    {name}: ours {music / ours:,.0f} times, writing alone {music / plain:,.0f} times,"
                f" share {plain / ours:.2f}"
            )


def main() -> None:
    minutes = int(sys.argv[1]) if len(sys.argv) > 1 else MINUTES
    with tempfile.TemporaryDirectory() as folder:
        compare(Path(folder), day_of_work(minutes), minutes)


if __name__ == "__main__":
    main()
