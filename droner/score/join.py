"""Join the scores of a day end to end into one long score.

Rule    every moment is moved by the exact beats before it, every tempo kept; nothing is rounded. Bar numbers stay
        those of each item, so that page and track agree. The long parts are kept in columns: a day of two hours has
        some ten thousand notes.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import accumulate
from typing import TYPE_CHECKING, TypeVar

from droner.score.columns import end_to_end
from droner.score.score import Answer, Bar, Breath, Cue, KeyMark, Marker, Score
from droner.score.tempo_map import tempo_map
from droner.units import Beats

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

Placed = TypeVar("Placed", Answer, Bar, Breath, Cue, KeyMark, Marker)


def join(title: str, scores: Sequence[Score]) -> Score:
    """The scores one after another. ValueError when there are none, or when their A4 differ."""
    if not scores:
        raise ValueError("a day with no items has no score")
    if len({score.a4_hz for score in scores}) > 1:
        raise ValueError("one long score has one A4")
    shifts = tuple(accumulate((score.length for score in scores), initial=Beats(0)))
    pairs = tuple(zip(scores, shifts, strict=False))
    tempos = [
        (segment.onset + shift, segment.quarter_us) for score, shift in pairs for segment in score.tempo_map.segments
    ]
    return Score(
        title=title,
        a4_hz=scores[0].a4_hz,
        length=shifts[-1],
        tempo_map=tempo_map(tempos),
        bars=_moved(pairs, lambda score: score.bars),
        keys=_moved(pairs, lambda score: score.keys),
        markers=_moved(pairs, lambda score: score.markers),
        cues=_moved(pairs, lambda score: score.cues),
        breaths=_moved(pairs, lambda score: score.breaths),
        solo=end_to_end((score.solo, shift) for score, shift in pairs),
        drone=end_to_end((score.drone, shift) for score, shift in pairs),
        changes=end_to_end((score.changes, shift) for score, shift in pairs),
        clicks=end_to_end((score.clicks, shift) for score, shift in pairs),
        answers=_moved(pairs, lambda score: score.answers),
    )


def _moved(pairs: Sequence[tuple[Score, Beats]], part: Callable[[Score], tuple[Placed, ...]]) -> tuple[Placed, ...]:
    return tuple(replace(event, onset=event.onset + shift) for score, shift in pairs for event in part(score))
