"""Hold a drone without end on a MIDI port, and go over to another while it sounds.

Rule    a tone that stays is not struck again. One that keeps its key and is tuned anew has its bend moved. New tones
        are struck before the old ones end, on the channels that have been silent longest, so that no release is bent.
        There are channels for two drones of six tones: those of the changes are free, for nothing else plays.
Units   channels 1..16; a beat is a second.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

from droner.midi.balance import EVEN_BALANCE, Balance
from droner.midi.bend import BentKey, bent_key
from droner.midi.channel_table import Part, owned_by
from droner.midi.instrument_table import HELD_VELOCITY
from droner.midi.live.endless import Music, TakenUp
from droner.midi.live.entry import Entry
from droner.midi.live.moments import Moment, nanoseconds
from droner.midi.live.silence import SoundingKey
from droner.midi.message import Kind, Voice
from droner.midi.setting_up import channel_setting
from droner.score.tempo_map import TempoMap, tempo_map
from droner.units import Beats, Seconds

CHANNELS = (*owned_by(Part.DRONE), *owned_by(Part.CHANGES))
MOST_TONES = len(CHANNELS) // 2
A_SECOND_US = 1_000_000


@dataclass(frozen=True, slots=True)
class Seat:
    """A tone on its channel."""

    channel: int
    bent: BentKey

    @property
    def sounding(self) -> SoundingKey:
        """As the record of what sounds has it."""
        return SoundingKey(self.channel, self.bent.key)


@dataclass(frozen=True, slots=True, eq=False)
class StandingDrone:
    """Held tones on their seats; `free` are the other channels, the longest silent first."""

    title: str
    balance: Balance
    seats: tuple[Seat, ...]
    free: tuple[int, ...]

    @property
    def tempo_map(self) -> TempoMap:
        """A second is a beat."""
        return tempo_map([(Beats(0), A_SECOND_US)])

    @property
    def duration(self) -> None:
        """It has no end."""

    def bar_at(self, _: Beats) -> tuple[int, int]:
        """A drone has no bars."""
        return 0, 0

    def entry(self, second: Seconds) -> Entry:
        """Set everything up, and strike every tone at the second."""
        due_ns = nanoseconds(second)
        settings = tuple(wire for seat in self.seats for wire in self._setting(seat))
        return Entry(second, settings, tuple(Moment(second, _strike(seat), due_ns) for seat in self.seats))

    def after(self, sounding: Music, _: Beats) -> TakenUp | None:
        """This drone, coming in at once; None for what is no drone."""
        if not isinstance(sounding, StandingDrone):
            return None
        tones = [seat.bent for seat in self.seats]
        kept = tuple(_taken(tones, sounding.seats, lambda seat, tone: seat.bent == tone))
        left = [seat for seat in sounding.seats if seat not in kept]
        tuned = tuple(_taken(tones, left, lambda seat, tone: seat.bent.key == tone.key))
        stays = {seat.channel for seat in (*kept, *tuned)}
        new = tuple(map(Seat, sounding.free, tones))
        released = (seat.channel for seat in sounding.seats if seat.channel not in stays)
        at_once = (
            *(_bend(seat) for seat in tuned),
            *(wire for seat in new for wire in (*self._setting(seat), _strike(seat))),
        )
        seats, free = (*kept, *tuned, *new), (*sounding.free[len(new) :], *released)
        made = replace(self, seats=seats, free=free)
        return TakenUp(made, at_once, tuple(seat.sounding for seat in (*kept, *tuned)), ())

    def _setting(self, seat: Seat) -> tuple[bytes, ...]:
        messages = channel_setting(Voice(Part.DRONE, seat.channel), self.balance)
        return (*(message.wire for message in messages), _bend(seat))


def standing_drone(title: str, hertz: Iterable[float], balance: Balance = EVEN_BALANCE) -> StandingDrone:
    """Tones at these hertz. ValueError for more than there are channels for, and beyond the keys of MIDI."""
    tones = tuple(map(bent_key, hertz))
    if len(tones) > MOST_TONES:
        raise ValueError(f"a drone holds at most {MOST_TONES} tones, not {len(tones)}")
    return StandingDrone(title, balance, tuple(map(Seat, CHANNELS, tones)), CHANNELS[len(tones) :])


def _taken(tones: list[BentKey], seats: Iterable[Seat], fits: Callable[[Seat, BentKey], bool]) -> Iterator[Seat]:
    """The seats that a tone goes on in, tuned as that tone is, which is then taken out of the tones."""
    for seat in seats:
        tone = next((tone for tone in tones if fits(seat, tone)), None)
        if tone is not None:
            tones.remove(tone)
            yield Seat(seat.channel, tone)


def _bend(seat: Seat) -> bytes:
    return bytes((Kind.BEND.value | seat.channel - 1, seat.bent.bend & 0x7F, seat.bent.bend >> 7))


def _strike(seat: Seat) -> bytes:
    return bytes((Kind.NOTE_ON.value | seat.channel - 1, seat.bent.key, HELD_VELOCITY))
