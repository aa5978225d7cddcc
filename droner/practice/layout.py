"""Lay a drill out in a key over a compass.

Rule    a strain is material, cells and path; this is where they meet. The same drill, key, compass and turn give
        the same line for ever. What does not fit is answered with the note and the limit, never with silence.
Source  a turning line over the whole compass and the slow chromatic from the middle: common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from droner.practice.cells import offsets, placed_cells
from droner.practice.held import held_line
from droner.practice.line import UNKEYED, DoesNotFit, LaidNote, Line
from droner.practice.material import material_stairs, strain_chord
from droner.practice.pattern import Material, Path
from droner.practice.spelled_chord import spelled_chord
from droner.practice.stairs import Stairs
from droner.practice.study_line import study_line
from droner.practice.travel import OCTAVES, Run, from_the_middle, octaves, turning
from droner.theory.instrument import Range
from droner.theory.key import Key
from droner.theory.key_order import usual_key
from droner.theory.pitch import Pitch, pitch

if TYPE_CHECKING:
    from droner.practice.pattern import Drill, Strain
    from droner.theory.instrument import Instrument

ANY_COMPASS = Range(pitch("C0"), pitch("C9"))
HOMEWARD = (Path.TURNING, Path.OCTAVE, Path.TWO_OCTAVES, Path.HALF_STEPS)


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
    for strain in drill.strains:
        laid = _strain(drill, strain, ground)
        if isinstance(laid, DoesNotFit):
            return laid
        shift = notes[-1].cell + 1 if notes else 0
        notes += [_moved(note, shift) for note in laid.notes]
        home = laid.home
    assert home is not None, "a drill has a strain"  # noqa: S101 - the reader refuses a drill without one
    return Line(tuple(notes), home)


def _moved(note: LaidNote, cells: int) -> LaidNote:
    return replace(note, cell=note.cell + cells) if cells else note


def _strain(drill: Drill, strain: Strain, ground: Ground) -> Line | DoesNotFit:
    if strain.material in (Material.NOTE, Material.PARTIALS):
        return held_line(drill, strain, ground.key, ground.compass, ground.instrument)
    if strain.path is Path.HALF_STEPS:
        return _by_half_steps(drill, strain, ground)
    stairs = material_stairs(drill, strain, ground.tonality, ground.compass)
    problem = _no_room(drill, strain, ground, stairs)
    if problem:
        return problem
    runs, home, reach_out = _runs(strain, stairs, ground)
    laid = _cells(strain, stairs, runs, ground, reach_out=reach_out)
    return _come_home(strain, laid, stairs.at(home, falling=False), ground)


def _runs(strain: Strain, stairs: Stairs, ground: Ground) -> tuple[tuple[Run, ...], int, bool]:
    if strain.path is Path.FROM_THE_MIDDLE:
        return from_the_middle(stairs, ground.compass.middle), stairs.home, False
    if strain.path in OCTAVES:
        home = _best_home(strain, stairs)
        return octaves(home, OCTAVES[strain.path], stairs), home, True
    if strain.path is Path.UPWARDS:
        return (Run(0, stairs.top, falling=False),), stairs.home, False
    runs, home = turning(stairs, ground.turn)
    return runs, home, False


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


def _no_room(drill: Drill, strain: Strain, ground: Ground, stairs: Stairs) -> DoesNotFit | None:
    """The note that is missing when a strain has no place to start, or no room for one cell."""
    reach = OCTAVES.get(strain.path, 0) * stairs.octave
    widest = max(reach, *(step for cell in strain.cells for step in offsets(cell)))
    if stairs.home >= 0 and strain.path in OCTAVES:
        fits = any(home + reach <= stairs.top for home in stairs.homes())
    else:
        span = min(max(offsets(cell)) - min(offsets(cell)) for cell in strain.cells)
        fits = stairs.home >= 0 and stairs.top >= max(span, 1)
    return None if fits else _missing(drill, strain, ground, widest)


def _missing(drill: Drill, strain: Strain, ground: Ground, reach: int) -> DoesNotFit:
    """Name the note above the compass that the strain would need from its lowest tonic."""
    wide = material_stairs(drill, strain, ground.tonality, ANY_COMPASS)
    low, high = ground.compass.low, ground.compass.high
    home = next(home for home in wide.homes() if wide.rising[home].midi >= low.midi)
    beyond = wide.rising[home] if wide.rising[home].midi > high.midi else wide.rising[home + reach]
    return DoesNotFit(drill.name, str(ground.key) if ground.key else "", beyond, high)


def _cells(strain: Strain, stairs: Stairs, runs: tuple[Run, ...], ground: Ground, *, reach_out: bool) -> list[LaidNote]:
    chord = strain_chord(strain, ground.tonality)
    notes: list[LaidNote] = []
    for number, cell in enumerate(placed_cells(strain, runs, stairs, reach_out=reach_out)):
        pitches = [stairs.at(place, falling=cell.falling) for place in cell.stairs]
        spelled = chord or spelled_chord(tuple(pitch.name for pitch in pitches))
        lengths = strain.lengths[cell.which] if strain.lengths else (None,) * len(pitches)
        root = stairs.at(cell.place, falling=cell.falling)
        notes += [
            LaidNote(pitch, root, number, place == 0, place == 0 and cell.turns, length, spelled)
            for place, (pitch, length) in enumerate(zip(pitches, lengths, strict=True))
        ]
    return notes


def _come_home(strain: Strain, notes: list[LaidNote], home: Pitch, ground: Ground) -> Line:
    """End on the tonic, where the path goes home and the line does not already end there."""
    if strain.path in HOMEWARD and not strain.lengths and notes[-1].pitch != home:
        chord = strain_chord(strain, ground.tonality)
        notes = [*notes, LaidNote(home, home, notes[-1].cell + 1, opens=True, chord=chord)]
    return Line(tuple(notes), home)


def _by_half_steps(drill: Drill, strain: Strain, ground: Ground) -> Line | DoesNotFit:
    """The cell on every half-step from the lowest tonic up an octave, or as far as it fits, and back."""
    rows: list[list[LaidNote]] = []
    for half_steps in range(13):
        tonality = _risen(ground.tonality, half_steps)
        row = _cell_at_home(drill, strain, tonality, ground, after=rows[-1][0].root.midi if rows else -1)
        if row is None:
            break
        rows.append(row)
    if not rows:
        return _missing(drill, strain, ground, max(offsets(strain.cells[0])))
    order = [*rows, *rows[-2::-1]]
    notes = [
        LaidNote(note.pitch, note.root, cell, note.opens, note.opens and cell == len(rows) - 1)
        for cell, row in enumerate(order)
        for note in row
    ]
    return _come_home(strain, notes, order[0][0].root, ground)


def _risen(key: Key, half_steps: int) -> Key:
    """The key so many half-steps higher, as players usually spell it; its own name at the octave."""
    if half_steps % 12 == 0:
        return key
    usual = usual_key((key.tonic.pitch_class + half_steps) % 12, "minor" if key.is_minor else "major")
    return Key(usual.tonic, key.mode)


def _cell_at_home(drill: Drill, strain: Strain, tonality: Key, ground: Ground, after: int) -> list[LaidNote] | None:
    """The first cell on the lowest tonic above MIDI key `after`; None when it leaves the compass."""
    stairs = material_stairs(drill, strain, tonality, ground.compass)
    home = next((place for place in stairs.homes() if stairs.rising[place].midi > after), -1)
    played = [home + step for step in offsets(strain.cells[0])]
    if home < 0 or min(played) < 0 or max(played) > stairs.top:
        return None
    root = stairs.rising[home]
    return [LaidNote(stairs.rising[place], root, 0, at == 0) for at, place in enumerate(played)]
