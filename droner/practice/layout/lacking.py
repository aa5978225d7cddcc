"""Name the note that a compass lacks for a drill.

Rule    the answer lies outside the compass: the lowest tonic, the top of the octave above it, or the note that a
        single cell would reach from the lowest place on which the compass can bear it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.practice.layout.cells import offsets
from droner.practice.layout.line import DoesNotFit
from droner.practice.layout.travel import HOMEWARD, OCTAVES

if TYPE_CHECKING:
    from droner.practice.drill import Drill, Strain
    from droner.practice.layout.stairs import Stairs
    from droner.theory.instrument import Range
    from droner.theory.key import Key
    from droner.theory.pitch import Pitch


def lacking(strain: Strain, stairs: Stairs, wide: Stairs, compass: Range) -> Pitch | None:
    """The note a strain lacks on these stairs, None when it has its tonic, its octaves and room for a cell.

    `wide`: the stairs of the same material beyond the compass.
    """
    needs_home = strain.path in HOMEWARD
    if needs_home and stairs.home < 0:
        return lowest_tonic(wide, compass)
    reach = OCTAVES.get(strain.path, 0) * stairs.octave
    if reach and all(home + reach > stairs.top for home in stairs.homes()):
        return above(wide, lowest_tonic(wide, compass), reach)
    span = max(least_span(strain), 1)
    return _beyond(stairs, wide, compass, span) if stairs.top < span else None


def _beyond(stairs: Stairs, wide: Stairs, compass: Range, span: int) -> Pitch:
    """The top of a cell that stands as low as the compass bears; the first note at all where it bears none."""
    if stairs.rising:
        return above(wide, stairs.rising[0], span)
    pairs = zip(wide.rising, wide.falling, strict=True)
    return next(max(pair) for pair in pairs if min(pair).midi >= compass.low.midi)


def least_span(strain: Strain) -> int:
    """Stairs from the lowest to the highest note of the narrowest cell."""
    return min(max(offsets(cell)) - min(offsets(cell)) for cell in strain.cells)


def lowest_tonic(wide: Stairs, compass: Range) -> Pitch:
    """The first tonic that is not below the compass."""
    return next(pitch for pitch in (wide.rising[home] for home in wide.homes()) if pitch.midi >= compass.low.midi)


def above(wide: Stairs, pitch: Pitch, steps: int) -> Pitch:
    """So many stairs above a pitch."""
    return wide.rising[wide.rising.index(pitch) + steps]


def does_not_fit(drill: Drill, key: Key | None, needed: Pitch, compass: Range) -> DoesNotFit:
    """The answer, with the limit that the note passes."""
    limit = compass.high if needed.midi > compass.high.midi else compass.low
    return DoesNotFit(drill.name, str(key) if key else "", needed, limit)
