"""Choose the chord under each stretch of the drill, as the player reads it.

Rule    by degree     the numeral of the degree that sounds at each bar, half bar or pulse: a note held over the bar
                      line, else the next one. A chord takes its notes in the form in which they are first played
                      under it: in melodic minor the fourth degree's chord is major rising, the fifth's minor
                      falling. The note that a breath ends on is held, so it has a chord of its own.
        progression   the numerals in turn; home under the last note.
        as laid       the chords that came with the notes; home where a note brings none.
        A drill that moves its key by half-steps has each cell's chords in that cell's key.
Source  chords of the melodic minor: common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from droner.score.tunings import moves_its_key
from droner.theory.chord import QUALITIES, Chord, chord_on_degree, interval_up
from droner.theory.key import Key
from droner.theory.roman import roman
from droner.units import Beats

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from droner.practice.item import Item
    from droner.practice.layout.line import LaidNote
    from droner.practice.performance import PlacedPhrase
    from droner.theory.meter import Meter
    from droner.theory.pitch import NoteName

Phrases = tuple["PlacedPhrase", ...]
CHORDS = {quality.intervals: quality for quality in QUALITIES.values()}


@dataclass(frozen=True, slots=True)
class Change:
    """A chord as the player reads it, from a moment on, and the note that it stands under."""

    onset: Beats
    chord: Chord
    numeral: str
    under: LaidNote


def changes_of(item: Item, phrases: Phrases) -> Iterator[Change]:
    """The chords under one time through, in order of onset; some may only repeat the one before."""
    match item.changes.kind:
        case "by degree":
            yield from _by_degree(item, phrases)
        case "progression":
            yield from _progression(item, phrases)
        case _:
            yield from _as_laid(item, phrases)


def _key(item: Item, note: LaidNote) -> Key:
    """The key that a note stands in, as read."""
    return Key(note.root.name, item.tonality.mode) if moves_its_key(item) else item.tonality


def _numerals(item: Item) -> tuple[str, ...]:
    return item.changes.minor if item.tonality.is_minor else item.changes.major


def _by_degree(item: Item, phrases: Phrases) -> Iterator[Change]:
    numerals = _numerals(item)
    for placed in phrases:
        moments = _grid(item, placed, _last(placed))
        for moment, end in pairwise((*moments, placed.onset + placed.phrase.length)):
            played = _played(moment, end, placed)
            key, names = _key(item, played[0]), [note.pitch.name for note in played]
            numeral = numerals[(names[0].step - key.tonic.step) % 7]
            chord = roman(numeral, key)
            agreed = _agreeing(chord, names, key)
            yield Change(moment, agreed, numeral if agreed == chord else "", played[0])


def _agreeing(chord: Chord, played: Sequence[NoteName], key: Key) -> Chord:
    """The chord with its notes as they are played under it; where that is none, the key's own on the first note."""
    first = played[0]
    forms = {name.step: name for name in reversed(played)}
    agreed = _with(chord, forms) or _with(chord, {first.step: first})
    if agreed:
        return agreed
    if first in key.notes and len(key.notes) == 7:
        return chord_on_degree(key, key.notes.index(first) + 1, leading_note=False)
    return Chord(first, QUALITIES["diminished"])


def _with(chord: Chord, forms: Mapping[int, NoteName]) -> Chord | None:
    """The chord with other forms of its notes, by letter; None where that is no chord."""
    notes = tuple(forms.get(note.step, note) for note in chord.notes)
    quality = CHORDS.get(tuple(interval_up(notes[0], note) for note in notes))
    return Chord(notes[0], quality, chord.bass) if quality else None


def _progression(item: Item, phrases: Phrases) -> Iterator[Change]:
    numerals, end = _numerals(item), _last(phrases[-1])
    moments = [(moment, placed) for placed in phrases for moment in _grid(item, placed)]
    in_turn = [(moment, placed) for moment, placed in moments if moment < end]
    for place, (moment, placed) in enumerate([*in_turn, (end, phrases[-1])]):
        numeral = numerals[0] if moment == end else numerals[place % len(numerals)]
        note = _played(moment, moment, placed)[0]
        yield Change(moment, roman(numeral, _key(item, note)), numeral, note)


def _as_laid(item: Item, phrases: Phrases) -> Iterator[Change]:
    for placed in phrases:
        for place, timed in enumerate(placed.phrase.notes):
            note, before = timed.laid, placed.phrase.notes[place - 1].laid
            if place == 0 or before.cell != note.cell or before.chord != note.chord:
                onset = placed.onset + (timed.onset if place else Beats(0))
                yield Change(onset, note.chord or _home(_key(item, note)), "", note)


def _home(key: Key) -> Chord:
    return roman("i" if key.is_minor else "I", key)


def _last(placed: PlacedPhrase) -> Beats:
    """Where the last note of a phrase falls."""
    return placed.onset + placed.phrase.notes[-1].onset


def _grid(item: Item, placed: PlacedPhrase, last: Beats | None = None) -> list[Beats]:
    """Each moment of a phrase at which the chord may change: up to a last one, where that is given."""
    meter = item.meter
    bars = [placed.onset + meter.bar * bar for bar in range(int(placed.phrase.length.ratio(meter.bar)))]
    moments = [bar + place for bar in bars for place in _places(meter, item.changes.every)]
    return moments if last is None else [*(moment for moment in moments if moment < last), last]


def _places(meter: Meter, every: str) -> tuple[Beats, ...]:
    """Where in a bar chords may change; the half of a bar is the first pulse that is not before it."""
    if every == "bar":
        return (Beats(0),)
    if every == "half bar":
        later = [pulse for pulse in meter.pulses if pulse >= meter.bar / 2]
        return (Beats(0), *later[:1])
    return meter.pulses


def _played(moment: Beats, end: Beats, placed: PlacedPhrase) -> tuple[LaidNote, ...]:
    """What sounds from a moment on; where nothing does, the next note, and after the last one still that."""
    notes = placed.phrase.notes
    coming = [note for note in notes if placed.onset + note.onset + note.length > moment] or [notes[-1]]
    return (coming[0].laid, *(note.laid for note in coming[1:] if placed.onset + note.onset < end))
