"""Write the changes: a chord under each stretch of the drill, voiced so that common tones stay.

Rule    chords sound from bar 1 on, never in a count-in, and last until the next; a chord that would only be struck
        again is held. Close position inside one octave: every note name has one place, so what two chords
        share does not move. Symbols are spelled as they sound.
"""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from droner.score.harmony import changes_of
from droner.score.pure_chord import moved
from droner.score.score import ChordEvent, Tone
from droner.score.sounding import sounding
from droner.theory.pitch import Pitch, pitch

if TYPE_CHECKING:
    from collections.abc import Sequence

    from droner.practice.item import Item
    from droner.practice.session import Session
    from droner.score.harmony import Change
    from droner.score.tunings import ItemTuning
    from droner.theory.pitch import Interval, NoteName
    from droner.units import Beats

LOWEST_VOICE, LOWEST_VOICE_LOW_INSTRUMENTS = pitch("G3"), pitch("C3")
LOW_COMPASS_MIDI = 48


def chord_events(
    item: Item, session: Session, tunings: ItemTuning, drone: Sequence[Tone] = ()
) -> tuple[ChordEvent, ...]:
    """The changes of an item, in order of onset, in tune with its drone."""
    if item.changes.kind == "none":
        return ()
    events: list[ChordEvent] = []
    voicing = _Voicing(sounding(item, session), _lowest_voice(session), tunings, drone)
    for repeat in item.performance.repeats:
        end = repeat.phrases[-1].onset + repeat.phrases[-1].phrase.length
        changes = [next(same) for _, same in groupby(changes_of(item, repeat.phrases), key=lambda one: one.chord)]
        stops = [*(change.onset for change in changes[1:]), end]
        events += [voicing.event(change, stop - change.onset) for change, stop in zip(changes, stops, strict=True)]
    return tuple(events)


class _Voicing:
    """Puts a chord into its octave, and in tune."""

    def __init__(self, to_sounding: Interval, bottom: Pitch, tunings: ItemTuning, drone: Sequence[Tone]) -> None:
        self._to_sounding, self._bottom, self._tunings, self._drone = to_sounding, bottom, tunings, drone

    def event(self, change: Change, length: Beats) -> ChordEvent:
        """A chord as it sounds."""
        chord = change.chord.transposed(self._to_sounding)
        tuned = self._tunings.of(change.under)
        factors = moved(chord, tuned, self._droned(change.onset))
        voices = sorted(_voiced(name, self._bottom) for name in chord.notes)
        tones = tuple(
            Tone(change.onset, length, voice, tuned.hz(voice) * float(factors.get(voice.name, 1))) for voice in voices
        )
        return ChordEvent(change.onset, length, chord.symbol, change.numeral, tones)

    def _droned(self, moment: Beats) -> frozenset[NoteName]:
        """What the drone holds at a moment."""
        held = (tone for tone in self._drone if tone.onset <= moment < tone.onset + tone.length)
        return frozenset(tone.pitch.name for tone in held)


def _voiced(name: NoteName, bottom: Pitch) -> Pitch:
    """The one place of a note name in the octave from `bottom` up."""
    above = (name.pitch_class - bottom.midi) % 12
    octave = bottom.octave - 1
    while name.in_octave(octave).midi < bottom.midi + above:
        octave += 1
    return name.in_octave(octave)


def _lowest_voice(session: Session) -> Pitch:
    low = session.compass.low + session.instrument.sounding
    return LOWEST_VOICE_LOW_INSTRUMENTS if low.midi < LOW_COMPASS_MIDI else LOWEST_VOICE
