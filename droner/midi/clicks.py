"""Play the clicks on the percussion channel.

Rule    a click is struck, so its length means nothing: it ends an eighth of a quarter later, or sooner where the
        same sound is struck again or the score ends. Of two clicks with one sound at one moment the
        louder is played. A click of gain 0 is silent, and left out: velocity 0 would end a note.
Units   moments in quarter notes (Beats); gain 0..1 of the amplitude.
Source  the amplitude follows the square of the velocity: General MIDI 1 developer guidelines (from memory).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import sqrt

from droner.midi.channel_table import Part, owned_by
from droner.midi.instrument_table import CLICKS
from droner.midi.message import TimedMessage, Voice
from droner.score.score import Click, Score
from droner.units import Beats

CLICK_LENGTH = Beats(1, 8)


def click_messages(score: Score) -> Iterator[TimedMessage]:
    """The messages of the click."""
    voice = Voice(Part.CLICK, owned_by(Part.CLICK)[0])
    strokes = _strokes(score.clicks)
    ends: dict[int, Beats] = {}
    for (onset, key), velocity in reversed(strokes.items()):
        end = min(onset + CLICK_LENGTH, ends.get(key, score.length))
        ends[key] = onset
        yield from voice.note(onset, end, key, velocity)


def _strokes(clicks: Sequence[Click]) -> dict[tuple[Beats, int], int]:
    """The velocity of each stroke by its moment and key, in order of onset."""
    strokes: dict[tuple[Beats, int], int] = {}
    for click in clicks:
        if click.gain > 0:
            key, velocity = stroke(click)
            place = (click.onset, key)
            strokes[place] = max(strokes.get(place, 0), velocity)
    return strokes


def stroke(click: Click) -> tuple[int, int]:
    """The key and the velocity of a click."""
    key, full = CLICKS[click.kind]
    return key, max(round(full * sqrt(min(click.gain, 1.0))), 1)
