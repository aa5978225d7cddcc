"""Dynamics. Referees: the table printed with the `gm` package of R (rdrr.io), the same ladder that common notation
programs use; the bands 16 wide into which eight marks divide the velocities of MIDI 1.0.
"""

from __future__ import annotations

from droner.theory.dynamics_table import VELOCITIES

PRINTED = "ppp 16, pp 33, p 49, mp 64, mf 80, f 96, ff 112, fff 126"
BAND = 16
BAND_ROUNDING = 2
"""The printed ladder leaves even bands by at most this much."""


def test_the_ladder_is_the_printed_one() -> None:
    assert ", ".join(f"{mark} {velocity}" for mark, velocity in VELOCITIES.items()) == PRINTED


def test_eight_marks_share_the_velocities_evenly() -> None:
    for place, velocity in enumerate(VELOCITIES.values(), start=1):
        assert abs(velocity - BAND * place) <= BAND_ROUNDING
        assert 1 <= velocity <= 127
