"""Write the solo part: each note of the performance with its attack, loudness and pitch.

Rule    a breath, and a note after a rest, always starts with an attack; a repeated pitch is never slurred into; the
        last note of a phrase keeps its whole length. Short notes sound for half of it, other notes leave a
        sliver of air before the tongue. Loudness goes by the height of a note in its line.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from droner.score.score import Attack, SoloNote
from droner.theory.dynamics_table import VELOCITIES

if TYPE_CHECKING:
    from droner.practice.item import Item, Manner
    from droner.practice.pattern import Mark
    from droner.practice.performance import PlacedPhrase
    from droner.practice.phrase import TimedNote
    from droner.score.tunings import ItemTuning
    from droner.theory.pitch import Interval
    from droner.units import Beats

SHORT = Fraction(1, 2)
DETACHED = Fraction(7, 8)
SWELL = ((Fraction(0), VELOCITIES["p"]), (Fraction(1, 2), VELOCITIES["f"]), (Fraction(1), VELOCITIES["p"]))
THREES, FOURS = 3, 4


@dataclass(frozen=True, slots=True)
class _Loudness:
    """Velocity by height: the lowest and highest MIDI key of the line and the velocities there."""

    bottom: int
    top: int
    low: int
    high: int

    def at(self, midi: int) -> int:
        if self.top == self.bottom:
            return max(self.low, self.high)
        return round(self.low + (self.high - self.low) * (midi - self.bottom) / (self.top - self.bottom))


def solo_notes(item: Item, sounding: Interval, tunings: ItemTuning) -> tuple[SoloNote, ...]:
    """The solo part of an item, in order of onset."""
    heights = [note.pitch.midi for note in item.line.notes]
    dynamic = item.manner.dynamic
    loudness = _Loudness(min(heights), max(heights), VELOCITIES[dynamic.low], VELOCITIES[dynamic.high])
    notes = tuple(
        _note(item, placed, place, sounding, tunings, loudness)
        for repeat in item.performance.repeats
        for placed in repeat.phrases
        for place in range(len(placed.phrase.notes))
    )
    return _tied(notes) if item.drill.study else notes


def _tied(notes: tuple[SoloNote, ...]) -> tuple[SoloNote, ...]:
    """A study's repeated pitch under a slur is one note held on: a suspension is prepared, not struck again."""
    kept: list[SoloNote] = []
    for note in notes:
        last = kept[-1] if kept else None
        if last and note.attack is Attack.SLUR and last.pitch == note.pitch:
            held = note.onset - last.onset
            kept[-1] = replace(last, length=held + note.length, sounded=held + note.sounded)
        else:
            kept.append(note)
    return tuple(kept)


def _note(
    item: Item, placed: PlacedPhrase, place: int, sounding: Interval, tunings: ItemTuning, loudness: _Loudness
) -> SoloNote:
    notes = placed.phrase.notes
    timed, laid = notes[place], notes[place].laid
    pitch = laid.pitch + sounding
    accented = is_accented(item.manner, timed, place)
    mark = mark_at(item.manner, notes, place, ties=bool(item.drill.study))
    attack = Attack(mark.attack)
    if accented and item.manner.accent.air and attack is not Attack.SLUR:
        attack = Attack.AIR
    swell = item.drill.shape == "swell"
    return SoloNote(
        onset=placed.onset + timed.onset,
        length=timed.length,
        sounded=_sounded(item.manner, notes, place),
        written=laid.pitch,
        pitch=pitch,
        hz=tunings.of(laid).hz(pitch),
        velocity=SWELL[0][1] if swell else loudness.at(laid.pitch.midi),
        attack=attack,
        accent=accented,
        shape=SWELL if swell else (),
        pulses=laid.pulses,
    )


def mark_at(manner: Manner, notes: tuple[TimedNote, ...], place: int, *, ties: bool = False) -> Mark:
    """How one note of a phrase is spoken. `ties`: a slurred repeated pitch is held on instead of tongued."""
    spoken, timed = manner.articulation, notes[place]
    if place < len(spoken.first):
        mark = spoken.first[place]
    else:
        turn = timed.place if spoken.per_cell else place - len(spoken.first)
        mark = spoken.cycle[turn % len(spoken.cycle)]
    if mark.attack == "slur" and not _can_slur(notes, place, ties=ties):
        return type(mark)("tongue", mark.short)
    return mark


def _can_slur(notes: tuple[TimedNote, ...], place: int, *, ties: bool) -> bool:
    if place == 0 or _rests_before(notes, place):
        return False
    return ties or notes[place - 1].laid.pitch.midi != notes[place].laid.pitch.midi


def _rests_before(notes: tuple[TimedNote, ...], place: int) -> bool:
    before = notes[place - 1]
    return before.onset + before.length < notes[place].onset


def _sounded(manner: Manner, notes: tuple[TimedNote, ...], place: int) -> Beats:
    length, following = notes[place].length, place + 1
    if following == len(notes):
        return length
    if mark_at(manner, notes, place).short:
        return length * SHORT
    whole = _rests_before(notes, following) or mark_at(manner, notes, following).attack == "slur"
    return length if whole else length * DETACHED


def is_accented(manner: Manner, timed: TimedNote, place: int) -> bool:
    """Whether the manner's accent falls on this note: `place` counts in the phrase."""
    match manner.accent.at:
        case "first":
            return timed.place == 0
        case "second":
            return timed.place == 1
        case "last":
            return timed.size > 1 and timed.place == timed.size - 1
        case "cross":
            return place % _across(manner) == 0
    return False


def _across(manner: Manner) -> int:
    """Every fourth note goes across groups of three, every third across all others."""
    return FOURS if manner.rhythm and len(manner.rhythm.lengths) == THREES else THREES
