"""Play the drill: velocity, accent, swell, pulses, and the length that sounds.

Rule    neighbouring notes take turns on two channels. A slur is seamless, not overlapped: the new note begins
        at the moment the old one ends, and the old one's release lies under it on the other channel.
        Expression that a note has moved goes back to full before the next note on its channel, not
        before, for the release would jump; and at the end of the score.
        The kinds of tongue and the start on the air have no General MIDI sound: they strike alike.
Units   moments in quarter notes (Beats); velocity 1..127.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator

from droner.midi.channel_table import Part, owned_by
from droner.midi.controller_table import EXPRESSION, FULL
from droner.midi.loudness import loudness
from droner.midi.message import TimedMessage, Voice
from droner.midi.seating import Seat, Span, seats
from droner.score.score import Score, SoloNote
from droner.units import Beats

ACCENT_VELOCITY = 20
QUARTER = Beats(1)


def solo_messages(score: Score) -> Iterator[TimedMessage]:
    """The messages of the solo."""
    channels = owned_by(Part.SOLO)
    spans = [Span.still(note.onset, note.onset + note.sounded, note.hz) for note in score.solo]
    expression = dict.fromkeys(channels, FULL)
    for note, seat in zip(score.solo, seats(spans, channels), strict=True):
        yield from _note_messages(note, seat, _beat_at(score, note.onset), expression)
    for channel, value in expression.items():
        if value != FULL:
            yield Voice(Part.SOLO, channel).control(score.length, EXPRESSION, FULL)


def _note_messages(note: SoloNote, seat: Seat, beat: Beats, expression: dict[int, int]) -> Iterator[TimedMessage]:
    """One note. `expression` is where the controller of each channel stands, and is moved along."""
    voice = Voice(Part.SOLO, seat.channel)
    loud = loudness(note, beat)
    if seat.moves:
        yield voice.bend(note.onset, seat.bend)
    for moment, value in loud.steps:
        if value != expression[seat.channel]:
            yield voice.control(moment, EXPRESSION, value)
            expression[seat.channel] = value
    struck = min(loud.velocity + (ACCENT_VELOCITY if note.accent else 0), FULL)
    yield from voice.note(note.onset, note.onset + note.sounded, seat.key, struck)


def _beat_at(score: Score, moment: Beats) -> Beats:
    """The beat of the meter at a moment; a quarter where there are no bars."""
    place = bisect_right(score.bars, moment, key=lambda bar: bar.onset) - 1
    return score.bars[max(place, 0)].meter.beat if score.bars else QUARTER
