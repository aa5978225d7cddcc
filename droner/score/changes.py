"""Write the changes: a chord under each stretch of the drill, voiced so that common tones stay.

Rule    chords sound from bar 1 on, never in a count-in, and last until the next; a chord that would only be struck
        again is held. Close position inside one octave: every note name has one place, so what two chords
        share does not move. Symbols are spelled as they sound.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from droner.score.score import ChordEvent, Tone
from droner.theory.pitch import Pitch, pitch
from droner.theory.roman import roman
from droner.units import Beats

if TYPE_CHECKING:
    from collections.abc import Iterator

    from droner.practice.item import Item
    from droner.practice.performance import PlacedPhrase
    from droner.practice.phrase import TimedNote
    from droner.practice.session import Session
    from droner.theory.chord import Chord
    from droner.theory.pitch import NoteName
    from droner.theory.tuning import Tuning

LOWEST_VOICE, LOWEST_VOICE_LOW_INSTRUMENTS = pitch("G3"), pitch("C3")
LOW_COMPASS_MIDI = 48


@dataclass(frozen=True, slots=True)
class _Change:
    """A chord as the player reads it, from a moment on."""

    onset: Beats
    chord: Chord
    numeral: str


def chord_events(item: Item, session: Session, tuned: Tuning) -> tuple[ChordEvent, ...]:
    """The changes of an item, in order of onset."""
    if item.changes.kind == "none":
        return ()
    events: list[ChordEvent] = []
    bottom = _lowest_voice(session)
    for repeat in item.performance.repeats:
        end = repeat.phrases[-1].onset + repeat.phrases[-1].phrase.length
        changes = _without_repeats(list(_changes(item, repeat.phrases)))
        stops = [*(change.onset for change in changes[1:]), end]
        events += [
            _event(change, stop - change.onset, session, tuned, bottom)
            for change, stop in zip(changes, stops, strict=True)
        ]
    return tuple(events)


def _changes(item: Item, phrases: tuple[PlacedPhrase, ...]) -> Iterator[_Change]:
    match item.changes.kind:
        case "by degree":
            yield from _by_degree(item, phrases)
        case "progression":
            yield from _progression(item, phrases)
        case _:
            yield from _as_laid(item, phrases)


def _numerals(item: Item) -> tuple[str, ...]:
    return item.changes.minor if item.tonality.is_minor else item.changes.major


def _grid(item: Item, placed: PlacedPhrase) -> Iterator[tuple[Beats, TimedNote]]:
    """Each moment at which the chord may change, with the first note from there on (or the last one held)."""
    step = {"bar": item.meter.bar, "half bar": item.meter.bar / 2}.get(item.changes.every, item.meter.beat)
    moment, notes = Beats(0), placed.phrase.notes
    while moment < placed.phrase.length:
        coming = next((note for note in notes if note.onset >= moment), notes[-1])
        yield placed.onset + moment, coming
        moment += step


def _by_degree(item: Item, phrases: tuple[PlacedPhrase, ...]) -> Iterator[_Change]:
    key, numerals = item.tonality, _numerals(item)
    for placed in phrases:
        for moment, note in _grid(item, placed):
            step = note.laid.pitch.name.step - key.tonic.step
            numeral = numerals[step % len(numerals)]
            yield _Change(moment, roman(numeral, key), numeral)


def _progression(item: Item, phrases: tuple[PlacedPhrase, ...]) -> Iterator[_Change]:
    key, numerals = item.tonality, _numerals(item)
    moments = [moment for placed in phrases for moment, _ in _grid(item, placed)]
    for place, moment in enumerate(moments):
        last = place == len(moments) - 1
        numeral = numerals[0] if last else numerals[place % len(numerals)]
        yield _Change(moment, roman(numeral, key), numeral)


def _as_laid(item: Item, phrases: tuple[PlacedPhrase, ...]) -> Iterator[_Change]:
    """The chords that came with the notes; home where a note brings none."""
    key = item.tonality
    home = roman("i" if key.is_minor else "I", key)
    for placed in phrases:
        for place, timed in enumerate(placed.phrase.notes):
            before = placed.phrase.notes[place - 1].laid if place else None
            if before is None or before.cell != timed.laid.cell or before.chord != timed.laid.chord:
                onset = placed.onset + (timed.onset if place else Beats(0))
                yield _Change(onset, timed.laid.chord or home, "")


def _without_repeats(changes: list[_Change]) -> list[_Change]:
    return [change for place, change in enumerate(changes) if place == 0 or change.chord != changes[place - 1].chord]


def _event(change: _Change, length: Beats, session: Session, tuned: Tuning, bottom: Pitch) -> ChordEvent:
    chord = change.chord.transposed(session.instrument.sounding)
    voices = sorted(_voiced(name, bottom) for name in chord.notes)
    tones = tuple(Tone(change.onset, length, voice, tuned.hz(voice)) for voice in voices)
    return ChordEvent(change.onset, length, chord.symbol, change.numeral, tones)


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
