"""Referee: JACK 2 with its dummy driver, and instruments in another process that open and close their ports."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from droner.errors import MachineError
from droner.midi.live.choosing import Port
from droner.midi.live.port import InputPort, OutputPort, input_ports, output_ports
from droner.midi.live.port_watch import PortState
from tests.midi.live.jack import PERIOD_S, REPOSITORY, Ear, listeners, need_rtmidi

ARRIVED_S = 10 * PERIOD_S
"""A message takes a period or two; on a busy machine the server itself comes late."""
TRIES = 10
"""The server may lose a period, and what is in it, when a machine is full of work."""
SERVER_KNOWS_S = 5
ON, OFF = bytes.fromhex("90 3C 50"), bytes.fromhex("80 3C 40")


@pytest.fixture
def ears(jack: dict[str, str]) -> Iterator[list[Ear]]:
    with listeners(2, jack) as found:
        yield found


def heard(port: OutputPort, ear: Ear, *wires: bytes) -> list[bytes]:
    """What an instrument hears while these are sent, until all of them are there."""
    found: list[bytes] = []
    for _ in range(TRIES):
        for wire in wires:
            port.send(wire)
        time.sleep(ARRIVED_S)
        found += [wire for _, wire in ear.taken()]
        if found[-len(wires) :] == list(wires):
            break
    return found


def first_change(port: OutputPort) -> PortState:
    """What a look finds as soon as the server itself knows."""
    until = time.monotonic() + SERVER_KNOWS_S
    while time.monotonic() < until:
        found = port.look()
        if found is not PortState.SAME:
            return found
        time.sleep(PERIOD_S)
    return PortState.SAME


def test_the_ports_are_listed(ears: list[Ear]) -> None:  # noqa: ARG001 - they have to be there
    assert [port for port in output_ports().found if port.system == "JACK"] == [
        Port("JACK", "ear0:in"),
        Port("JACK", "ear1:in"),
    ]


def test_a_message_arrives_at_the_port_that_was_named_and_at_no_other(ears: list[Ear]) -> None:
    with OutputPort.called("EAR1") as port:
        assert set(heard(port, ears[1], ON, OFF)) == {ON, OFF}
    assert ears[0].taken() == []


@pytest.mark.usefixtures("ears")
def test_the_ends_of_our_own_cables_are_not_offered() -> None:
    with OutputPort.called("ear0"):
        time.sleep(ARRIVED_S)
        assert [port for port in input_ports().found if port.system == "JACK"] == []


def test_two_that_fit_and_none_that_fits_are_refused(ears: list[Ear]) -> None:  # noqa: ARG001 - as above
    with pytest.raises(MachineError, match="'ear' fits 2 MIDI output ports"):
        OutputPort.called("ear")
    with pytest.raises(MachineError, match="no MIDI output port is called 'organ'"):
        OutputPort.called("organ")


def test_a_port_that_vanishes_is_noticed_and_opened_again(ears: list[Ear]) -> None:
    with OutputPort.called("ear0") as port:
        assert port.look() is PortState.SAME
        with ears[0].away():
            assert first_change(port) is PortState.GONE
            port.send(ON)
            assert port.look() is PortState.SAME
        assert first_change(port) is PortState.BACK
        assert set(heard(port, ears[0], OFF)) == {OFF}, "what is sent to nobody is not kept for later"


def test_a_port_of_our_own_can_be_heard_by_whoever_connects(jack: dict[str, str]) -> None:  # noqa: ARG001 - the server
    with OutputPort.of_our_own("practice") as ours, InputPort.called("practice") as pedal:
        pressed = None
        for _ in range(TRIES):
            ours.send(bytes.fromhex("B0 40 7F"))
            time.sleep(ARRIVED_S)
            pressed = pressed or pedal.receive()
        assert pressed == bytes.fromhex("B0 40 7F")
        assert ours.look() is PortState.SAME


def test_a_closed_port_may_be_closed_again(ears: list[Ear]) -> None:  # noqa: ARG001 - as above
    port = OutputPort.called("ear0")
    port.close()
    port.close()
    assert "ear0:in" in [found.name for found in output_ports().found]


class Moving:
    """A library whose list of ports moves while a port is being opened; it stands still in the end, or never."""

    API_UNIX_JACK = 2
    RtMidiError = SystemError = RuntimeError
    is_deleted = False

    def __init__(self, lists: list[list[str]]) -> None:
        self.lists, self.connected, self.wires = lists, "", list[tuple[str, bytes]]()

    def MidiOut(self, number: int, name: str) -> Moving:  # noqa: ARG002, N802 - the library's own names
        return self

    def get_compiled_api(self) -> list[int]:
        return [self.API_UNIX_JACK]

    def get_ports(self) -> list[str]:
        return self.lists[0]

    def open_port(self, place: int, name: str) -> None:  # noqa: ARG002 - as the library's
        self.lists = self.lists[1:] or self.lists
        self.connected = self.lists[0][place]

    def close_port(self) -> None:
        self.connected = ""

    def delete(self) -> None:
        pass

    def send_message(self, wire: bytes) -> None:
        self.wires.append((self.connected, wire))


def test_no_neighbour_is_played_to_when_the_list_moves_meanwhile(monkeypatch: pytest.MonkeyPatch) -> None:
    library = Moving([["organ:in", "flute:in", "tuba:in"], ["flute:in", "tuba:in"]])
    monkeypatch.setattr("droner.midi.live.port._library", lambda: library)
    with OutputPort.called("flute") as port:
        port.send(ON)
    assert library.wires == [("flute:in", ON)]
    moving = [["flute:in", "tuba:in"], ["tuba:in", "flute:in"]]
    library.lists = moving * 20
    with pytest.raises(MachineError, match="does not open"):
        OutputPort.called("flute")
    assert library.connected == ""


ASK_FOR_A_PIANO = """
from droner.errors import MachineError
from droner.midi.live.port import OutputPort
try:
    OutputPort.called("piano")
except MachineError as refused:
    print(refused)
"""


def test_a_machine_without_midi_says_so_and_its_libraries_are_quiet(tmp_path: Path) -> None:
    need_rtmidi()
    told = subprocess.run(
        [sys.executable, "-c", ASK_FOR_A_PIANO],
        env=os.environ | {"JACK_DEFAULT_SERVER": f"nobody-{tmp_path.name}"},
        cwd=REPOSITORY,
        check=True,
        capture_output=True,
        text=True,
    )
    assert told.stderr == ""
    assert "MIDI output port" in told.stdout
    assert "JACK did not start: no JACK server is running" in told.stdout


def test_midi_itself_does_not_load_the_library() -> None:
    program = (
        "import sys, droner.midi.live.player, droner.midi.live.stage, droner.midi.live.hands;"
        "sys.exit('rtmidi' in sys.modules or 'mido' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0
