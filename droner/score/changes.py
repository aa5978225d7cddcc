"""Write the changes: a chord under each stretch of the drill, voiced so that common tones stay.

Rule    chords sound from bar 1 on, never in a count-in, and last until the next; a chord that would only be struck
        again is held. Close position inside one octave: every note name has one place, so what two chords
        share does not move. Symbols are spelled as they sound.
"""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from droner.practice.pattern import HELD_NOTE
from droner.score.chord_place import chord_place
from droner.score.chord_policies import hertz
from droner.score.ground import tonic_of
from droner.score.harmony import changes_of
from droner.score.held_chords import held_changes, held_hertz
from droner.score.score import ChordEvent, Tone
from droner.score.sounding import sounding
from droner.score.tuned_chord import TunedChord
from droner.theory.pitch import Pitch, pitch

if TYPE_CHECKING:
    from collections.abc import Sequence

    from droner.practice.item import Item
    from droner.practice.session import Session
    from droner.score.chord_place import ChordPlace
    from droner.score.chord_policies import Hertz
    from droner.score.harmony import Change
    from droner.score.tunings import ItemTuning
    from droner.theory.pitch import Interval, NoteName
    from droner.units import Beats

LOWEST_VOICE, LOWEST_VOICE_LOW_INSTRUMENTS = pitch("G3"), pitch("C3")
LOW_COMPASS_MIDI = 48


def tuned_changes(
    item: Item, session: Session, tunings: ItemTuning, drone: Sequence[Tone] = ()
) -> tuple[TunedChord, ...]:
    """The changes of an item, in order of onset, in tune with its drone or as the session wishes."""
    if item.changes.kind == "none":
        return ()
    chords: list[TunedChord] = []
    is_held, to_sounding = item.changes.kind == HELD_NOTE, sounding(item, session)
    tonic = tonic_of(item, session) if session.tuning.reference else None
    voicing = _Voicing(to_sounding, _lowest_voice(session), tunings, drone, tonic)
    for repeat in item.performance.repeats:
        end = repeat.phrases[-1].onset + repeat.phrases[-1].phrase.length
        asked = (held_changes if is_held else changes_of)(item, repeat.phrases)
        changes = [next(same) for _, same in groupby(asked, key=lambda one: one.chord)]
        stops = [*(change.onset for change in changes[1:]), end]
        places = [voicing.place(change) for change in changes]
        notes = [change.under.pitch + to_sounding for change in changes]
        placed = held_hertz(item, notes, places) if is_held else hertz(session.tuning.chords, places)
        rows = zip(changes, stops, places, placed, strict=True)
        chords += [voicing.chord(change, stop - change.onset, place, hz) for change, stop, place, hz in rows]
    return tuple(chords)


class _Voicing:
    """Puts a chord into its octave, and in tune."""

    def __init__(
        self,
        to_sounding: Interval,
        bottom: Pitch,
        tunings: ItemTuning,
        drone: Sequence[Tone],
        tonic: NoteName | None,
    ) -> None:
        self._to_sounding, self._bottom, self._tunings, self._drone = to_sounding, bottom, tunings, drone
        self._tonic = tonic

    def place(self, change: Change) -> ChordPlace:
        """Where a chord stands on its tonic."""
        chord = change.chord.transposed(self._to_sounding)
        return chord_place(chord, self._tunings.of(change.under), self._droned(change.onset), self._tonic)

    def chord(self, change: Change, length: Beats, place: ChordPlace, hz: Hertz) -> TunedChord:
        """A chord as it sounds."""
        voices = sorted(_voiced(name, self._bottom) for name in place.chord.notes)
        tones = tuple(Tone(change.onset, length, voice, hz(voice)) for voice in voices)
        event = ChordEvent(change.onset, length, place.chord.symbol, change.numeral, tones)
        return TunedChord(event, tuple(place.hz(voice) for voice in voices), place.chord.root)

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
