"""Lay a drill out in a key over a compass.

Rule    a strain is material, cells and path; this is where they meet. The same drill, key, compass and turn give
        the same line for ever. What does not fit is answered with the note and the limit, never with silence.
        A second strain starts on its tonic nearest to the note before it, so that a leading note resolves.
Source  a turning line over the whole compass and the slow chromatic from the middle: common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from droner.practice.drill import Material, Path
from droner.practice.layout.cells import offsets, placed_cells
from droner.practice.layout.half_steps import by_half_steps
from droner.practice.layout.held import held_line
from droner.practice.layout.lacking import above, does_not_fit, lacking
from droner.practice.layout.line import UNKEYED, DoesNotFit, LaidNote, Line, at_home
from droner.practice.layout.material import ANY_COMPASS, material_stairs, strain_chord
from droner.practice.layout.spelled_chord import spelled_chord
from droner.practice.layout.study_line import study_line
from droner.practice.layout.travel import HOMEWARD, OCTAVES, Run, from_the_middle, kept_spellings, octaves, turning

if TYPE_CHECKING:
    from droner.practice.drill import Drill, Strain
    from droner.practice.layout.cells import PlacedCell
    from droner.practice.layout.stairs import Stairs
    from droner.theory.chord import Chord
    from droner.theory.instrument import Instrument, Range
    from droner.theory.key import Key
    from droner.theory.pitch import Pitch

HELD = (Material.NOTE, Material.PARTIALS)


@dataclass(frozen=True, slots=True)
class Ground:
    """Where a drill is laid out: key (None when it has none), compass, instrument and turn."""

    key: Key | None
    compass: Range
    instrument: Instrument
    turn: str = "low tonic"

    @property
    def tonality(self) -> Key:
        """The key, or C for what walks the chromatic compass."""
        return self.key or UNKEYED


def lay_out(drill: Drill, ground: Ground) -> Line | DoesNotFit:
    """The notes of a drill in written pitch, or the first note that does not fit."""
    if drill.study:
        return study_line(drill, ground.tonality, ground.compass)
    notes: list[LaidNote] = []
    home: Pitch | None = None
    for strain in _strains(drill):
        laid = _strain(drill, strain, ground, after=notes[-1].pitch if notes else None)
        if isinstance(laid, DoesNotFit):
            return laid
        notes = _joined(notes, laid.notes, streams=not strain.lengths)
        home = laid.home
    assert home is not None, "a drill has a strain"  # noqa: S101 - the reader refuses a drill without one
    return Line(tuple(notes), home)


def _strains(drill: Drill) -> tuple[Strain, ...]:
    """Every strain as often as the drill is played; what is held counts for itself."""
    held = any(strain.material in HELD for strain in drill.strains)
    return drill.strains if held else drill.strains * drill.count


def _joined(notes: list[LaidNote], coming: tuple[LaidNote, ...], *, streams: bool) -> list[LaidNote]:
    """One strain after another; a note on which both meet in a stream is not struck twice."""
    if not notes:
        return list(coming)
    meets = streams and notes[-1].length is None and notes[-1].pitch.midi == coming[0].pitch.midi
    kept = notes[:-1] if meets else notes
    shift = kept[-1].cell + 1 if kept else 0
    return [*kept, *(replace(note, cell=note.cell + shift) for note in coming)]


def _strain(drill: Drill, strain: Strain, ground: Ground, after: Pitch | None) -> Line | DoesNotFit:
    if strain.material in HELD:
        return held_line(drill, strain, ground.key, ground.compass, ground.instrument)
    if strain.path is Path.HALF_STEPS:
        return by_half_steps(drill, strain, ground.key, ground.compass)
    stairs = material_stairs(drill, strain, ground.tonality, ground.compass)
    wide = material_stairs(drill, strain, ground.tonality, ANY_COMPASS)
    needed = lacking(strain, stairs, wide, ground.compass)
    if needed is None:
        runs, home, reach_out = _runs(strain, stairs, ground, after)
        placed = placed_cells(strain, runs, stairs, reach_out=reach_out)
        notes = _cells(strain, placed, stairs, wide, strain_chord(strain, ground.tonality))
        if notes:
            rests = strain.path not in HOMEWARD or bool(strain.lengths)
            return at_home(notes, stairs.rising[home], rests=rests, chord=strain_chord(strain, ground.tonality))
        needed = above(wide, stairs.rising[-1], 1)
    return does_not_fit(drill, ground.key, needed, ground.compass)


def _runs(strain: Strain, stairs: Stairs, ground: Ground, after: Pitch | None) -> tuple[tuple[Run, ...], int, bool]:
    """The runs of a path, the stair that it rests on, and whether cells may reach beyond the runs."""
    if strain.path is Path.FROM_THE_MIDDLE:
        runs, centre = from_the_middle(stairs, ground.compass.middle)
        return runs, centre if stairs.home < 0 else stairs.home, False
    if strain.path is Path.UPWARDS:
        return (Run(0, stairs.top, falling=False),), max(stairs.home, 0), False
    if strain.path in OCTAVES:
        home = _best_home(strain, stairs)
        return kept_spellings(octaves(home, OCTAVES[strain.path], stairs), stairs), home, True
    runs, home = turning(stairs, ground.turn, None if after is None else _nearest_home(stairs, after))
    return kept_spellings(runs, stairs), home, False


def _nearest_home(stairs: Stairs, after: Pitch) -> int:
    """The tonic nearest to the note before, the upper one of two."""
    return min(stairs.homes(), key=lambda home: (abs(stairs.rising[home].midi - after.midi), -home))


def _best_home(strain: Strain, stairs: Stairs) -> int:
    """The lowest tonic with its octave above it that leaves out the fewest cells."""
    reach = OCTAVES[strain.path] * stairs.octave
    homes = [home for home in stairs.homes() if home + reach <= stairs.top]
    spans = [offsets(cell) for cell in strain.cells]

    def left_out(home: int) -> int:
        return sum(
            place + min(span) < 0 or place + max(span) > stairs.top
            for place in range(home, home + reach + 1)
            for span in spans
        )

    return min(homes, key=lambda home: (left_out(home), home))


def _cells(
    strain: Strain, placed: list[PlacedCell], stairs: Stairs, wide: Stairs, chord: Chord | None
) -> list[LaidNote]:
    notes: list[LaidNote] = []
    for number, cell in enumerate(placed):
        pitches = [stairs.at(place, falling=cell.run.spelled_falling(place)) for place in cell.stairs]
        spelled = chord or spelled_chord(tuple(pitch.name for pitch in pitches))
        row = strain.lengths[cell.which] if strain.lengths else (None,) * len(pitches)
        root = _root(cell, stairs, wide)
        notes += [
            LaidNote(pitch, root, number, place == 0, place == 0 and cell.turns, length, spelled)
            for place, (pitch, length) in enumerate(zip(pitches, (*row[: len(pitches) - 1], row[-1]), strict=True))
        ]
    return notes


def _root(cell: PlacedCell, stairs: Stairs, wide: Stairs) -> Pitch:
    """What a cell stands on. A cell may leave that note out, so it may lie beyond the compass, on the wide stairs."""
    falling = cell.run.spelled_falling(cell.place)
    if 0 <= cell.place <= stairs.top:
        return stairs.at(cell.place, falling=falling)
    return wide.at(wide.below(stairs) + cell.place, falling=falling)
