"""Turn decibels and MIDI velocities into factors of amplitude.

Units   gain_db: decibels of amplitude, 0 changes nothing, -inf is silence. level_db: against full scale.
Source  DLS Level 1, concave transform: a velocity is attenuated by 20 log10(127² / velocity²) dB.
"""

from __future__ import annotations

CEILING_DB = -1.0
"""No track rises above this, between its samples and after an encoder neither (our choice)."""

MIX_LUFS = -16.0
DRONE_LUFS = -18.0
"""How loud a track is as a whole, and one of a drone alone. Source: AES TD1008 gives music -16 LUFS by the track;
that a drone lies below the player is our choice."""

LOUDEST_VELOCITY = 127


def factor(gain_db: float) -> float:
    """The factor of amplitude of so many decibels."""
    return float(10.0 ** (gain_db / 20.0))


def velocity_factor(velocity: float) -> float:
    """The factor of amplitude of a MIDI velocity; 127 gives 1, 64 about a quarter."""
    return (velocity / LOUDEST_VELOCITY) ** 2
