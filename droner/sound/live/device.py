"""Open the computer's loudspeaker. (Shore: the only file that touches sounddevice and PortAudio.)

Rule    the device's own rate where it does not take 48 kHz; one channel or two. Blocks are as large as the system likes
        them, and enough of them wait that Python may be late by a few hundredths of a second. What the C libraries of
        ALSA and JACK say while they are tried is thrown away. A device that goes away is noticed, because it asks for
        nothing any more: `failure` then says so; it must be opened anew when it is back. PortAudio may wait for ever
        for a device that is gone, or for a sound server that hangs; so closing has a limited time, and so has the end
        of the library when the interpreter ends. Afterwards neither is tried again.
Units   seconds; samples at full scale 1, shape (frames, channels).
Source  sounddevice 0.5 over PortAudio 19.6.
"""

from __future__ import annotations

import atexit
import sys
import time
from collections.abc import Callable
from functools import cache
from threading import Thread
from typing import TYPE_CHECKING, Any

from droner.errors import MachineError
from droner.live.quiet_stderr import quiet_stderr
from droner.sound.live.choosing import Device, chosen

if TYPE_CHECKING:
    from droner.sound.voice import Samples

LEAST_LATENCY_S = 0.05
"""What is asked for at least: Python's threads take turns every 5 ms, on a busy machine far less often."""
GONE_AFTER_S = 1.0
"""A device that asks for nothing for so long is gone: its blocks are far shorter."""
STARTS_WITHIN_S = 5.0
"""What an output may take besides, until it asks for the first time: those without a cable wake slowly."""
MOST_LATENCY_S = 10.0
"""More is no latency but a fault: PortAudio told 89,478 s, 2^32 frames, of a JACK port that names none."""
CLOSES_WITHIN_S = 1.0
MOST_CHANNELS = 2
MISSING_LIBRARY = "the speaker needs the library sounddevice: pip install 'droner[speaker]'"
MISSING_PORTAUDIO = "the speaker of pip install 'droner[speaker]' finds no PortAudio on this machine"
LINUX_PACKAGE = "; on Debian and Ubuntu: apt install libportaudio2"

Take = Callable[["Samples"], None]


def output_devices() -> tuple[Device, ...]:
    """Where music can sound, the machine's own choice first. MachineError when the library is missing."""
    library = _library()
    systems = library.query_hostapis()
    devices = [
        Device(
            number,
            systems[row["hostapi"]]["name"],
            row["name"],
            row["max_output_channels"],
            int(row["default_samplerate"]),
            row["default_high_output_latency"],
            usual=number == systems[row["hostapi"]]["default_output_device"],
        )
        for number, row in enumerate(library.query_devices())
        if row["max_output_channels"]
    ]
    own = library.default.device["output"]
    preferred = {device.system for device in devices if device.number == own}
    return tuple(sorted(devices, key=lambda device: device.system not in preferred))


class Speaker:
    """An audio output. `open` begins to ask for samples, `close` ends it; it may be opened again."""

    def __init__(self, device: Device, wanted: str = "") -> None:
        self.device = device
        self.channels = min(device.channels, MOST_CHANNELS)
        self.rate_hz = _rate_hz(device, self.channels)
        self.latency_s = 0.0
        self.lost = 0
        self._wanted = wanted
        self._stream: Any = None
        self._take: Take = _silence
        self._samples: Callable[[Any, int], Samples]
        self._asked_at = 0.0
        self._broken: Exception | None = None

    @classmethod
    def called(cls, wanted: str = "") -> Speaker:
        """The output whose name, or part of a name, is given. MachineError if there is none."""
        return cls(chosen(wanted, output_devices()), wanted)

    @property
    def failure(self) -> str:
        """Why nothing sounds any more; "" while all is well."""
        if self._broken is not None:
            return f"the audio output {self.device} failed: {self._broken}"
        is_gone = self._stream is not None and (
            not self._stream.active or time.monotonic() - self._asked_at > GONE_AFTER_S
        )
        return f"the audio output {self.device} has gone away: unplugged, or its sound server ended" if is_gone else ""

    def open(self, take: Take) -> None:
        """Ask `take` to fill one block after another, from a thread of its own. MachineError if it does not open."""
        import numpy as np  # noqa: PLC0415 - an output is looked for while numpy still loads

        library = _library()
        self._take = take
        self._samples = lambda out, frames: np.frombuffer(out, np.float32).reshape(frames, self.channels)
        try:
            with quiet_stderr():
                self._stream = library.RawOutputStream(
                    samplerate=self.rate_hz,
                    device=self.device.number,
                    channels=self.channels,
                    dtype="float32",
                    latency=max(self.device.latency_s, LEAST_LATENCY_S),
                    clip_off=True,
                    callback=self._asked,
                )
                self._asked_at = time.monotonic() + STARTS_WITHIN_S
                self._stream.start()
        except library.PortAudioError as refused:
            raise MachineError(f"the audio output {self.device} does not open: {refused}") from refused
        told_s = float(self._stream.latency)
        self.latency_s = told_s if 0 <= told_s < MOST_LATENCY_S else LEAST_LATENCY_S

    def open_again(self) -> None:
        """After a sleep, in which a sound server may have lost patience with us: find the device, and open it."""
        library = _library()
        self.close()
        with quiet_stderr():
            library._terminate()  # noqa: SLF001 - documented; the only way to look for devices anew
            library._initialize()  # noqa: SLF001 - as above
        self.device = chosen(self._wanted or self.device.name, output_devices())
        self.open(self._take)

    def close(self) -> None:
        """Ask for nothing any more."""
        stream, self._stream = self._stream, None
        if stream is None:
            return
        if not _in_time(lambda: _closed(stream)):
            atexit.unregister(_in_time)

    def _asked(self, out: Any, frames: int, _: Any, status: Any) -> None:
        """The library's callback."""
        self._asked_at = time.monotonic()
        if status.output_underflow:
            self.lost += 1
        samples = self._samples(out, frames)
        try:
            self._take(samples)
        except Exception as failure:  # noqa: BLE001 - the library would print it; the player raises it
            self._broken = failure
            samples[:] = 0.0


def speaker_soon(wanted: str = "") -> Callable[[], Speaker]:
    """Begin to look for the output, while the rest of the program loads; call what it gives to have it, or its failure.

    Until then stderr is not to be written to. Sound systems take some hundredths of a second to start.
    """
    found: list[Speaker | BaseException] = []

    def look() -> None:
        try:
            found.append(Speaker.called(wanted))
        except BaseException as failure:  # noqa: BLE001 - raised where the output is wanted
            found.append(failure)

    looking = Thread(target=look, daemon=True)
    looking.start()

    def speaker() -> Speaker:
        looking.join()
        if isinstance(found[0], BaseException):
            raise found[0]
        return found[0]

    return speaker


def _silence(out: Samples) -> None:
    out[:] = 0.0


def _closed(stream: Any) -> None:
    stream.abort()
    stream.close()


def _rate_hz(device: Device, channels: int) -> int:
    """48 kHz if the device takes it, else its own rate."""
    from droner.sound.render import RATE_HZ  # noqa: PLC0415 - loads numpy, as above

    library = _library()
    try:
        with quiet_stderr():
            library.check_output_settings(device.number, channels, "float32", samplerate=RATE_HZ)
    except library.PortAudioError:
        return device.rate_hz
    return RATE_HZ


def _library() -> Any:
    try:
        return _loaded()
    except ImportError as missing:
        raise MachineError(MISSING_LIBRARY) from missing
    except OSError as missing:
        more = LINUX_PACKAGE if sys.platform.startswith("linux") else ""
        raise MachineError(MISSING_PORTAUDIO + more) from missing
    except Exception as failure:
        # its own class of error cannot be named here: it comes from the library that did not load
        raise MachineError(f"PortAudio does not start: {failure}") from failure


@cache
def _loaded() -> Any:
    with quiet_stderr():
        import sounddevice  # noqa: PLC0415 - only the speaker pays for it
    own_end = getattr(sounddevice, "_exit_handler", None)
    if own_end is not None:  # it may wait for ever
        atexit.unregister(own_end)
        atexit.register(_in_time, own_end)
    return sounddevice


def _in_time(work: Callable[[], None]) -> bool:
    """Whether the work was done in the time that closing has; else it is left behind."""
    working = Thread(target=work, daemon=True)
    with quiet_stderr():
        working.start()
        working.join(CLOSES_WITHIN_S)
    return not working.is_alive()
