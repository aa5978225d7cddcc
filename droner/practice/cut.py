"""Cut a line that is too long for the air, at musical places.

Rule    as few breaths as air and bars allow, of about the same size. Among the places a breath may fall, a turn of
        the path is best, then the tonic, then any other cell; one that fills the rhythm's cells is better than one
        that does not, and silence beyond the breath, up to the next bar line, counts against a place. A cell is parted
        only where it would take more than half of a breath: else there is a breath more, before it.
        The note at the cut ends one phrase and starts the next.
Source  the order of places: common practice, no source. The worths: by counting where the cuts of all drills fall.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from droner.practice.layout.line import LaidNote
    from droner.practice.reach import Reach
    from droner.theory.pitch import Pitch

TURN_WORTH, TONIC_WORTH, FILLED_WORTH = 0.5, 0.3, 0.25
"""What each kind of place is worth against the distance from an even share, in parts of the share."""
SECOND_WORTH = 0.1
"""What a second of silence beyond the breath takes from a place, in the same parts."""


def cut(notes: tuple[LaidNote, ...], reach: Reach, home: Pitch) -> list[tuple[LaidNote, ...]]:
    """The line in pieces that one breath carries, each within the reach, both ends included."""
    last = len(notes) - 1
    places = [0]
    while last - places[-1] > reach.most - 1:
        places.append(_best(notes, places[-1], reach, home))
    ends = [*places[1:], last]
    return [notes[start : stop + 1] for start, stop in zip(places, ends, strict=True)]


def _best(notes: tuple[LaidNote, ...], start: int, reach: Reach, home: Pitch) -> int:
    """Where the next breath falls."""
    left, inner, final = len(notes) - 1 - start, reach.inner - 1, reach.most - 1
    breaths = -(-(left - final) // inner)
    nearest, farthest = start + max(left - final - (breaths - 1) * inner, 1), start + min(inner, left - 1)
    allowed = range(nearest, farthest + 1)
    opening = [place for place in allowed if notes[place].opens] or _before(notes, start, allowed) or list(allowed)
    share, size, tonic, needless = left / (breaths + 1), reach.size, home.midi % 12, reach.needless

    def worth(place: int) -> float:
        note, steps = notes[place], place - start
        kind = TURN_WORTH if note.turns else TONIC_WORTH if note.pitch.midi % 12 == tonic else 0
        filled = 0 if steps % size else FILLED_WORTH
        silence = needless[-(-steps // size)] * SECOND_WORTH if needless else 0
        return kind + filled - silence - abs(steps - share) / share

    return max(opening, key=worth)


def _before(notes: tuple[LaidNote, ...], start: int, allowed: range) -> list[int]:
    """The last cell that opens before the places allowed, unless a phrase up to it is less than half a breath."""
    half = start + max((allowed[-1] - start) // 2, 1)
    return [place for place in range(half, allowed.start) if notes[place].opens][-1:]
