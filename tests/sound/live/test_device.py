"""What is said where the library, PortAudio or every output is missing.

Referee  stand-ins for the library that fail as sounddevice 0.5 does: an ImportError, the OSError that it raises when it
         does not find PortAudio (its source), an empty list of devices.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from tests.midi.live.jack import REPOSITORY

ASK = """
from droner.errors import MachineError
from droner.sound.live.device import Speaker
try:
    Speaker.called()
except MachineError as told:
    print(told)
"""
NO_OUTPUT = """
class PortAudioError(Exception): pass
class default: device = {"input": -1, "output": -1}
def query_hostapis(): return ()
def query_devices(): return []
"""
ONE_OUTPUT = """
class PortAudioError(Exception): pass
class default: device = {"input": -1, "output": 0}
def query_hostapis(): return ({"name": "ALSA", "default_output_device": 0},)
def query_devices():
    return [{"name": "invented", "hostapi": 0, "max_output_channels": 8, "default_samplerate": 44100.0,
             "default_high_output_latency": 0.04}]
def check_output_settings(device, channels, dtype, samplerate):
    if samplerate != 44100:
        raise PortAudioError("Invalid sample rate [PaErrorCode -9997]")
"""
SOON = """
from droner.errors import MachineError
from droner.sound.live.device import speaker_soon
coming = speaker_soon("horn")
import numpy
try:
    coming()
except MachineError as told:
    print(told)
"""
RATE = """
from droner.sound.live.device import Speaker
speaker = Speaker.called()
print(speaker.device, speaker.rate_hz, speaker.channels)
"""
NOISE = "import os\nos.write(2, b'ALSA lib: noise')\n"


def said(folder: Path, library: str, program: str = ASK) -> str:
    (folder / "sounddevice.py").write_text(NOISE + library)
    done = subprocess.run(
        [sys.executable, "-c", program],
        env=os.environ | {"PYTHONPATH": f"{folder}{os.pathsep}{REPOSITORY}"},
        cwd=folder,
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stderr == "", "nothing of the libraries' own talk"
    return done.stdout


def test_without_the_library_the_extra_is_named(tmp_path: Path) -> None:
    assert "pip install 'droner[speaker]'" in said(tmp_path, "raise ImportError('no such library')")


def test_without_portaudio_its_package_is_named(tmp_path: Path) -> None:
    told = said(tmp_path, "raise OSError('PortAudio library not found')")
    assert "droner[speaker]" in told
    assert ("libportaudio2" in told) == sys.platform.startswith("linux")


def test_a_portaudio_that_does_not_start_is_told(tmp_path: Path) -> None:
    assert "PortAudio does not start: Error initializing" in said(
        tmp_path, "raise RuntimeError('Error initializing PortAudio')"
    )


def test_without_an_output_it_says_so(tmp_path: Path) -> None:
    assert said(tmp_path, NO_OUTPUT) == "this machine has no audio output\n"


def test_an_output_that_does_not_take_our_rate_has_its_own(tmp_path: Path) -> None:
    assert said(tmp_path, ONE_OUTPUT, RATE) == "invented (ALSA) 44100 2\n"


def test_an_output_may_be_looked_for_while_the_rest_loads(tmp_path: Path) -> None:
    told = said(tmp_path, ONE_OUTPUT, SOON)
    assert told == "no audio output is called 'horn'; there are:\n    invented (ALSA)\n"


def test_the_floor_below_loads_no_library_of_devices() -> None:
    told = "import sys, droner.sound.live.player, droner.sound.live.device; print('sounddevice' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", told], cwd=REPOSITORY, capture_output=True, text=True, check=True)
    assert done.stdout == "False\n"
