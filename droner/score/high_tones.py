"""Write high tones and the difference tone that two of them make in the ear: sounded first, then left to the ear.

Rule    the first tone is the drone's degree, high, and stays. The second is pure above it: the degrees of the drone's
        pairs in turn, so many bars each, counted from bar 1 of each time through. Or it is the player's note, wherever
        that lies, as the guide would sound it: in the session's tuning, and where a chord has moved it, there. That one
        is not sounded. A ghost sounds at exactly the upper frequency less the lower, and fades away: anew under each
        pair; under the player's notes over the first bars of each time through, and moving as a drone that follows the
        note does. One that nobody would hear is left out. All are plain: partials would beat with one another.
Units   hertz; gains in decibels.
Source  difference tone f2 - f1: acoustics. The register, the fade and what is heard: common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from statistics import median_low
from typing import TYPE_CHECKING

from droner.score.ground import at_most_a_beat, degree_above, tonic_of
from droner.score.score import Bearing, Tone
from droner.score.silences import end_of
from droner.score.sounding import sounding
from droner.theory.just import Just
from droner.theory.pitch import OCTAVE, Interval, NoteName, Pitch, pitch
from droner.theory.tuning import equal_hz
from droner.units import Beats

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from droner.practice.item import Item
    from droner.practice.performance import Repeat
    from droner.practice.session import Session
    from droner.score.ground import Held
    from droner.score.score import SoloNote
    from droner.score.tunings import ItemTuning
    from droner.theory.tuning import Tuning

LOWEST_FIRST_TONE = pitch("F5")
"""The first of a pair lies within the octave from here up: a major third over it differs by 175 Hz or more."""
LOWEST_GHOST_HZ, HIGHEST_GHOST_HZ = 60.0, 2000.0
GONE_DB = -60.0
_FIFTH = Interval(4, 7)
_SPELLED = range(-5, 7)
"""Names from a semitone to an augmented fourth above the tonic, on the line of fifths."""


@dataclass(frozen=True, slots=True)
class _Pair:
    """Two tones that stand together: from `onset` to `end`; their ghost fades from `bar`, the first bar line."""

    onset: Beats
    bar: Beats
    end: Beats
    degree: int


def has_high_tones(item: Item) -> bool:
    """Whether the drone of an item is of this kind."""
    return bool(item.drone.pairs or item.drone.ghost_bars)


def high_tones(item: Item, session: Session, tunings: ItemTuning) -> tuple[Tone, ...]:
    """The tones that stand, without their ghosts, in order of onset."""
    low, low_hz = _first_tone(item, session, tunings.whole)
    seconds: list[Tone] = []
    for pair in _pairs(item):
        second = low + degree_above(pair.degree, minor=_is_minor(item))
        onset = seconds.pop().onset if seconds and seconds[-1].pitch == second else pair.onset
        hz = _pure(low_hz, second - low, tunings.whole)
        seconds.append(Tone(onset, pair.end - onset, second, hz, plain=True))
    return (Tone(Beats(0), item.performance.length, low, low_hz, plain=True), *seconds)


def ghosts(item: Item, session: Session, tunings: ItemTuning, solo: Sequence[SoloNote]) -> tuple[Tone, ...]:
    """The difference tones that fade away, in order of onset; `solo`: the player's notes as they are to sound."""
    if not item.drone.ghost_bars:
        return ()
    if item.drone.pairs:
        return tuple(_of_pairs(item, session, tunings))
    return tuple(_of_notes(item, session, tunings, solo))


def _is_minor(item: Item) -> bool:
    return item.key is not None and item.key.is_minor


def _first_tone(item: Item, session: Session, tuned: Tuning) -> tuple[Pitch, float]:
    """The tone that stays: in the octave asked for, else high for pairs, else below the middle of the line."""
    root, asked = tonic_of(item, session), item.block.drone_octave
    above = degree_above(item.drone.degrees[0], minor=_is_minor(item))
    if isinstance(asked, int):
        low = root.in_octave(asked) + above
    else:
        low = _from(LOWEST_FIRST_TONE, root + above)
        if not item.drone.pairs:
            heights = [note.pitch.midi for note in item.line.notes]
            middle = median_low(heights) + sounding(item, session).semitones
            low += OCTAVE * ((middle - low.midi) // 12)
    return low, tuned.hz(low)


def _from(bottom: Pitch, name: NoteName) -> Pitch:
    """The first place of a note from `bottom` up."""
    place = name.in_octave(bottom.octave)
    while place.midi < bottom.midi:
        place += OCTAVE
    while place.midi >= bottom.midi + 12:
        place -= OCTAVE
    return place


def _pure(low_hz: float, interval: Interval, tuned: Tuning) -> float:
    """Where a tone is pure above (or below) another, with the session's choices of just intervals."""
    just = tuned.temperament if isinstance(tuned.temperament, Just) else Just()
    return low_hz * just.factor(interval)


def _pairs(item: Item) -> Iterator[_Pair]:
    """The pairs in turn, the first of each time through from its lead-in on."""
    degrees = item.drone.pairs
    long = item.meter.bar * item.drone.pair_bars
    for repeat in item.performance.repeats if degrees else ():
        bar, end = repeat.phrases[0].onset, end_of(repeat)
        turn = 0
        while bar + long * turn < end:
            onset = bar + long * turn
            stop = min(onset + long, end)
            yield _Pair(onset if turn else repeat.onset, onset, stop, degrees[turn % len(degrees)])
            turn += 1


def _of_pairs(item: Item, session: Session, tunings: ItemTuning) -> Iterator[Tone]:
    low, low_hz = _first_tone(item, session, tunings.whole)
    for pair in _pairs(item):
        interval = degree_above(pair.degree, minor=_is_minor(item))
        hz = _pure(low_hz, interval, tunings.whole) - low_hz
        if LOWEST_GHOST_HZ <= hz <= HIGHEST_GHOST_HZ:
            fade = (pair.bar, pair.bar + item.meter.bar * item.drone.ghost_bars)
            place = nearest_pitch(hz, low.name, session.tuning.a4_hz)
            yield _ghost(pair.onset, min(pair.end, fade[1]), place, hz, fade)


def _of_notes(item: Item, session: Session, tunings: ItemTuning, solo: Sequence[SoloNote]) -> Iterator[Tone]:
    low, low_hz = _first_tone(item, session, tunings.whole)
    for repeat in item.performance.repeats:
        bar, end = repeat.phrases[0].onset, end_of(repeat)
        fade = (bar, bar + item.meter.bar * item.drone.ghost_bars)
        notes = [note for note in solo if bar <= note.onset < end]
        asked = _asked(notes, repeat, (low.name, low_hz), session.tuning.a4_hz)
        held = list(at_most_a_beat(asked, item, end))
        stops = [*(onset for onset, _ in held[1:]), end]
        for (onset, chord), stop in zip(held, stops, strict=True):
            for place, hz in chord:
                if onset < fade[1]:
                    yield _ghost(onset, min(stop, fade[1]), place, hz, fade)


def _asked(notes: Sequence[SoloNote], repeat: Repeat, first: tuple[NoteName, float], a4_hz: float) -> Iterator[Held]:
    """The ghost of each note; the first sounds from the lead-in on, and a note that has none is silent."""
    name, low_hz = first
    for number, note in enumerate(notes):
        hz = abs(note.hz - low_hz)
        is_heard = LOWEST_GHOST_HZ <= hz <= HIGHEST_GHOST_HZ
        chord = ((nearest_pitch(hz, name, a4_hz), hz),) if is_heard else ()
        yield (note.onset if number else repeat.onset), chord


def _ghost(onset: Beats, end: Beats, place: Pitch, hz: float, fade: tuple[Beats, Beats]) -> Tone:
    """A plain tone that follows the fade between its own two ends."""
    bearings = [Bearing(moment, 0.0, _faded(moment, fade)) for moment in sorted({onset, max(onset, fade[0]), end})]
    return Tone(onset, end - onset, place, hz, plain=True, course=tuple(bearings))


def _faded(moment: Beats, fade: tuple[Beats, Beats]) -> float:
    """How much softer it is at a moment."""
    begins, ends = fade
    return GONE_DB * min(max(float((moment - begins).ratio(ends - begins)), 0.0), 1.0)


def nearest_pitch(hz: float, tonic: NoteName, a4_hz: float) -> Pitch:
    """The pitch that a frequency lies next to, spelled as near to the tonic as can be."""
    names = (tonic + _FIFTH * fifths for fifths in _SPELLED)
    places = (name.in_octave(octave) for name in names for octave in range(10))
    return min(places, key=lambda place: float(abs(equal_hz(a4_hz, place) / hz - 1)))
