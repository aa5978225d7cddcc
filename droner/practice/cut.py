"""Cut a line that is too long for the air, at musical places.

Rule    as few breaths as the air allows, of about the same size. Among the places a breath may fall, a turn of
        the path is best, then the tonic, then any other cell; among equals one that fills the rhythm's cells.
        The note at the cut ends one phrase and starts the next.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from droner.practice.layout.line import LaidNote
    from droner.theory.pitch import Pitch

TURN_WORTH, TONIC_WORTH, FILLED_WORTH = 0.5, 0.3, 0.25
"""What each kind of place is worth against the distance from an even share, in parts of the share."""


def cut(notes: tuple[LaidNote, ...], most: int, size: int, home: Pitch) -> list[tuple[LaidNote, ...]]:
    """The line in pieces of at most `most` notes, both ends included; `size` notes fill a rhythm cell."""
    last = len(notes) - 1
    places = [0]
    while last - places[-1] > most - 1:
        places.append(_best(notes, places[-1], most, size, home))
    ends = [*places[1:], last]
    return [notes[start : stop + 1] for start, stop in zip(places, ends, strict=True)]


def _best(notes: tuple[LaidNote, ...], start: int, most: int, size: int, home: Pitch) -> int:
    left = len(notes) - 1 - start
    pieces = -(-left // (most - 1))
    share = left / pieces
    nearest = max(left - (pieces - 1) * (most - 1), 1)
    allowed = range(start + nearest, min(start + most, len(notes) - 1))
    opening = [place for place in allowed if notes[place].opens] or list(allowed)

    def worth(place: int) -> float:
        note = notes[place]
        kind = TURN_WORTH if note.turns else TONIC_WORTH if (note.pitch.midi - home.midi) % 12 == 0 else 0
        filled = FILLED_WORTH if (place - start) % size == 0 else 0
        return kind + filled - abs(place - start - share) / share

    return max(opening, key=worth)
