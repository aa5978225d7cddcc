"""Bounds of voices add up as they would frame by frame.

Referee  a picture of the track with one place for every frame, into which each stretch is drawn by itself.
"""

from __future__ import annotations

from itertools import accumulate, pairwise

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from droner.sound.headroom import stairs
from droner.sound.voice import Amounts, Peaks, peaks_of

FRAMES = 60
ROUNDING = 1e-12

levels = st.sampled_from([0.125, 0.5, 0.75])
rows = st.lists(st.tuples(st.integers(0, 40), st.integers(1, 19), levels), max_size=8).map(
    lambda drawn: [(start, start + length, level) for start, length, level in drawn]
)


def drawn(*parts: Peaks) -> Amounts:
    """The level at every frame."""
    picture = np.zeros(FRAMES)
    for part in parts:
        for start, stop, level in zip(part.starts, part.stops, part.levels, strict=True):
            picture[start:stop] += level
    return picture


@given(rows, rows, rows, st.lists(st.integers(1, FRAMES - 1), min_size=1, max_size=4, unique=True))
def test_the_highest_step_in_a_stretch_is_the_highest_frame(
    one: list[tuple[int, int, float]],
    other: list[tuple[int, int, float]],
    clicks: list[tuple[int, int, float]],
    cuts: list[int],
) -> None:
    held, struck = [peaks_of(one), peaks_of(other)], [peaks_of(clicks)]
    edges = np.array([0, *sorted(cuts), FRAMES])
    found = stairs(held, struck).within(edges)
    for heights, parts in ((found.held, held), (found.clicks, struck)):
        wanted = [drawn(*parts)[first:last].max() for first, last in pairwise(edges)]
        assert np.allclose(heights, wanted, atol=ROUNDING)


@given(st.lists(st.tuples(st.integers(0, 2), st.integers(1, 5), levels), max_size=8))
def test_stretches_in_one_piece_are_as_high_as_before(row: list[tuple[int, int, float]]) -> None:
    """Each stretch begins so long after the one before it; most follow without a gap."""
    starts = accumulate((gap + length for gap, length, _ in row), initial=0)
    part = peaks_of((start, start + length, level) for start, (_, length, level) in zip(starts, row, strict=False))
    whole = part.in_one_piece()
    assert np.array_equal(drawn(whole), drawn(part))
    assert len(whole.levels) <= len(part.levels)
    assert not any(
        stop == start and level == following
        for stop, start, level, following in zip(
            whole.stops[:-1], whole.starts[1:], whole.levels[:-1], whole.levels[1:], strict=True
        )
    )
