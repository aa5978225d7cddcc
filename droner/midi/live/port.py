"""Open MIDI ports of this machine. (Shore: the only file that touches rtmidi.)

Rule    every MIDI system that the library knows is asked: ALSA, JACK, CoreMIDI, Windows MM. One that is not there gives
        a reason, not a traceback; what its library writes to stderr on the way is thrown away. A port that vanishes
        raises nothing, so `look` compares the port list; it opens the port again when it is back. While a port is
        away what is sent to it is dropped. Wait before closing: what was sent just before can be lost.
        Not noticed: a port that goes and comes back under the same name between two looks, and the end of the JACK
        server itself, whose library goes on listing the old ports.
Source  python-rtmidi 1.5. Measured with JACK: a look 0.04 ms, a message 0.02 ms, opening again 9 ms besides the
        wait for JACK.
        Closing a port of JACK in the middle of a period was once seen to crash RtMidi, in a listener of the tests.
"""

from __future__ import annotations

import time
from contextlib import suppress
from typing import Any, Self

from droner.errors import MachineError
from droner.live.quiet_stderr import quiet_stderr
from droner.midi.live.choosing import Port, Ports, again, chosen
from droner.midi.live.port_watch import PortState

CONNECTS_S = 0.1
"""What JACK needs before a new connection carries messages, and before an old one is given up: those sent at once, and
those sent last, were lost. Two periods of 2048 frames at 44.1 kHz."""
SYSTEMS: tuple[tuple[str, str, str], ...] = (
    ("API_LINUX_ALSA", "ALSA", "ALSA did not start: this machine has no MIDI sequencer (/dev/snd/seq)"),
    ("API_UNIX_JACK", "JACK", "JACK did not start: no JACK server is running"),
    ("API_MACOSX_CORE", "CoreMIDI", "CoreMIDI did not start"),
    ("API_WINDOWS_MM", "Windows MM", "Windows MM did not start"),
)
"""The library's name of a system, ours, and what is said when it does not answer; in the order they are asked."""
MISSING = "live MIDI needs the library python-rtmidi: pip install 'droner[live]'"
OURS = "droner"
MOST_WAITING = 4096
"""Messages that an input keeps until they are fetched; those beyond are lost."""


def output_ports() -> Ports:
    """Where music can be sent."""
    return _ports("MidiOut")


def input_ports() -> Ports:
    """Where pedals and keyboards can be heard."""
    return _ports("MidiIn")


class _OpenPort:
    """A port that is open. `virtual` ports are our own, for others to connect to, and are always there."""

    client_kind = ""
    words = ""

    def __init__(self, midi: Any, port: Port, wanted: str, *, virtual: bool) -> None:
        self.port = port
        self.gone = False
        self._midi, self._wanted, self._virtual = midi, wanted, virtual

    @classmethod
    def called(cls, wanted: str = "") -> Self:
        """Open the port whose name, or part of a name, is given. MachineError if it cannot be."""
        port = chosen(wanted, _ports(cls.client_kind), cls.words)
        midi = _client(cls.client_kind, port.system)
        opened = cls(midi, port, wanted, virtual=False)
        if not opened._open(port):
            raise MachineError(f"the MIDI {cls.words} port {port} does not open")
        return opened

    @classmethod
    def of_our_own(cls, name: str = OURS) -> Self:
        """Make a port for others to connect to. MachineError where the system has no such ports."""
        for system in _systems():
            with suppress(*_failures()):
                midi = _client(cls.client_kind, system)
                midi.open_virtual_port(name)
                return cls(midi, Port(system, name), name, virtual=True)
        reasons = "".join(f"\n    {reason}" for reason in _ports(cls.client_kind).silent)
        raise MachineError(f"this machine cannot make a MIDI {cls.words} port of our own{reasons}")

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def look(self) -> PortState:
        """Whether the port has gone, or has come back and is open again."""
        if self._virtual:
            return PortState.SAME
        found = again(self.port, self._wanted, _listed(self._midi, self.port.system))
        if found == self.port and not self.gone:
            return PortState.SAME
        was_gone, self.gone = self.gone, found is None or not self._open(found)
        if not self.gone:
            return PortState.BACK
        return PortState.SAME if was_gone else PortState.GONE

    def close(self) -> None:
        """Close the port, and give the system's resources back at once."""
        if not self._midi.is_deleted:
            if self.port.system == "JACK":
                time.sleep(CONNECTS_S)  # a server that is late still has to fetch the last messages
            self._midi.close_port()
            self._midi.delete()

    def _open(self, port: Port) -> bool:
        """Open the port, wherever in the list it stands now."""
        with suppress(ValueError, *_failures()):
            place = [each.name for each in _listed(self._midi, port.system)].index(port.name)
            self._midi.close_port()
            self._midi.open_port(place, self.words)
            self.port = port
            if port.system == "JACK":
                time.sleep(CONNECTS_S)
            return True
        return False


class OutputPort(_OpenPort):
    """A port that takes messages."""

    client_kind = "MidiOut"
    words = "output"

    def send(self, wire: bytes) -> None:
        """Send one message; nothing, while the port is away."""
        if self.gone:
            return
        try:
            self._midi.send_message(wire)
        except _failures():
            self.gone = True  # `look` opens it again


class InputPort(_OpenPort):
    """A port that gives messages."""

    client_kind = "MidiIn"
    words = "input"

    def receive(self) -> bytes | None:
        """The next message that has come, or None. Clock and sensing are left out by the library."""
        message = self._midi.get_message()
        return bytes(message[0]) if message else None


def _ports(kind: str) -> Ports:
    found: list[Port] = []
    silent: list[str] = []
    for system, reason in _systems().items():
        try:
            midi = _client(kind, system)
        except _failures():
            silent.append(reason)
            continue
        found += _listed(midi, system)
        midi.delete()
    return Ports(tuple(found), tuple(silent))


def _listed(midi: Any, system: str) -> list[Port]:
    return [Port(system, name) for name in midi.get_ports()]


def _client(kind: str, system: str) -> Any:
    library = _library()
    number = next(getattr(library, theirs) for theirs, ours, _ in SYSTEMS if ours == system)
    more = {"queue_size_limit": MOST_WAITING} if kind == "MidiIn" else {}
    with quiet_stderr():
        return getattr(library, kind)(number, OURS, **more)


def _systems() -> dict[str, str]:
    """The systems that this build of the library knows, with what is said when one does not answer."""
    library = _library()
    compiled = set(library.get_compiled_api())
    return {ours: reason for theirs, ours, reason in SYSTEMS if getattr(library, theirs, None) in compiled}


def _failures() -> tuple[type[Exception], ...]:
    """What the library raises when a system or a port fails."""
    library = _library()
    return library.RtMidiError, library.SystemError, NotImplementedError


def _library() -> Any:
    try:
        import rtmidi  # noqa: PLC0415 - only live music pays for it
    except ImportError as missing:
        raise MachineError(MISSING) from missing
    return rtmidi
