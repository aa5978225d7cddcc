"""Go from one piece to another without a gap: the new tones sound before the old ones end.

Rule    the drone of the new piece is seated anew, so that its first tones take drone channels that are silent now;
        their setting and bend cannot be heard in what still sounds. Where there are not enough, an old tone on a
        channel that is needed ends first, at the same moment.
Units   channels 1..16.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace

from droner.midi.channel_table import Part, owned_by
from droner.midi.live.moments import Moment, Piece
from droner.midi.live.silence import SoundingKey, note_off
from droner.midi.message import Kind

_EVERY = frozenset(range(1, 17))


@dataclass(frozen=True, slots=True)
class Crossing:
    """What is sent at once, and the new piece as it is seated, from its first moment after beat 0."""

    at_once: tuple[bytes, ...]
    piece: Piece
    rest: tuple[Moment, ...]


def crossing(sounding: Collection[SoundingKey], new: Piece) -> Crossing:
    """How to leave what sounds for a new piece."""
    seated = reseated(new, {key.channel for key in sounding})
    first = tuple(moment for moment in seated.moments if not moment.second)
    needed = _struck(first)
    busy = {key.channel for key in sounding}
    at_once = (
        *_on(seated.setting, _EVERY - busy),
        *(note_off(key) for key in sounding if key.channel in needed),
        *_on(seated.setting, busy & needed),
        *seated.opening[len(seated.setting) :],
        *(moment.wire for moment in first),
        *(note_off(key) for key in sounding if key.channel not in needed),
        *_on(seated.setting, busy - needed),
    )
    return Crossing(at_once, seated, seated.moments[len(first) :])


def reseated(piece: Piece, busy: Collection[int]) -> Piece:
    """The piece with the channels of its drone changed about, its first tones on channels that are not busy."""
    seats = owned_by(Part.DRONE)
    first = [
        channel for channel in seats if channel in _struck(moment for moment in piece.moments if not moment.second)
    ]
    free = [channel for channel in seats if channel not in busy]
    if not first or len(free) < len(first) or not set(first) & set(busy):
        return piece
    kept = [channel for channel in seats if channel not in first]
    others = [channel for channel in seats if channel not in free[: len(first)]]
    moved = dict(zip((*first, *kept), (*free[: len(first)], *others), strict=True))
    return replace(
        piece,
        setting=tuple(_moved(wire, moved) for wire in piece.setting),
        moments=tuple(replace(moment, wire=_moved(moment.wire, moved)) for moment in piece.moments),
    )


def _struck(moments: Iterable[Moment]) -> set[int]:
    """The channels on which notes begin."""
    return {moment.wire[0] % 16 + 1 for moment in moments if moment.wire[0] & 0xF0 == Kind.NOTE_ON.value}


def _on(wires: Iterable[bytes], channels: Collection[int]) -> tuple[bytes, ...]:
    """What is for some channels."""
    return tuple(wire for wire in wires if wire[0] % 16 + 1 in channels)


def _moved(wire: bytes, moved: dict[int, int]) -> bytes:
    if wire[0] >= 0xF0:
        return wire
    channel = wire[0] % 16 + 1
    return bytes((wire[0] & 0xF0 | moved.get(channel, channel) - 1, *wire[1:]))
