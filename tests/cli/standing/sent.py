"""Follow what an instrument received, message by message: what sounds, and at which hertz.

Source  MIDI 1.0: note on with velocity 0 is a note off, 14 bits of bend around 8192; MIDI Tuning Standard: key 69 is
        440 Hz. The bend range of two semitones is what the setting asks for by RPN 0.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

HERTZ_ALIKE = 0.01
"""A tenth of a cent at D3, ten times finer than a beat in a minute."""


@dataclass(frozen=True, slots=True)
class Moment:
    """After one message: what sounds, as (channel, key), the hertz of each, and the message."""

    wire: bytes
    hertz: dict[tuple[int, int], float]

    @property
    def begins(self) -> bool:
        return self.wire[0] & 0xF0 == 0x90 and self.wire[2] > 0

    @property
    def ends(self) -> bool:
        return self.wire[0] & 0xF0 == 0x80 or (self.wire[0] & 0xF0 == 0x90 and self.wire[2] == 0)


class Followed:
    """An instrument that is followed through several takes."""

    def __init__(self) -> None:
        self._sounding: set[tuple[int, int]] = set()
        self._bends: dict[int, int] = {}

    def follow(self, taken: Iterable[tuple[float, bytes]]) -> list[Moment]:
        return list(self._moments(wire for _, wire in taken))

    def _moments(self, wires: Iterable[bytes]) -> Iterator[Moment]:
        for wire in wires:
            kind, channel = wire[0] & 0xF0, wire[0] & 0x0F
            if kind == 0x90 and wire[2]:
                self._sounding.add((channel, wire[1]))
            elif kind in (0x80, 0x90):
                self._sounding.discard((channel, wire[1]))
            elif kind == 0xE0:
                self._bends[channel] = wire[1] | wire[2] << 7
            yield Moment(wire, {place: self._hz(*place) for place in self._sounding})

    def _hz(self, channel: int, key: int) -> float:
        semitones = 2 * (self._bends.get(channel, 8192) - 8192) / 8192
        return float(440 * 2 ** ((key - 69 + semitones) / 12))
