"""Any stretch of a track, in blocks of any size, is the same as that stretch of the whole.

Referee  the theorem that the samples are a function of the frame number: two ways to ask must agree.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from droner.sound.mix import EachPart, Mix
from droner.sound.render import frames_of, render_blocks
from tests.sound.scores import day_of_work

SAME = 1e-6
"""Single precision at full scale is about 1e-7."""

DAY = day_of_work(1)
EVERYTHING = Mix(guide=True, channels="stereo", pan=EachPart(drone=-0.5, click=1.0))
WHOLE = np.concatenate(list(render_blocks(DAY, EVERYTHING)))


def test_the_whole_is_as_long_as_the_score() -> None:
    assert len(WHOLE) == frames_of(DAY) == 60 * 48_000


@pytest.mark.parametrize("block_frames", [1_000, 4_096, 65_536, 10_000_000])
def test_blocks_of_any_size_give_the_same_samples(block_frames: int) -> None:
    blocks = list(render_blocks(DAY, EVERYTHING, block_frames=block_frames))
    assert all(len(block) == block_frames for block in blocks[:-1])
    assert np.max(np.abs(np.concatenate(blocks) - WHOLE)) < SAME


@settings(deadline=None, max_examples=40)
@given(start=st.integers(0, len(WHOLE) - 1), frames=st.integers(1, 100_000))
def test_a_stretch_is_the_same_as_that_stretch_of_the_whole(start: int, frames: int) -> None:
    stretch = np.concatenate(list(render_blocks(DAY, EVERYTHING, start=start, stop=start + frames)))
    assert np.max(np.abs(stretch - WHOLE[start : start + frames])) < SAME
    assert len(stretch) == min(frames, len(WHOLE) - start)


def test_the_same_question_gives_the_same_samples() -> None:
    assert np.array_equal(np.concatenate(list(render_blocks(DAY, EVERYTHING))), WHOLE)
