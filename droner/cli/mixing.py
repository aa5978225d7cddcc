"""Turn a session's wishes about parts into the mix of the sound and the balance of the MIDI file.

Units   decibels for the sound; MIDI volume and pan 0..127, 64 in the middle.
Source  volume controller 7: amplitude goes with the square of volume / 127 (General MIDI 2 recommendation;
        from memory).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from droner.midi.balance import Balance, Level
    from droner.practice.session import PartOrder, SoundOrder
    from droner.sound.mix import Mix

CENTRE, LOUDEST = 64, 127
SILENT_DB = float("-inf")


def mix_of(sound: SoundOrder, *, split: bool = False) -> Mix:
    """How the tracks sound: the guide plays whatever solo a score has. `split`: click left, drone and chords right."""
    from droner.sound.mix import EachPart, Mix  # noqa: PLC0415 - only for a command that sounds

    parts = (sound.drone, sound.changes, sound.click, sound.guide)
    gains = [part.level_db if part.on or part is sound.guide else SILENT_DB for part in parts]
    pans = [1.0, 1.0, -1.0, 0.0] if split else [part.pan for part in parts]
    channels: Literal["mono", "stereo"] = "stereo" if any(pans) else "mono"
    return Mix(EachPart(*gains), EachPart(*pans), guide=True, timbre=sound.timbre, channels=channels)


def balance_of(sound: SoundOrder) -> Balance:
    """How the MIDI file is balanced. The solo is always in it: a player mutes a track, not a file."""
    from droner.midi.balance import EVEN_BALANCE, Balance  # noqa: PLC0415 - MIDI loads only for a command that writes it

    even = EVEN_BALANCE
    return Balance(
        solo=_level(even.solo, sound.guide, on=True),
        drone=_level(even.drone, sound.drone, on=sound.drone.on),
        changes=_level(even.changes, sound.changes, on=sound.changes.on),
        click=_level(even.click, sound.click, on=sound.click.on),
    )


def _level(even: Level, part: PartOrder, *, on: bool) -> Level:
    volume = even.volume * 10 ** (part.level_db / 40) if on else 0
    return type(even)(max(0, min(round(volume), LOUDEST)), max(0, min(round(CENTRE + part.pan * CENTRE), LOUDEST)))
