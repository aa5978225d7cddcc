"""Let FluidSynth play a MIDI file, and measure what is heard.

Source  FluidSynth, an independent synthesiser, with the FluidR3_GM bank; its reverb and chorus are off.
        It cuts bends to whole cents and begins notes on blocks of 64 samples (its manual, from memory).
"""

from __future__ import annotations

import os
import subprocess
from pathlib import Path

import numpy as np
import pytest
import soundfile

from droner.midi.smf_file import write_smf
from droner.score.score import Score
from tests.parts import need

BANK = Path("/usr/share/sounds/sf2/FluidR3_GM.sf2")
RATE_HZ = 48_000
WINDOW_S = 0.2
HOP_S = 0.02

Samples = np.ndarray[tuple[int], np.dtype[np.float64]]


def need_bank() -> None:
    """The bank; else the test is skipped, or fails where every part is required."""
    if BANK.is_file():
        return
    reason = f"the sound bank {BANK} is not on this machine"
    if os.environ.get("DRONER_REQUIRE_PARTS"):
        pytest.fail(reason, pytrace=False)
    pytest.skip(reason)


def played(score: Score, folder: Path) -> Samples:
    """The score as FluidSynth plays it: both channels added."""
    program = need("fluidsynth")
    need_bank()
    written, heard = folder / "played.mid", folder / "played.wav"
    write_smf(written, score)
    command = [program, "-ni", "-F", str(heard), "-r", str(RATE_HZ), "-R", "0", "-C", "0", str(BANK), str(written)]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    both, rate_hz = soundfile.read(heard)
    assert rate_hz == RATE_HZ
    return np.asarray(both.mean(axis=1), dtype=np.float64)


def between(samples: Samples, start_s: float, end_s: float) -> Samples:
    return samples[int(start_s * RATE_HZ) : int(end_s * RATE_HZ)]


def partial(samples: Samples, near_hz: float) -> np.ndarray[tuple[int], np.dtype[np.complex128]]:
    """One partial against a rotation at `near_hz`: its phase and amplitude every `HOP_S`."""
    window = np.hanning(int(WINDOW_S * RATE_HZ))
    starts = np.arange(0, len(samples) - len(window), int(HOP_S * RATE_HZ))
    times = np.arange(len(samples)) / RATE_HZ
    turned = samples * np.exp(-2j * np.pi * near_hz * times)
    return np.array([np.dot(turned[start : start + len(window)], window) for start in starts])


def measured_hz(samples: Samples, near_hz: float) -> float:
    """The frequency of the partial near `near_hz`, from the slope of its phase."""
    phases = np.unwrap(np.angle(partial(samples, near_hz)))
    times = np.arange(len(phases)) * int(HOP_S * RATE_HZ) / RATE_HZ
    return near_hz + float(np.polyfit(times, phases, 1)[0]) / (2 * np.pi)
