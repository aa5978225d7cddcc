"""Read audio files with programs that are not ours."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path
from typing import Any

import numpy as np
import soundfile

from tests.parts import need
from tests.sound.measure import Wave


def by_soundfile(path: Path) -> Wave:
    """The first channel, as libsndfile decodes it."""
    samples: Wave = soundfile.read(path, dtype="float64", always_2d=True)[0][:, 0]
    return samples


def by_ffmpeg(path: Path, channels: int = 1) -> Wave:
    """The first channel, as ffmpeg decodes it. It may not complain about anything."""
    command = [need("ffmpeg"), "-v", "error", "-i", str(path), "-f", "f64le", "-"]
    done = subprocess.run(command, capture_output=True, check=True)
    assert not done.stderr, done.stderr.decode()
    return np.frombuffer(done.stdout, dtype="<f8").reshape(-1, channels)[:, 0]


def told_by_ffprobe(path: Path) -> tuple[dict[str, str], dict[str, Any]]:
    """The tags, names in lower case, and the facts of the stream."""
    command = [need("ffprobe"), "-v", "error", "-of", "json", "-show_format", "-show_streams", str(path)]
    done = subprocess.run(command, capture_output=True, check=True)
    told = json.loads(done.stdout)
    stream = told["streams"][0]
    tags = {**told["format"].get("tags", {}), **stream.get("tags", {})}
    return {name.lower(): text for name, text in tags.items()}, stream
