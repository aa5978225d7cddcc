"""Play the held tones: the drone, and the voices of the changes.

Rule    a tone that moves is struck on another channel at the moment the old one ends: no gap, and no bend
        heard in the release. A part with more tones than channels borrows from the other.
Units   moments in quarter notes (Beats).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from droner.midi.channel_table import Part, owned_by
from droner.midi.instrument_table import HELD_VELOCITY
from droner.midi.message import TimedMessage, Voice
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
    drone_need = most_at_once(_spans(score.drone))
    changes_need = most_at_once(_spans(changes_tones(score)))
    to_drone = spare(changes, changes_need, drone_need - len(drone))
    to_changes = spare(drone, drone_need, changes_need - len(changes))
    return HeldChannels(
        drone=tuple(channel for channel in drone if channel not in to_changes) + to_drone,
        changes=tuple(channel for channel in changes if channel not in to_drone) + to_changes,
    )


def held_messages(part: Part, tones: Sequence[Tone], channels: tuple[int, ...]) -> Iterator[TimedMessage]:
    """The messages of one held part."""
    for tone, seat in zip(tones, seats(_spans(tones), channels), strict=True):
        voice = Voice(part, seat.channel)
        if seat.moves:
            yield voice.bend(tone.onset, seat.bend)
        yield from voice.note(tone.onset, tone.onset + tone.length, seat.key, HELD_VELOCITY)


def _spans(tones: Sequence[Tone]) -> list[Span]:
    return [Span(tone.onset, tone.onset + tone.length, tone.hz) for tone in tones]
