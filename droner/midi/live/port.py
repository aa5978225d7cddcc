"""Open MIDI ports of this machine. (Shore: the only file that touches rtmidi.)

Rule    every MIDI system that the library knows is asked: ALSA, JACK, CoreMIDI, Windows MM. One that is not there gives
        a reason, not a traceback; what its library writes to stderr on the way is thrown away. A port that vanishes
        raises nothing, so `look` compares the port list; it opens the port again when it is back. While a port is
        away what is sent to it is dropped. Wait before closing: what was sent just before can be lost.
        The library opens the port at a place in a list that it makes anew. One that came or went in between would
        have our music sent to a neighbour, so the list must be the same before and after; else it is opened again.
        Not noticed: a port that goes and comes back under the same name between two looks.
        When the JACK server itself ends its library goes on listing the old ports and taking messages, so `look` asks
        whether the client's lines are cut. Every client of that server is then given up before a new one is tried:
        RtMidi was seen to crash when an old one was given up later. Once a second a new one is tried.
Source  python-rtmidi 1.5. Measured with JACK: a look 0.04 ms, a message 0.02 ms, opening again 9 ms besides the
        wait for JACK. Giving up a client whose server has ended takes 1 s, trying in vain for a new one 4 ms, and
        a new one 45 ms besides the wait.
        Closing a port of JACK in the middle of a period was once seen to crash RtMidi, in a listener of the tests.
"""

from __future__ import annotations

import re
import time
from contextlib import suppress
from typing import Any, Self
from weakref import WeakSet

from droner.errors import MachineError
from droner.live.quiet_stderr import quiet_stderr
from droner.midi.live.choosing import Port, Ports, again, chosen
from droner.midi.live.port_watch import PortState
from droner.midi.live.server_lines import Lines, are_cut, new_lines, open_lines

CONNECTS_S = 0.1
"""What JACK needs before a new connection carries messages, and before an old one is given up: those sent at once, and
those sent last, were lost. Two periods of 2048 frames at 44.1 kHz."""
OPENING_TRIES = 5
TRY_AGAIN_S = 1.0
"""How often it is tried whether a server that ended is back."""
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
_OUR_END = re.compile(rf"{OURS}(-\d+)?:(in|out)put\b")


def output_ports() -> Ports:
    """Where music can be sent."""
    return _ports("MidiOut")


def input_ports() -> Ports:
    """Where pedals and keyboards can be heard."""
    return _ports("MidiIn")


class _OpenPort:
    """A port that is open. `virtual` ports are our own, for others to connect to, and there while their system is."""

    client_kind = ""
    words = ""

    def __init__(self, port: Port, wanted: str, *, virtual: bool) -> None:
        self.port = port
        self.gone = False
        self._wanted, self._virtual = wanted, virtual
        self._tried_s = 0.0
        self._join()
        _WITH_A_SERVER.add(self)

    @classmethod
    def called(cls, wanted: str = "") -> Self:
        """Open the port whose name, or part of a name, is given. MachineError if it cannot be."""
        port = chosen(wanted, _ports(cls.client_kind), cls.words)
        opened = cls(port, wanted, virtual=False)
        if not opened._open(port):
            raise MachineError(f"the MIDI {cls.words} port {port} does not open")
        return opened

    @classmethod
    def of_our_own(cls, name: str = OURS) -> Self:
        """Make a port for others to connect to. MachineError where the system has no such ports."""
        for system in _systems():
            with suppress(*_failures()):
                opened = cls(Port(system, name), name, virtual=True)
                opened._midi.open_virtual_port(name)
                return opened
        reasons = "".join(f"\n    {reason}" for reason in _ports(cls.client_kind).silent)
        raise MachineError(f"this machine cannot make a MIDI {cls.words} port of our own{reasons}")

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def look(self) -> PortState:
        """Whether the port has gone, or has come back and is open again."""
        was_gone = self.gone
        if self.is_cut_off:
            self.gone = not self._joined_again()
        elif self._is_as_before():
            return PortState.SAME
        if not self.gone:
            return PortState.BACK
        return PortState.SAME if was_gone else PortState.GONE

    @property
    def is_cut_off(self) -> bool:
        """Whether the server has ended."""
        return self._midi.is_deleted or are_cut(self._lines)

    def give_up(self) -> None:
        """Give the client back, which may complain that its server has ended."""
        if not self._midi.is_deleted:
            with quiet_stderr():
                self._midi.close_port()
                self._midi.delete()

    def close(self) -> None:
        """Close the port, and give the system's resources back at once."""
        if not self._midi.is_deleted:
            if self.port.system == "JACK" and not self.is_cut_off:
                time.sleep(CONNECTS_S)  # a server that is late still has to fetch the last messages
            self.give_up()

    def _join(self) -> None:
        before = open_lines()
        self._midi = _client(self.client_kind, self.port.system)
        self._lines: Lines = new_lines(before) if self.port.system == "JACK" else {}

    def _is_as_before(self) -> bool:
        """Whether the port is there and open, as it was; opens one that is back."""
        if self._virtual:
            return True
        found = again(self.port, self._wanted, _others(self._midi, self.port.system))
        if found == self.port and not self.gone:
            return True
        self.gone = found is None or not self._open(found)
        return False

    def _joined_again(self) -> bool:
        """Try for a new client and its port, now and then."""
        _give_up_all_that_are_cut_off()
        now_s = time.monotonic()
        if not self.gone:
            self._tried_s = now_s  # others that talk to that server have to let go of it first
        if now_s - self._tried_s < TRY_AGAIN_S:
            return False
        self._tried_s = now_s
        with suppress(*_failures()):
            self._join()
            return self._opened_again()
        return False

    def _opened_again(self) -> bool:
        if not self._virtual:
            found = again(self.port, self._wanted, _others(self._midi, self.port.system))
            return found is not None and self._open(found)
        self._midi.open_virtual_port(self.port.name)
        time.sleep(CONNECTS_S)
        return True

    def _open(self, port: Port) -> bool:
        """Open the port, wherever in the list it stands now."""
        with suppress(ValueError, *_failures()):
            for _ in range(OPENING_TRIES):
                listed = _listed(self._midi, port.system)
                place = [each.name for each in listed].index(port.name)
                self._midi.close_port()
                self._midi.open_port(place, self.words)
                if _listed(self._midi, port.system) == listed:
                    self.port = port
                    if port.system == "JACK":
                        time.sleep(CONNECTS_S)
                    return True
            self._midi.close_port()
        return False


class OutputPort(_OpenPort):
    """A port that takes messages."""

    client_kind = "MidiOut"
    words = "output"

    def send(self, wire: bytes) -> None:
        """Send one message; nothing, while the port is away."""
        if self.gone or self._midi.is_deleted:
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
        message = None if self._midi.is_deleted else self._midi.get_message()
        return bytes(message[0]) if message else None


_WITH_A_SERVER: WeakSet[_OpenPort] = WeakSet()


def _give_up_all_that_are_cut_off() -> None:
    for port in tuple(_WITH_A_SERVER):
        if port.is_cut_off:
            port.give_up()


def _ports(kind: str) -> Ports:
    found: list[Port] = []
    silent: list[str] = []
    for system, reason in _systems().items():
        try:
            midi = _client(kind, system)
        except _failures():
            silent.append(reason)
            continue
        found += _others(midi, system)
        midi.delete()
    return Ports(tuple(found), tuple(silent))


def _listed(midi: Any, system: str) -> list[Port]:
    return [Port(system, name) for name in midi.get_ports()]


def _others(midi: Any, system: str) -> list[Port]:
    """Those that a player may choose: not the ends of our own cables, or our music would be taken for a pedal."""
    return [port for port in _listed(midi, system) if not _OUR_END.match(port.name)]


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
    """What the library raises when a system or a port fails; the last where a system has no ports of our own."""
    library = _library()
    return library.RtMidiError, library.SystemError, NotImplementedError


def _library() -> Any:
    try:
        import rtmidi  # noqa: PLC0415 - only live music pays for it
    except ImportError as missing:
        raise MachineError(MISSING) from missing
    return rtmidi
