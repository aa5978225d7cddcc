"""The day runs by itself, and what is sent is what the day's MIDI files have.

Referees  an instrument in another process behind JACK 2, which counts what stands by MIDI 1.0; the day's MIDI files as
          mido reads them; MIDI 1.0: FA starts, F8 beats 24 times a quarter, FC stops.
"""

from __future__ import annotations

import time
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import mido

from tests.cli.play.session import DAY, home
from tests.cli.play.stand import play_in
from tests.cli.programs import Ran, droner_in
from tests.midi.live.jack import Ear, overruns

SOLO = {0, 1}
"""The channels of the solo, counted from 0, in the day's MIDI files: the tracks named Solo."""
ARRIVED_S = 0.15
TRIES = 2


def written_notes(room: Path, number: int) -> list[bytes]:
    """Those of an item's MIDI file."""
    if not (room / "day").exists():
        assert droner_in(room, "render", DAY, "--as=mid", "--out=day").code == 0
    file = sorted((room / "day").glob("*.mid"))[number - 1]
    sounding = [each for each in mido.MidiFile(file) if each.type == "note_on" and each.velocity]
    return [bytes(each.bytes()) for each in sounding]


@dataclass(frozen=True, slots=True)
class Played:
    """A day that was played: what the program said, what came, and whether the server lost moments of it."""

    ran: Ran
    came: list[bytes]
    is_whole: bool

    def kinds(self, *statuses: int) -> list[bytes]:
        """The messages of some kinds; a note that begins with no velocity is none."""
        return [wire for wire in self.came if wire[0] in statuses and (wire[0] >= 0xF0 or wire[2])]

    @property
    def notes(self) -> list[bytes]:
        """The notes that began."""
        return self.kinds(*range(0x90, 0xA0))

    def assert_notes(self, written: list[bytes]) -> None:
        """They are those that are written; on a machine too full for JACK, none but those."""
        assert not Counter(self.notes) - Counter(written)
        assert self.notes
        if self.is_whole:
            assert sorted(self.notes) == sorted(written)


def played_to(ear: Ear, room: Path, jack: dict[str, str], *arguments: str) -> Played:
    """A day played to its end; once more where the server says that it lost a moment."""
    for _ in range(TRIES):
        before = overruns(jack)
        ran = droner_in(room, "play", DAY, "--port=ear0", *arguments, "--json", environment=jack | home(room))
        time.sleep(ARRIVED_S)
        assert ran.code == 0, ran.err
        played = Played(ran, [wire for _, wire in ear.taken()], overruns(jack) == before)
        if played.is_whole:
            assert ear.standing == []
            break
    return played


def test_the_day_runs_by_itself_and_is_what_the_midi_files_have(room: Path, jack: dict[str, str], ear: Ear) -> None:
    played = played_to(ear, room, jack, "--wait=0.2")
    assert [line.partition(":")[0] for line in played.ran.err.splitlines()] == ["1 of 2", "2 of 2"]
    assert [(each["number"], each["key"], each["tempo_bpm"]) for each in played.ran.data["played"]] == [
        (1, "C# minor", 200),
        (2, "F major", 200),
    ]
    written = [wire for number in (1, 2) for wire in written_notes(room, number) if wire[0] & 0x0F not in SOLO]
    assert len(written) > 20
    played.assert_notes(written)


def test_the_guide_is_sent_when_asked_for(room: Path, jack: dict[str, str], ear: Ear) -> None:
    played = played_to(ear, room, jack, "--only=2", "--guide")
    assert [each["number"] for each in played.ran.data["played"]] == [2]
    written = written_notes(room, 2)
    assert any(wire[0] & 0x0F in SOLO for wire in written)
    assert any(wire[0] & 0x0F in SOLO for wire in played.notes)
    played.assert_notes(written)


def test_midi_clock_beats_24_times_a_quarter_while_an_item_plays(room: Path, jack: dict[str, str], ear: Ear) -> None:
    played = played_to(ear, room, jack, "--only=1", "--clock")
    clock = played.kinds(0xF8, 0xFA, 0xFC)
    written_notes(room, 1)
    file = mido.MidiFile(min((room / "day").glob("*.mid")))
    quarters = max(sum(message.time for message in track) for track in file.tracks) / file.ticks_per_beat
    beats = [b"\xf8"] * round(24 * quarters)
    assert len(beats) // 2 < len(clock) <= len(beats) + 2
    if played.is_whole:
        assert clock == [b"\xfa", *beats, b"\xfc"]


def test_a_port_of_our_own_is_there_for_others(room: Path, jack: dict[str, str]) -> None:
    with play_in(room, jack | home(room), DAY, "--own-port") as stand:
        stand.until("GET READY")
        listed = droner_in(room, "play", "--ports", "--json", environment=jack).data
        assert any("droner" in each["name"] for each in listed["inputs"])
        stand.press("q")
        assert stand.end() == 0
