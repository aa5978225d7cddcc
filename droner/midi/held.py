"""Play the held tones: the drone, and the voices of the changes.

Rule    a tone that follows another is struck on another channel at the moment the old one ends: no gap, and no bend
        heard in the release. A part with more tones than channels borrows from the other. Expression that a moving
        tone has moved goes back to full before the next tone on its channel, and at the end of the score.
Units   moments in quarter notes (Beats).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from droner.midi.channel_table import Part, owned_by
from droner.midi.controller_table import EXPRESSION, FULL
from droner.midi.message import TimedMessage, Voice
from droner.midi.moving import Played, played
from droner.midi.seating import Span, most_at_once, seats, spare
from droner.score.score import Score, Tone


@dataclass(frozen=True, slots=True)
class HeldChannels:
    """Which channels the drone and the changes use in one score."""

    drone: tuple[int, ...]
    changes: tuple[int, ...]


def changes_tones(score: Score) -> tuple[Tone, ...]:
    """The tones of all chords, in order of onset."""
    return tuple(tone for chord in score.changes for tone in chord.tones)


def held_channels(score: Score) -> HeldChannels:
    """The table's channels, less those that a part lends the other."""
    drone, changes = owned_by(Part.DRONE), owned_by(Part.CHANGES)
    drone_need, changes_need = most_at_once(score.drone), most_at_once(changes_tones(score))
    to_drone = spare(changes, changes_need, drone_need - len(drone))
    to_changes = spare(drone, drone_need, changes_need - len(changes))
    return HeldChannels(
        drone=tuple(channel for channel in drone if channel not in to_changes) + to_drone,
        changes=tuple(channel for channel in changes if channel not in to_drone) + to_changes,
    )


def held_messages(part: Part, tones: Sequence[Tone], channels: tuple[int, ...], score: Score) -> Iterator[TimedMessage]:
    """The messages of one held part of the score."""
    ways = [played(tone, score.tempo_map) for tone in tones]
    spans = [_span(tone, way) for tone, way in zip(tones, ways, strict=True)]
    expression = dict.fromkeys(channels, FULL)
    for tone, way, seat in zip(tones, ways, seats(spans, channels), strict=True):
        yield from _tone_messages(tone, way, Voice(part, seat.channel), expression, bends=seat.moves)
    for channel, value in expression.items():
        if value != FULL:
            yield Voice(part, channel).control(score.length, EXPRESSION, FULL)


def _tone_messages(
    tone: Tone, way: Played, voice: Voice, expression: dict[int, int], *, bends: bool
) -> Iterator[TimedMessage]:
    """One tone. `expression` is where the controller of each channel stands, and is moved along."""
    for moment, bend in way.bends if bends else way.bends[1:]:
        yield voice.bend(moment, bend)
    for moment, value in way.expression:
        if value != expression[voice.channel]:
            yield voice.control(moment, EXPRESSION, value)
            expression[voice.channel] = value
    yield from voice.note(tone.onset, tone.onset + tone.length, way.key, way.velocity)


def _span(tone: Tone, way: Played) -> Span:
    return Span(tone.onset, tone.onset + tone.length, way.start, way.bends[-1][1] if tone.course else None)
