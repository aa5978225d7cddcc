"""Read a Standard MIDI File by the letter of SMF 1.0, sharing no code with the writer or its library.

Rule    anything that the text does not allow is an AssertionError: a chunk of the wrong length, a running status
        across a meta event, a missing end of track, bytes after it.
Source  SMF 1.0: chunks, variable-length quantities, meta events, running status. MIDI 1.0: data bytes of a status.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

META = 0xFF
END_OF_TRACK = 0x2F
CENTRE_BEND = 8192
DATA_BYTES = {0x8: 2, 0x9: 2, 0xA: 2, 0xB: 2, 0xC: 1, 0xD: 1, 0xE: 2}


@dataclass(frozen=True, slots=True)
class Event:
    """One event: its tick, its status byte, its meta type (0 for channel messages), its data."""

    tick: int
    status: int
    meta: int
    data: bytes


@dataclass(frozen=True, slots=True)
class SmfFile:
    """What the chunks hold."""

    form: int
    division: int
    tracks: tuple[tuple[Event, ...], ...]

    def metas(self, meta: int) -> list[tuple[int, bytes]]:
        """(tick, data) of one type of meta event in the first track."""
        return [(event.tick, event.data) for event in self.tracks[0] if event.meta == meta]

    def names(self) -> list[str]:
        """The names of the tracks."""
        return [next(e.data.decode() for e in track if e.meta == 0x03) for track in self.tracks]

    def merged(self) -> list[tuple[int, Event]]:
        """(track, event) in the order a player sends them."""
        numbered = [(number, event) for number, track in enumerate(self.tracks) for event in track]
        return sorted(numbered, key=lambda pair: pair[1].tick)


@dataclass(frozen=True, slots=True)
class Heard:
    """A note as it sounds."""

    track: int
    channel: int
    key: int
    velocity: int
    onset: int
    end: int
    bend: int

    @property
    def hz(self) -> float:
        """Key and bend as frequency: A4 = key 69 = 440 Hz, 8192 steps to two semitones (the definitions)."""
        semitones = self.key - 69 + 2 * (self.bend - CENTRE_BEND) / CENTRE_BEND
        return float(440 * 2 ** (semitones / 12))


@dataclass(slots=True)
class _Instrument:
    """Sixteen channels with what sounds on them."""

    bends: dict[int, int] = field(default_factory=lambda: dict.fromkeys(range(1, 17), CENTRE_BEND))
    sounding: dict[tuple[int, int], tuple[int, int, int]] = field(default_factory=dict)

    def busy(self, channel: int) -> bool:
        return any(on == channel for on, _ in self.sounding)


def read(data: bytes) -> SmfFile:
    """The whole file."""
    assert data[:8] == bytes.fromhex("4D546864 00000006")
    form, tracks, division = (int.from_bytes(data[at : at + 2], "big") for at in (8, 10, 12))
    assert division & 0x8000 == 0, "the division counts ticks of a quarter"
    place, read_tracks = 14, []
    for _ in range(tracks):
        assert data[place : place + 4] == b"MTrk"
        length = int.from_bytes(data[place + 4 : place + 8], "big")
        chunk = data[place + 8 : place + 8 + length]
        assert len(chunk) == length
        read_tracks.append(tuple(_events(chunk)))
        place += 8 + length
    assert place == len(data), "nothing follows the last track"
    return SmfFile(form, division, tuple(read_tracks))


def _quantity(data: bytes, place: int) -> tuple[int, int]:
    value = 0
    for length in range(1, 5):
        byte = data[place + length - 1]
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            return value, place + length
    raise AssertionError("a quantity has at most four bytes")


def _events(chunk: bytes) -> Iterator[Event]:
    place = tick = running = 0
    while place < len(chunk):
        wait, place = _quantity(chunk, place)
        tick += wait
        status = chunk[place] if chunk[place] >= 0x80 else running
        place += chunk[place] >= 0x80
        assert status, "running status after a meta event"
        if status == META:
            meta, (length, place) = chunk[place], _quantity(chunk, place + 1)
            running = 0
        else:
            meta, length, running = 0, DATA_BYTES[status >> 4], status
            assert max(chunk[place : place + length]) < 0x80
        yield Event(tick, status, meta, chunk[place : place + length])
        place += length
        if meta == END_OF_TRACK:
            break
    assert meta == END_OF_TRACK
    assert place == len(chunk)


def heard(file: SmfFile) -> list[Heard]:
    """Every note, in order of its end. Hanging, doubled and bent notes are AssertionErrors."""
    instrument, notes = _Instrument(), []
    for track, event in file.merged():
        kind, channel = event.status >> 4, (event.status & 0xF) + 1
        if kind == 0x9 and event.data[1]:
            key, velocity = event.data
            assert (channel, key) not in instrument.sounding, "struck while it sounds"
            instrument.sounding[channel, key] = (event.tick, velocity, instrument.bends[channel])
        elif kind in (0x8, 0x9):
            onset, velocity, bend = instrument.sounding.pop((channel, event.data[0]))
            notes.append(Heard(track, channel, event.data[0], velocity, onset, event.tick, bend))
        elif kind == 0xE:
            assert not instrument.busy(channel), "bent while it sounds"
            instrument.bends[channel] = event.data[0] | event.data[1] << 7
    assert not instrument.sounding, "left hanging"
    return notes
