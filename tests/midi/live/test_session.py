"""A session played live is the session's file, message for message, and does not drift.

Referees  mido, which reads the file in seconds; JACK 2 with its dummy driver, whose clock gives the time of arrival.
"""

from __future__ import annotations

import time
from collections import defaultdict
from collections.abc import Iterable, Sequence
from io import BytesIO
from pathlib import Path
from queue import SimpleQueue

import mido
import pytest

from droner.midi.live.moments import Piece, piece
from droner.midi.live.player import Player
from droner.midi.live.playing import Ended
from droner.midi.live.port import OutputPort
from droner.midi.smf_file import smf_bytes
from droner.score.score import Score
from tests.midi.live.jack import jack_server, listeners, overruns
from tests.midi.live.music import session

DRIFT_S = 0.001
"""Over the whole session: less than one message on a MIDI cable. Arrival is grained by a period of 10.7 ms, and a busy
server comes late now and then, so the most punctual of many notes are compared."""
MOST_LOST = 0.05
"""The server loses a period when a client is late, as on a machine full of work, and says so; else nothing is lost."""
PROGRAM, NOTE_ON = 0xC0, 0x90
ARRIVED_S = 0.1
Timed = tuple[float, bytes]


def filed(made: Score) -> list[Timed]:
    """The channel messages of the file, with seconds, as mido merges its tracks."""
    now, found = 0.0, []
    for message in mido.MidiFile(file=BytesIO(smf_bytes(made))):
        now += message.time
        if not message.is_meta:
            found.append((now, bytes(message.bytes())))
    return found


def by_channel(wires: Iterable[bytes], used: Iterable[int]) -> dict[int, list[bytes]]:
    """What each channel hears, in order, the programs first: the file may choose one after the first bend."""
    found: defaultdict[int, list[bytes]] = defaultdict(list)
    for wire in sorted(wires, key=lambda wire: wire[0] & 0xF0 != PROGRAM):
        found[wire[0] % 16 + 1].append(wire)
    return {channel: found[channel] for channel in used}


def matched(received: Sequence[Timed], sent: Sequence[bytes]) -> list[tuple[int, float]]:
    """For each message received its place among those sent, and its second. AssertionError if the order is another."""
    found, place = [], 0
    for second, wire in received:
        assert wire in sent[place:], f"{wire.hex()} was not sent, or sooner than what was received before it"
        place = sent.index(wire, place)
        found.append((place, second))
        place += 1
    return found


def drift_s(late: Sequence[float]) -> float:
    """How much later the last third of the notes came than the first, by the most punctual note of each."""
    third = len(late) // 3
    return min(late[-third:]) - min(late[:third])


@pytest.fixture(scope="module")
def made() -> Score:
    return session(items=4, beats=8)


def played(ready: Piece, folder: Path) -> tuple[list[bytes], list[Timed], int, Ended]:
    """What was handed to the port, what the instrument received, how often the server was late, how it ended."""
    sent: list[bytes] = []
    with jack_server(folder) as surroundings, pytest.MonkeyPatch.context() as patched:
        for name, value in surroundings.items():
            patched.setenv(name, value)
        with listeners(1, surroundings) as ears, OutputPort.called("ear0") as port:

            def send(wire: bytes) -> None:
                port.send(wire)
                sent.append(wire)

            ended = Player(send, look=port.look).play(ready, SimpleQueue())
            time.sleep(ARRIVED_S)
            return sent, ears[0].taken(), overruns(surroundings), ended


def test_what_is_received_is_the_file_in_order_and_in_time(made: Score, tmp_path: Path) -> None:
    ready = piece(made)
    sent, received, overrun, ended = played(ready, tmp_path)
    assert ended.finished
    assert by_channel(sent, ready.channels) == by_channel((wire for _, wire in filed(made)), ready.channels)
    lost = len(sent) - len(received)
    assert lost <= (MOST_LOST * len(sent) if overrun else 0)
    due = [0.0] * len(ready.setting) + [float(moment.second) for moment in ready.moments]
    late = [second - due[place] for place, second in matched(received, sent) if sent[place][0] & 0xF0 == NOTE_ON]
    found_s = drift_s(late)
    print(
        f"{len(received)} messages in {float(ready.duration):.1f} s, {lost} lost by the server, late {overrun} times; "
        f"drift {found_s * 1000:+.3f} ms, {ended.timing.late} sent over 1 ms late, worst {ended.timing.worst_ms:.2f} ms"
    )
    assert len(late) > 100
    assert abs(found_s) < DRIFT_S
