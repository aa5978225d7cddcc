"""Write what a conductor gives: title, tempo, meter, key, markers, cues and breaths, as meta events.

Rule    the tempos are those of the tempo map, to the microsecond. A meter or key is written where it changes.
        An additive meter is written as its sum (7/8), and its click counts the note below the line;
        in compound time the click is the dotted beat: 6/8 has 36 clocks. The key is that which sounds.
Units   moments in quarter notes (Beats); 24 MIDI clocks a quarter.
Source  SMF 1.0: FF 01 text, 03 track name, 06 marker, 07 cue point, 51 tempo, 58 meter, 59 key.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import IntEnum

from droner.midi.plain_text import text_bytes
from droner.score.score import Score
from droner.theory.meter import Meter
from droner.units import Beats

CLOCKS_A_QUARTER = 24
THIRTY_SECONDS_A_QUARTER = 8
BREATH = "breath"


class Meta(IntEnum):
    """The type byte of a meta event; at one moment they come in this order."""

    NAME = 0x03
    TEMPO = 0x51
    METER = 0x58
    KEY = 0x59
    MARKER = 0x06
    CUE = 0x07
    TEXT = 0x01


_ORDER = {meta: turn for turn, meta in enumerate(Meta)}


@dataclass(frozen=True, slots=True)
class MetaEvent:
    """One meta event: FF, its type, the length (written by the file), its bytes."""

    moment: Beats
    meta: Meta
    data: bytes


def conductor(score: Score) -> tuple[MetaEvent, ...]:
    """The meta events of the conductor's track, in order."""
    events = (
        name(score.title),
        *_tempos(score),
        *_meters(score),
        *_keys(score),
        *(MetaEvent(marker.onset, Meta.MARKER, text_bytes(marker.text)) for marker in score.markers),
        *(MetaEvent(cue.onset, Meta.CUE, text_bytes(cue.shown)) for cue in score.cues),
        *(MetaEvent(breath.onset, Meta.TEXT, text_bytes(BREATH)) for breath in score.breaths),
    )
    return tuple(sorted(events, key=lambda event: (event.moment.exact, _ORDER[event.meta])))


def name(words: str) -> MetaEvent:
    """The name of a track; that of the first track is the name of the piece."""
    return MetaEvent(Beats(0), Meta.NAME, text_bytes(words))


def meter_bytes(meter: Meter) -> bytes:
    """6/8 is 06 03 24 08: six, two to the third, 36 clocks a click, eight thirty-seconds a quarter."""
    clocks = int(meter.beat.exact * CLOCKS_A_QUARTER)
    return bytes((meter.numerator, meter.denominator.bit_length() - 1, clocks, THIRTY_SECONDS_A_QUARTER))


def key_bytes(signature: int, *, is_minor: bool) -> bytes:
    """Three flats, minor, is FD 01: flats count below zero."""
    return bytes((signature & 0xFF, is_minor))


def _tempos(score: Score) -> Iterator[MetaEvent]:
    for segment in score.tempo_map.segments:
        if segment.onset <= score.length:
            yield MetaEvent(segment.onset, Meta.TEMPO, segment.quarter_us.to_bytes(3, "big"))


def _meters(score: Score) -> Iterator[MetaEvent]:
    written = b""
    for bar in score.bars:
        asked = meter_bytes(bar.meter)
        if asked != written:
            yield MetaEvent(bar.onset, Meta.METER, asked)
            written = asked


def _keys(score: Score) -> Iterator[MetaEvent]:
    written = b""
    for mark in score.keys:
        asked = key_bytes(mark.sounding.signature, is_minor=mark.sounding.is_minor)
        if asked != written:
            yield MetaEvent(mark.onset, Meta.KEY, asked)
            written = asked
