"""Referee: the definitions of key, bend and cent, and the frequency words of the MIDI Tuning Standard."""

from __future__ import annotations

from math import log2

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.midi.bend import BentKey, bent_key

ROUNDING_CENTS = 200 / 8192 / 2 + 1e-6
"""Half a step of a bend of 8192 steps to two semitones: 0.0122 cents, and what a double loses."""
TUNING_WORD_CENTS = 100 / 2**14
"""One step of the MIDI Tuning Standard's 14-bit fraction of a semitone."""
C0_HZ, G9_HZ = 8.1758, 12543.854  # keys 0 and 127, printed in the MIDI Tuning Standard

# frequency word: the key below, and the fraction of a semitone above it, high seven bits first (MTS rule)
TUNING_WORDS = [
    (440.0, 0x45, 0x00, 0x00),
    (442.0, 0x45, 0x0A, 0x06),
    (415.0, 0x43, 0x7E, 0x30),
    (550.0, 0x48, 0x6E, 0x3E),  # 5/4 on A4
    (660.0, 0x4C, 0x02, 0x40),  # 3/2 on A4
    (770.0, 0x4E, 0x58, 0x0C),  # 7/4 on A4
]


def cents_above_c0(bent: BentKey) -> float:
    return bent.key * 100 + (bent.bend - 8192) / 8192 * 200


@given(st.floats(C0_HZ, G9_HZ))
def test_key_and_bend_sound_the_frequency(hz: float) -> None:
    exact = 6900 + 1200 * log2(hz / 440)
    assert abs(cents_above_c0(bent_key(hz)) - exact) <= ROUNDING_CENTS


@given(st.floats(C0_HZ, G9_HZ))
def test_the_nearest_key_never_bends_more_than_half_a_semitone(hz: float) -> None:
    assert abs(bent_key(hz).bend - 8192) <= 2048


@pytest.mark.parametrize(("hz", "key", "high", "low"), TUNING_WORDS)
def test_the_tuning_standard_says_the_same(hz: float, key: int, high: int, low: int) -> None:
    word_cents = key * 100 + (high << 7 | low) * TUNING_WORD_CENTS
    assert abs(cents_above_c0(bent_key(hz)) - word_cents) <= ROUNDING_CENTS + TUNING_WORD_CENTS


def test_equal_temperament_at_440_needs_no_bend() -> None:
    keys = [bent_key(440 * 2 ** ((key - 69) / 12)) for key in range(128)]
    assert keys == [BentKey(key, 8192) for key in range(128)]


def test_a4_at_442_is_bent_by_7_85_cents_on_every_key() -> None:
    # 1200 log2(442/440) = 7.851 cents; times 8192/200 = 321.6 steps
    for key in range(24, 109):
        assert bent_key(442 * 2 ** ((key - 69) / 12)) == BentKey(key, 8192 + 322)


@pytest.mark.parametrize("hz", [7.9, 13_000.0])
def test_a_frequency_beyond_the_keys_is_our_mistake(hz: float) -> None:
    with pytest.raises(ValueError, match="beyond the keys"):
        bent_key(hz)
