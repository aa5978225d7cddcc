"""Read and write which pedal gives which command. (Shore: the player's config folder.)

Rule    one small TOML file for all sessions, in the config folder of the platform: a table for each command, with the
        controller, program or note that gives it, and its channel. It is read like the player's other files: every
        mistake is told, with its line and the way out. Without the file the three pedals of a keyboard serve.
Units   channels 1..16; numbers 0..127.
Source  controllers 64, 66 and 67 are sustain, sostenuto and soft pedal: MIDI 1.0.
"""

from __future__ import annotations

from os.path import lexists
from pathlib import Path
from typing import TYPE_CHECKING, Any

from droner.cli.logbook import make_folder
from droner.errors import MistakesFound
from droner.midi.live.commands import Command
from droner.midi.live.hands import Mapping, Press, Thing
from droner.practice.reading.fields import Field
from droner.practice.reading.files import file_text
from droner.practice.reading.plain_fields import Whole
from droner.practice.reading.sheet_reading import Place, Sheet
from droner.practice.reading.shown_fields import shown
from droner.practice.reading.syntax_reading import read_toml
from droner.practice.reading.table_fields import Table
from droner.whole_file import whole_file

if TYPE_CHECKING:
    from collections.abc import Iterator

THINGS = {thing.value: thing for thing in Thing}
PRESS = Table(
    (
        *(Field(name, Whole(0, 127), f"the {name} that it sends") for name in THINGS),
        Field("channel", Whole(1, 16), "its channel", needed=True),
    )
)
KEYS = {command.value.replace(" ", "_"): command for command in Command}
PEDALS = Table(tuple(Field(key, PRESS, f"what gives {command.value!r}") for key, command in KEYS.items()))
USUAL = ((64, Command.NEXT), (66, Command.NOT_YET), (67, Command.CLEAN))
CHANNELS = range(1, 17)
HEAD = "# Which pedal gives which command: droner play --pedal NAME --learn writes this anew.\n"


def pedal_file() -> Path:
    """Where the choice is kept, whether it is there or not."""
    from platformdirs import user_config_path  # noqa: PLC0415 - only where there is a pedal

    return user_config_path("droner", appauthor=False) / "pedal.toml"


def pedal_mapping(file: Path) -> Mapping:
    """The player's choice, else that of a keyboard with three pedals. MistakesFound with every mistake."""
    return read_mapping(file_text(file), str(file)) if lexists(file) else usual_mapping()


def usual_mapping() -> Mapping:
    """The three pedals of a keyboard, on any channel."""
    return Mapping(
        tuple((Press(Thing.CONTROLLER, channel, number), command) for number, command in USUAL for channel in CHANNELS)
    )


def read_mapping(text: str, name: str) -> Mapping:
    """The choice in a text."""
    sheet = Sheet(name, text)
    written = read_toml(sheet)
    values = {} if written is None else PEDALS.read(written, Place(sheet))
    pairs = tuple(_pairs(values, written or {}, Place(sheet)))
    if written is None or sheet.mistakes:
        raise MistakesFound(sheet.in_order())
    return Mapping(pairs)


def _pairs(values: dict[str, Any], written: dict[str, Any], place: Place) -> Iterator[tuple[Press, Command]]:
    seen: dict[Press, str] = {}
    for key, row in values.items():
        named = [name for name in THINGS if name in written[key]]
        if len(named) != 1:
            found = " and ".join(named) or shown(written[key])
            place[key].wrong("one thing gives a command", found=found, allowed=f"one of {', '.join(THINGS)}")
        elif named[0] in row and "channel" in row:
            press = Press(THINGS[named[0]], row["channel"], row[named[0]])
            if press in seen:
                place[key].wrong("this gives another command already", found=str(press), allowed=f"not {seen[press]}'s")
            seen[press] = key
            yield press, KEYS[key]


def write_mapping(file: Path, mapping: Mapping) -> None:
    """Write the choice down, whole."""
    rows = (
        f"\n[{command.value.replace(' ', '_')}]\n{press.thing.value} = {press.number}\nchannel = {press.channel}\n"
        for press, command in mapping.pairs
    )
    make_folder(file.parent)
    with whole_file(file) as opened:
        opened.write("".join((HEAD, *rows)).encode())
