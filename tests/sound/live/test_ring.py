"""Referees: counting numbers, which show a frame that is lost, doubled or changed; the shape of a fade by theory."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from droner.sound.live.ring import SOFTLY_FRAMES, Ring
from droner.sound.voice import Samples

STEEPEST = np.pi / 2
"""A raised cosine's steepest step, times its length (its derivative)."""
ROUNDING = 1e-6


def counting(first: int, frames: int) -> Samples:
    return np.arange(first, first + frames, dtype=np.float32).reshape(-1, 1)


def level(height: float, frames: int) -> Samples:
    return np.full((frames, 1), height, dtype=np.float32)


def taken(ring: Ring, frames: int) -> Samples:
    out = np.full((frames, ring.channels), np.nan, dtype=np.float32)
    ring.take(out)
    return out


@settings(deadline=None)
@given(sizes=st.lists(st.tuples(st.integers(1, 60), st.integers(1, 60)), max_size=60))
def test_everything_comes_out_once_and_in_order(sizes: list[tuple[int, int]]) -> None:
    ring, put, came = Ring(64, 1), 0, np.zeros(0, dtype=np.float32)
    for size, wanted in sizes:
        fits = min(size, ring.room)
        assert ring.put(0, counting(put, fits))
        put += fits
        came = np.append(came, taken(ring, min(wanted, ring.ready)))
    assert np.array_equal(came, np.arange(len(came)))
    assert ring.gaps == 0


def test_silence_before_the_first_sample_and_after_the_last_is_no_gap() -> None:
    ring = Ring(64, 2)
    assert not taken(ring, 8).any()
    ring.put(0, np.ones((4, 2), dtype=np.float32), last=True)
    assert taken(ring, 8)[:, 1].tolist() == [1, 1, 1, 1, 0, 0, 0, 0]
    assert ring.gaps == ring.gap_frames == 0
    assert ring.is_over


@pytest.mark.parametrize("block", [16, 64, 512])
def test_a_gap_is_counted_and_softened(block: int) -> None:
    ring = Ring(4096, 1)
    ring.put(0, level(1.0, 1024))
    came = [taken(ring, block) for _ in range(2048 // block)]
    ring.put(0, level(1.0, 1024))
    came += [taken(ring, block) for _ in range(1024 // block)]
    heard = np.concatenate(came)[:, 0]
    assert (ring.gaps, ring.gap_frames) == (1, 1024)
    assert np.max(np.abs(np.diff(heard))) < STEEPEST / SOFTLY_FRAMES + ROUNDING
    assert not heard[1024 + SOFTLY_FRAMES : 2048].any()
    assert np.all(heard[2048 + SOFTLY_FRAMES :] == 1.0)


def test_what_is_ready_is_led_over_to_what_is_new() -> None:
    ring = Ring(4096, 1)
    ring.put(0, level(1.0, 2000))
    taken(ring, 100)
    assert ring.cross(level(0.0, 500), 400) == 100
    heard = taken(ring, 500)[:, 0]
    # two fades whose squares add to 1 (tones of different pitch add as powers): half the power half way
    assert heard[199] ** 2 + heard[200] ** 2 == pytest.approx(1.0, abs=0.01)
    assert np.all(np.diff(heard[:400]) <= 0)
    assert not heard[400:].any()


def test_a_fade_to_silence_waits_for_nothing() -> None:
    ring = Ring(4096, 1)
    ring.put(0, level(1.0, 100))
    ring.cross(np.zeros((0, 1), dtype=np.float32), 400, last=True)
    heard = taken(ring, 512)[:, 0]
    assert np.max(np.abs(np.diff(heard))) < STEEPEST / 100 + ROUNDING, "as long as there is something to fade"
    assert ring.is_over
    assert ring.gaps == 0


def test_samples_of_an_earlier_turn_are_refused() -> None:
    ring = Ring(64, 1)
    old = ring.turn
    ring.cross(counting(0, 8), 4)
    assert not ring.put(old, counting(90, 8))
    assert ring.put(ring.turn, counting(8, 8))
    assert np.array_equal(taken(ring, 16), counting(0, 16))


def test_what_is_ready_can_be_changed_from_a_frame_to_come() -> None:
    ring = Ring(64, 1)
    ring.put(0, counting(0, 40))
    taken(ring, 10)
    assert not ring.join(9, counting(100, 4)), "that frame is gone"
    assert not ring.join(41, counting(100, 4)), "that frame is not made yet"
    assert ring.join(20, counting(100, 5))
    assert np.array_equal(taken(ring, 15)[:, 0], [*range(10, 20), *range(100, 105)])
