"""What counts lost periods counts them right. Referee: losses that are made here, one by one."""

from __future__ import annotations

import numpy as np
import pytest

from tests.sound.live.listening import slips

PERIOD = 8
SAME = 1e-7


def made(frames: int) -> np.ndarray[tuple[int, int], np.dtype[np.float32]]:
    return np.random.default_rng(3).uniform(-1, 1, (frames, 2)).astype(np.float32)


@pytest.mark.parametrize("frames", [10 * PERIOD, 10 * PERIOD - 3])
@pytest.mark.parametrize("silence_after", [0, 4 * PERIOD])
def test_whatever_the_length_a_loss_is_counted_once_and_no_loss_never(frames: int, silence_after: int) -> None:
    music = made(frames)
    after = np.zeros((silence_after, 2), np.float32)
    silent = music.copy()
    silent[2 * PERIOD : 3 * PERIOD] = 0
    missing = np.delete(music, slice(5 * PERIOD, 7 * PERIOD), axis=0)
    heard = [np.concatenate((each, after)) for each in (music, silent, missing)]
    assert [slips(each, music, SAME, PERIOD) for each in heard] == [0, 1, 1]


def test_other_music_is_not_taken_for_a_loss() -> None:
    with pytest.raises(AssertionError, match="is not what was made"):
        slips(made(100 * PERIOD)[::-1], made(100 * PERIOD), SAME, PERIOD)
