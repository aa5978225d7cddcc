"""Come in at any place of a piece: what must be sent at once, and what is still to come.

Rule    before the first note of all, the opening. Later the setting, then the bends and expression that have moved by
        then, then the notes that stand there, struck again with their own velocity; but a click is a stroke, and is
        not struck twice. What is due at the very second is still to come. A follower of the MIDI clock goes on at
        the next sixteenth.
Units   seconds and beats from the start of the piece; channels 0..15 inside a status byte.
Source  controller 121 resets bend and expression of its channel: MIDI 1.0, recommended practice RP-015 (from memory).
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace

from droner.midi.channel_table import Part, owned_by
from droner.midi.live.midi_clock import CONTINUE, SIXTEENTH, next_sixteenth, song_position
from droner.midi.live.moments import Moment, Piece
from droner.midi.message import Kind
from droner.units import Seconds

STRUCK = owned_by(Part.CLICK)[0] - 1
"""The percussion channel, as on the wire."""


@dataclass(frozen=True, slots=True)
class Entry:
    """Where a piece is taken up: `at_once` sets everything as it stands there, `rest` follows."""

    second: Seconds
    at_once: tuple[bytes, ...]
    rest: Iterable[Moment]


@dataclass(slots=True)
class _Standing:
    """What has been moved, and what sounds, after some messages."""

    moved: dict[bytes, bytes] = field(default_factory=dict)
    sounding: dict[bytes, bytes] = field(default_factory=dict)

    def after(self, wire: bytes) -> None:
        """Take one more message in."""
        kind, place = wire[0] & 0xF0, bytes((wire[0] & 0x0F, wire[1]))
        if kind == Kind.NOTE_ON.value:
            self.sounding[place] = wire
        elif kind == Kind.NOTE_OFF.value:
            self.sounding.pop(place, None)
        elif kind == Kind.BEND.value:
            self.moved[wire[:1]] = wire
        elif kind == Kind.CONTROL.value:
            self.moved[wire[:2]] = wire


def entry(piece: Piece, second: Seconds = Seconds(0)) -> Entry:  # noqa: B008 - an exact zero never changes
    """How to come in at a second."""
    if not second:
        return Entry(second, piece.opening, piece.moments)
    place = bisect_left(piece.moments, second.exact, key=lambda moment: moment.second.exact)
    standing = _standing(moment.wire for moment in piece.moments[:place])
    struck_again = (wire for wire in standing.sounding.values() if wire[0] & 0x0F != STRUCK)
    rest = piece.moments[place:]
    if not piece.clock:
        return Entry(second, (*piece.setting, *standing.moved.values(), *struck_again), rest)
    going_on = _clock_goes_on(piece, second)
    at_once = (*piece.setting, *standing.moved.values(), song_position(going_on.sixteenth), *struck_again)
    return Entry(second, at_once, tuple(_with_continue(rest, going_on.second)))


def _standing(wires: Iterable[bytes]) -> _Standing:
    standing = _Standing()
    for wire in wires:
        if wire[0] < 0xF0:
            standing.after(wire)
    return standing


@dataclass(frozen=True, slots=True)
class _GoingOn:
    sixteenth: int
    second: Seconds


def _clock_goes_on(piece: Piece, second: Seconds) -> _GoingOn:
    sixteenth = next_sixteenth(piece.tempo_map.beats_at(second))
    return _GoingOn(sixteenth, piece.tempo_map.seconds_at(SIXTEENTH * sixteenth))


def _with_continue(rest: tuple[Moment, ...], second: Seconds) -> Iterator[Moment]:
    """The rest, with the word to go on just before the clock of the sixteenth."""
    said = False
    for moment in rest:
        if not said and moment.second >= second:
            yield replace(moment, wire=CONTINUE)
            said = True
        yield moment
