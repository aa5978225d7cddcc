"""Set every channel before the first note: range of the bend, balance, instrument, no effects.

Rule    each pitched channel gets the bend range by RPN 0, used or not. Reverb and chorus are off on the drone
        and the changes, chorus on the solo too: a chorus makes beats that are not the player's.
        All of it is due at beat 0; a live port may send it sooner.
Units   controller values 0..127.
Source  RPN 0 by controllers 101, 100, 6, 38 and back to the null parameter: MIDI 1.0.
"""

from __future__ import annotations

from collections.abc import Iterator

from droner.midi.balance import Balance
from droner.midi.channel_table import Part, owned_by
from droner.midi.controller_table import (
    BEND_RANGE_SETTING,
    CENTRE_BEND,
    CHORUS,
    EXPRESSION,
    FULL,
    PAN,
    RESET_CONTROLLERS,
    REVERB,
    VOLUME,
)
from droner.midi.held import held_channels
from droner.midi.instrument_table import PROGRAMS
from droner.midi.message import TimedMessage, Voice
from droner.score.score import Score
from droner.units import Beats

AT_ONCE = Beats(0)


def setting_messages(score: Score, balance: Balance) -> Iterator[TimedMessage]:
    """The messages that set up the instrument for one score."""
    held = held_channels(score)
    channels = {
        Part.SOLO: owned_by(Part.SOLO),
        Part.DRONE: held.drone,
        Part.CHANGES: held.changes,
        Part.CLICK: owned_by(Part.CLICK),
    }
    for part, numbers in channels.items():
        for number in numbers:
            yield from channel_setting(Voice(part, number), balance)


def channel_setting(voice: Voice, balance: Balance) -> Iterator[TimedMessage]:
    """What sets one channel up."""
    level = balance.of(voice.part)
    yield voice.control(AT_ONCE, RESET_CONTROLLERS, 0)
    yield voice.control(AT_ONCE, VOLUME, level.volume)
    yield voice.control(AT_ONCE, PAN, level.pan)
    if voice.part is not Part.CLICK:
        yield from _pitched_setting(voice)


def _pitched_setting(voice: Voice) -> Iterator[TimedMessage]:
    for number, value in BEND_RANGE_SETTING:
        yield voice.control(AT_ONCE, number, value)
    yield voice.bend(AT_ONCE, CENTRE_BEND)
    yield voice.control(AT_ONCE, EXPRESSION, FULL)
    yield voice.control(AT_ONCE, CHORUS, 0)
    if voice.part is not Part.SOLO:
        yield voice.control(AT_ONCE, REVERB, 0)
    yield voice.program(AT_ONCE, PROGRAMS[voice.part])
