"""Turn a note's swell and its vibrato pulses into steps of the expression controller.

Rule    the note is struck at the loudest velocity of its shape and expression takes it down from there, so that
        `127 * velocity / loudest` sounds as loud as a note struck at `velocity`: both follow the square.
        A shape's places count along the written length, so a note cut short keeps the start of its shape. A
        pulse starts at its crest and dips by 4 dB.
        The exact line is sampled, never summed; a value is sent only when it changes.
Units   moments in quarter notes (Beats); velocity and expression 0..127.
Source  both velocity and controller 11 follow 40 log10(value / 127) dB: General MIDI 1 developer guidelines
        and the default modulators of SoundFont 2.01 (from memory). Pulses of flute tone are changes of
        loudness first: common practice, no source; the depth is a choice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import ceil, cos, pi, sqrt

from droner.midi.controller_table import FULL
from droner.score.score import SoloNote
from droner.units import Beats

STEPS_A_QUARTER = 24
"""Steps of a swell in a quarter note: at crotchet 60 one in 42 ms, finer than a step is heard."""
POINTS_A_PULSE = 10
DIP_DB = 4.0
DIP = 1 - 10 ** (-DIP_DB / 20)
"""How far the amplitude falls between two crests, as a share."""

Shape = tuple[tuple[Fraction, int], ...]


@dataclass(frozen=True, slots=True)
class Loudness:
    """How a note is struck, and how expression moves while it sounds, from its onset on."""

    velocity: int
    steps: tuple[tuple[Beats, int], ...]


def loudness(note: SoloNote, beat: Beats) -> Loudness:
    """The loudness of a note where `beat` is the beat that its pulses count."""
    if not note.shape and not note.pulses:
        return Loudness(note.velocity, ((note.onset, FULL),))
    shape = _whole_shape(note)
    loudest = max(1, *(velocity for _, velocity in shape))
    pulse = beat / note.pulses if note.pulses else None
    steps: list[tuple[Beats, int]] = []
    for place in _places(shape, note, pulse):
        moment = note.length * place
        level = float(_level(shape, place)) / loudest * _pulse_level(moment, pulse)
        value = max(round(FULL * level), 1)
        if not steps or steps[-1][1] != value:
            steps.append((note.onset + moment, value))
    return Loudness(loudest, tuple(steps))


def _whole_shape(note: SoloNote) -> Shape:
    """The shape from place 0 to place 1."""
    shape = note.shape or ((Fraction(0), note.velocity),)
    start = () if shape[0][0] == 0 else ((Fraction(0), note.velocity),)
    end = () if shape[-1][0] == 1 else ((Fraction(1), shape[-1][1]),)
    return start + shape + end


def _places(shape: Shape, note: SoloNote, pulse: Beats | None) -> list[Fraction]:
    """Where in the note its loudness is looked at: rising, from 0, while it sounds."""
    places = {Fraction(0)}
    for (start, softer), (end, louder) in pairwise(shape):
        steps = min(abs(louder - softer), ceil((end - start) * note.length.exact * STEPS_A_QUARTER))
        places.update(start + (end - start) * Fraction(step, steps) for step in range(1, steps + 1))
    if pulse:
        places.update(_pulse_places(note.length.ratio(pulse)))
    silent_from = note.sounded.ratio(note.length)
    return sorted(place for place in places if place < silent_from)


def _pulse_places(pulses: Fraction) -> Iterator[Fraction]:
    for point in range(ceil(pulses * POINTS_A_PULSE)):
        yield Fraction(point, POINTS_A_PULSE) / pulses


def _level(shape: Shape, place: Fraction) -> Fraction:
    """The velocity on the shape's line at a place."""
    for (start, before), (end, after) in pairwise(shape):
        if place <= end:
            return before + (after - before) * (place - start) / (end - start) if end > start else Fraction(after)
    return Fraction(shape[-1][1])


def _pulse_level(moment: Beats, pulse: Beats | None) -> float:
    """The share of the velocity that a pulse leaves, 1 at its crest: the root of that of the amplitude."""
    if not pulse:
        return 1.0
    return sqrt(1 - DIP * (1 - cos(2 * pi * float(moment.ratio(pulse) % 1))) / 2)
