"""Play one cell on every half-step, an octave up and back.

Rule    the first cell stands on the lowest tonic (of a chord, the lowest root) that can bear it; each further one a
        half-step higher in that key, as far as the compass goes. The line comes home, so home must lie inside the
        compass even where the cell leaves it out. Each cell is whole, so that all of them fall alike on the beat;
        in a mode with a low second its last note is the next one's first.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from droner.practice.layout.cells import offsets
from droner.practice.layout.lacking import does_not_fit, lowest_tonic
from droner.practice.layout.line import UNKEYED, DoesNotFit, LaidNote, Line, at_home
from droner.practice.layout.material import ANY_COMPASS, material_stairs
from droner.theory.key import Key
from droner.theory.key_order import usual_key

if TYPE_CHECKING:
    from droner.practice.drill import Drill, Strain
    from droner.theory.instrument import Range

HALF_STEPS = 12


def by_half_steps(drill: Drill, strain: Strain, key: Key | None, compass: Range) -> Line | DoesNotFit:
    """The cell on every half-step from the lowest tonic up an octave, or as far as it fits, and back."""
    first = _lowest_cell(drill, strain, key or UNKEYED, compass)
    top = max(first[0].root, *(note.pitch for note in first))
    if top not in compass:
        return does_not_fit(drill, key, top, compass)
    rows = [first]
    for half_steps in range(1, HALF_STEPS + 1):
        row = _cell_on(drill, strain, _risen(key or UNKEYED, half_steps), first[0].root.midi + half_steps)
        if any(note.pitch not in compass for note in row):
            break
        rows.append(row)
    notes = [
        replace(note, cell=cell, turns=note.opens and 0 < cell == len(rows) - 1)
        for cell, row in enumerate([*rows, *rows[-2::-1]])
        for note in row
    ]
    return at_home(notes, first[0].root)


def _lowest_cell(drill: Drill, strain: Strain, key: Key, compass: Range) -> list[LaidNote]:
    """The cell on the lowest home from which neither it nor any of its notes lies below the compass."""
    low = compass.low.midi
    home = lowest_tonic(material_stairs(drill, strain, key, ANY_COMPASS), compass).midi
    while True:
        row = _cell_on(drill, strain, key, home)
        if min(note.pitch.midi for note in row) >= low:
            return row
        home += HALF_STEPS


def _cell_on(drill: Drill, strain: Strain, key: Key, home_midi: int) -> list[LaidNote]:
    """The cell standing on a tonic, or on the root of its chord, whatever the compass."""
    stairs = material_stairs(drill, strain, key, ANY_COMPASS)
    home = next(place for place in stairs.homes() if stairs.rising[place].midi == home_midi)
    root = stairs.rising[home]
    return [
        LaidNote(stairs.rising[home + step], root, 0, opens=place == 0)
        for place, step in enumerate(offsets(strain.cells[0]))
    ]


def _risen(key: Key, half_steps: int) -> Key:
    """The key so many half-steps higher, as players usually spell it; its own name at the octave."""
    if half_steps % HALF_STEPS == 0:
        return key
    usual = usual_key((key.tonic.pitch_class + half_steps) % HALF_STEPS, "minor" if key.is_minor else "major")
    return Key(usual.tonic, key.mode)
