"""How soon after the command the first note of `droner play` sounds, cold, beside the barest program that sends one.

Run     python tests/benchmarks/bench_first_note.py [STARTS]
Yardstick  Python alone, which loads python-rtmidi, opens the same port, waits the tenth of a second that JACK needs for
           a new connection, and sends a note. It takes turns with droner.
Rule    from the start of the process to the moment at which an instrument on JACK's dummy driver, in a process of its
        own, has the note: looked for every two milliseconds, at a period of 128 frames. The session is droner's own,
        in an empty folder, with no logbook. Cold processes; the first turn, which warms the disk, does not count.
        Nothing is asserted.
Units   milliseconds.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Mapping, Sequence
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.midi.live.jack import Ear, jack_server, listeners

ROOT = Path(__file__).resolve().parents[2]
STARTS = 15
USUAL = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
"""Bytecode is kept, as on a player's machine."""
LOOK_S, WITHIN_S, FRAMES = 0.002, 10, 128
BAREST = """
import rtmidi, time
out = rtmidi.MidiOut(rtmidi.API_UNIX_JACK, "barest")
out.open_port(next(place for place, name in enumerate(out.get_ports()) if "ear0" in name))
time.sleep(0.1)
out.send_message((0x90, 60, 100))
time.sleep(5)
"""
COMMANDS: Mapping[str, Sequence[str]] = {
    "the barest program": ("-c", BAREST),
    "droner play": ("-m", "droner", "play", "--port", "ear0", "--quiet"),
}


def first_note_ms(arguments: Sequence[str], ear: Ear, surroundings: Mapping[str, str], folder: Path) -> float:
    """From the start of the process to its first note."""
    before, began = ear.begun, time.perf_counter()
    with subprocess.Popen(
        [sys.executable, *arguments],
        cwd=folder,
        env=USUAL | dict(surroundings) | {"PYTHONPATH": str(ROOT), "DRONER_LOGBOOK": str(folder / "none.logbook")},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    ) as program:
        while ear.begun == before and time.perf_counter() - began < WITHIN_S:
            time.sleep(LOOK_S)
        took_ms = (time.perf_counter() - began) * 1000
        program.send_signal(signal.SIGINT)
    return took_ms


def main() -> None:
    """Print a line for each."""
    starts = int(sys.argv[1]) if len(sys.argv) > 1 else STARTS
    took: dict[str, list[float]] = {name: [] for name in COMMANDS}
    with (
        TemporaryDirectory() as made,
        TemporaryDirectory() as empty,
        jack_server(Path(made), FRAMES) as surroundings,
        listeners(1, surroundings) as (ear,),
    ):
        for turn in range(starts + 1):
            for name, arguments in COMMANDS.items():
                each = first_note_ms(arguments, ear, surroundings, Path(empty))
                if turn:
                    took[name].append(each)
    for name, each_ms in took.items():
        print(
            f"{name:20} first note after {median(each_ms):.0f} ms (best {min(each_ms):.0f}, worst {max(each_ms):.0f})"
        )
    print(f"ratio {median(took['droner play']) / median(took['the barest program']):.2f}")


if __name__ == "__main__":
    main()
