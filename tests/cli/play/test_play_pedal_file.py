"""What a pedal does is written down, read again, and every slip of the hand in the file is told.

Referees  tomllib, Python's own reader of TOML; MIDI 1.0: status B is a controller, C a program, 9 a note, the channel
          in the low four bits; controller 64 is the sustain pedal.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from droner.cli.play_pedal_file import pedal_mapping, read_mapping, write_mapping
from droner.errors import MistakesFound
from droner.midi.live.commands import Command
from droner.midi.live.hands import Hands, Mapping, Press, Thing

CHOICE = Mapping(
    (
        (Press(Thing.CONTROLLER, 1, 80), Command.NEXT),
        (Press(Thing.PROGRAM, 16, 0), Command.NOT_YET),
        (Press(Thing.NOTE, 2, 127), Command.DRONE_ONLY),
    )
)


def heard(mapping: Mapping, wire: str) -> Command | None:
    return Hands(mapping, now_ns=lambda: 0).hear(bytes.fromhex(wire))


def test_a_choice_is_plain_toml_and_comes_back(tmp_path: Path) -> None:
    file = tmp_path / "new folder" / "pedal.toml"
    write_mapping(file, CHOICE)
    assert tomllib.loads(file.read_text(encoding="utf-8")) == {
        "next": {"controller": 80, "channel": 1},
        "not_yet": {"program": 0, "channel": 16},
        "drone_only": {"note": 127, "channel": 2},
    }
    again = pedal_mapping(file)
    assert heard(again, "b0 50 7f") is Command.NEXT
    assert heard(again, "cf 00") is Command.NOT_YET
    assert heard(again, "91 7f 40") is Command.DRONE_ONLY
    assert heard(again, "b1 50 7f") is None, "another channel"


def test_without_a_file_the_sustain_pedal_is_next_on_every_channel(tmp_path: Path) -> None:
    usual = pedal_mapping(tmp_path / "pedal.toml")
    assert {heard(usual, f"b{channel:x} 40 7f") for channel in range(16)} == {Command.NEXT}


@pytest.mark.parametrize(
    ("text", "line", "said"),
    [
        ("[nxet]\ncontroller = 1\nchannel = 1\n", 1, "next"),
        ("[next]\ncontroller = 128\nchannel = 1\n", 2, "0 to 127"),
        ("[next]\ncontroller = 1\nchannel = 0\n", 3, "1 to 16"),
        ("[next]\ncontroller = 1\n", 1, "channel"),
        ("[next]\nchannel = 1\n", 1, "controller, program, note"),
        ("[next]\nnote = 1\nprogram = 1\nchannel = 1\n", 1, "program and note"),
        ("[next]\nnote = 1\nchannel = 1\n[again]\nnote = 1\nchannel = 1\n", 4, "another command already"),
        ("next = 1\n", 1, "a table"),
        ("[next\n", 1, ""),
    ],
)
def test_every_slip_is_told_with_its_line(text: str, line: int, said: str) -> None:
    with pytest.raises(MistakesFound) as found:
        read_mapping(text, "pedal.toml")
    assert [mistake.line for mistake in found.value.mistakes] == [line]
    assert said in str(found.value)
    assert "pedal.toml" in str(found.value)
