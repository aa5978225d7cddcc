"""Invented music for live playing: nobody's, only what a reading needs."""

from __future__ import annotations

from fractions import Fraction

from droner.midi.live.moments import Piece, piece
from droner.score.join import join
from droner.score.score import Bearing, ClickKind, Score, Tone
from droner.theory.pitch import pitch
from droner.units import Beats
from tests.midi.scores import bars, chord, click, note, score, tone

JUST_FIFTH = Fraction(3, 2)
JUST_THIRD = Fraction(5, 4)
D3_HZ = 146.832


def item(beats: int = 8, quarter_us: int = 500_000, hz: float = D3_HZ) -> Score:
    """One item: a drone of three pure tones, a chord every four beats, a note each half beat, clicks in quarters."""
    third, fifth = hz * float(JUST_THIRD), hz * float(JUST_FIFTH)
    return score(
        beats,
        tempos=[(Fraction(0), quarter_us), (Fraction(beats, 2), quarter_us * 9 // 10)],
        bars=bars(*["4/4"] * (beats // 4)),
        drone=[tone(0, beats, "D3", hz), tone(0, beats, "F#3", third), tone(0, beats, "A3", fifth)],
        changes=[
            chord(onset, 4, {"D4": hz * 2, "F#4": third * 2, "A4": fifth * 2 + onset}) for onset in range(0, beats, 4)
        ],
        solo=[note(Fraction(place, 2), Fraction(1, 2), "D5", hz=hz * 4 + 5 * place) for place in range(2 * beats)],
        clicks=[click(beat, ClickKind.BEAT if beat % 4 else ClickKind.ACCENT) for beat in range(beats)],
    )


def drone_piece(hz: float, beats: int = 60) -> Piece:
    """A drone and its fifth, at a beat a second."""
    return piece(score(beats, drone=[tone(0, beats, "D3", hz), tone(0, beats, "A3", hz * float(JUST_FIFTH))]))


def moving_drone(beats: int = 20) -> Score:
    """One tone that climbs by 20 cents, at a beat a second."""
    course = (Bearing(Beats(0), 0.0, 0.0), Bearing(Beats(beats), 20.0, -6.0))
    return score(beats, drone=[Tone(Beats(0), Beats(beats), pitch("D3"), D3_HZ, course=course)])


def session(*, items: int, beats: int) -> Score:
    """A few items end to end, each faster and higher than the one before."""
    return join("a day", [item(beats, 500_000 - 30_000 * place, D3_HZ + 9 * place) for place in range(items)])


def dense() -> Score:
    """Half a minute in which something begins or ends every few milliseconds."""
    beats = 60
    return score(
        beats,
        drone=[tone(beat, 1, "D3", D3_HZ * (1 + beat % 5 / 10)) for beat in range(beats)],
        changes=[
            chord(Fraction(place, 2), Fraction(1, 2), {"D4": 2 * D3_HZ, "A4": 3 * D3_HZ}) for place in range(2 * beats)
        ],
        solo=[
            note(Fraction(place, 16), Fraction(1, 16), "D5", hz=D3_HZ * 4 + place % 7) for place in range(16 * beats)
        ],
        clicks=[click(Fraction(place, 8)) for place in range(8 * beats)],
        tempos=[(Fraction(0), 500_000)],
    )
