"""Give every message of a score its exact second.

Rule    the messages are those of the file, in its order (`events.timed_messages`); but only channels that play are
        set up, since a MIDI cable carries one message a millisecond. The second comes from the tempo map, once for
        each moment, and is never added up from the one before. MIDI clock, when asked for, goes first of its moment.
Units   exact seconds from beat 0 of the score (Seconds); whole nanoseconds, rounded once, half up.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby
from operator import attrgetter

from droner.live.bars import bar_at
from droner.midi.balance import EVEN_BALANCE, Balance
from droner.midi.events import music, setting
from droner.midi.live.midi_clock import START, clock_beats
from droner.midi.message import TimedMessage
from droner.score.score import Bar, Score
from droner.score.tempo_map import TempoMap
from droner.units import Beats, Seconds

NANOSECONDS = 1_000_000_000


@dataclass(frozen=True, slots=True)
class Moment:
    """One message, due at an exact second of the piece; `due_ns` is that second in whole nanoseconds.

    One without bytes sends nothing.
    """

    second: Seconds
    wire: bytes
    due_ns: int


@dataclass(frozen=True, slots=True)
class Piece:
    """A score made ready to be sent: what sets the instrument up, and then the moments in order."""

    title: str
    setting: tuple[bytes, ...]
    moments: tuple[Moment, ...]
    length: Beats
    tempo_map: TempoMap
    bars: tuple[Bar, ...]
    clock: bool

    @property
    def duration(self) -> Seconds:
        """How long it lasts."""
        return self.tempo_map.seconds_at(self.length)

    def bar_at(self, moment: Beats) -> tuple[int, int]:
        """The number of the bar and of the beat in it, from 1; (0, 0) off the page."""
        return bar_at(self.bars, moment)

    @property
    def channels(self) -> tuple[int, ...]:
        """The channels that it uses, 1..16, rising."""
        return tuple(sorted({wire[0] % 16 + 1 for wire in self.setting}))

    @property
    def opening(self) -> tuple[bytes, ...]:
        """What is sent before beat 0: the setting, and the start of the MIDI clock."""
        return (*self.setting, START) if self.clock else self.setting


def piece(score: Score, balance: Balance = EVEN_BALANCE, *, clock: bool = False) -> Piece:
    """A score made ready, with MIDI clock if wanted."""
    notes = music(score)
    used = {message.channel for message in notes}
    pulses = tuple(_timed(score.tempo_map, clock_beats(score.length))) if clock else ()
    played = tuple(_timed(score.tempo_map, ((message.moment, message.wire) for message in notes)))
    return Piece(
        title=score.title,
        setting=tuple(_settings(setting(score, balance), used)),
        moments=tuple(sorted((*pulses, *played), key=_second)),
        length=score.length,
        tempo_map=score.tempo_map,
        bars=score.bars,
        clock=clock,
    )


def nanoseconds(second: Seconds) -> int:
    """Whole nanoseconds, rounded once, half up."""
    return int((second.exact * NANOSECONDS * 2 + 1) // 2)


def _settings(messages: Iterable[TimedMessage], used: set[int]) -> Iterator[bytes]:
    return (message.wire for message in messages if message.channel in used)


def _timed(tempos: TempoMap, messages: Iterable[tuple[Beats, bytes]]) -> Iterator[Moment]:
    """The second of each beat is found once for all its messages."""
    for beat, together in groupby(messages, key=lambda message: message[0]):
        second = tempos.seconds_at(beat)
        due_ns = nanoseconds(second)
        for _, wire in together:
            yield Moment(second, wire, due_ns)


_second = attrgetter("second.exact")
