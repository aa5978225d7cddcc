"""List how the guide voice begins and ends its notes.

Rule    the tongue starts a note quickly but softly; the back of the tongue a little softer; the air alone
        swells in; a slur has no start of its own: one tone leads over to the next in an instant.
Units   milliseconds; decibels of amplitude.
Source  our own choice; common practice for the order of softness, no source.
"""

from __future__ import annotations

from dataclasses import dataclass

from droner.score.score import Attack


@dataclass(frozen=True, slots=True)
class AttackRow:
    """How long a note takes to reach its loudness, and how far below the written loudness it stays."""

    rise_ms: float
    softer_db: float


ATTACKS: dict[Attack, AttackRow] = {
    #                           rise softer
    Attack.TONGUE: AttackRow(8.0, 0.0),
    Attack.BACK: AttackRow(16.0, 1.5),
    Attack.AIR: AttackRow(60.0, 0.0),
    Attack.SLUR: AttackRow(30.0, 0.0),  # only where no note stands before it to slur from
}  # fmt: skip

RELEASE_MS = 25.0
SLUR_MS = 12.0
"""A slur goes from tone to tone in this time: too short to hear both, too long to hear as a knock."""

ACCENT_DB = 3.0
PULSE_DEPTH_DB = 4.0
"""How far the loudness sinks between two measured vibrato pulses. The pitch stays still."""

GUIDE_LEVEL_DB = -14.0
"""Effective level of the guide at velocity 127, below full scale."""
