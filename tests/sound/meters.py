"""Measure a file as two independent meters do: pyloudnorm, and ffmpeg's ebur128 with its true peak."""

from __future__ import annotations

import re
import subprocess
import warnings
from pathlib import Path

import numpy as np
import soundfile

from tests.parts import need
from tests.sound.measure import Wave

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import pyloudnorm

NEAR_LU = 0.2
"""EBU R 128 v4 allows so much where loudness is measured for control."""
MIX_LUFS, DRONE_LUFS, CEILING_DBTP = -16.0, -18.0, -1.0


def lufs_of(samples: Wave, rate_hz: int) -> float:
    """Integrated loudness by pyloudnorm."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return float(pyloudnorm.Meter(rate_hz).integrated_loudness(samples))


def by_pyloudnorm(path: Path) -> float:
    samples, rate_hz = soundfile.read(path)
    return lufs_of(np.asarray(samples, dtype=np.float64), rate_hz)


def by_ffmpeg(path: Path) -> tuple[float, float]:
    """Integrated loudness and true peak."""
    command = [need("ffmpeg"), "-nostats", "-i", str(path), "-filter:a", "ebur128=peak=true", "-f", "null", "-"]
    told = subprocess.run(command, capture_output=True, text=True, check=True).stderr
    summary = told[told.rindex("Summary:") :]
    loudness, highest = re.search(r"I:\s+(-?[\d.]+)", summary), re.search(r"Peak:\s+(-?[\d.]+)", summary)
    assert loudness
    assert highest
    return float(loudness[1]), float(highest[1])
