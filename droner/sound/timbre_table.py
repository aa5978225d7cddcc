"""List the partials of every sound that holds a pitch.

Rule    partials stand at whole multiples of the tone's hertz.
        Drones are strong in partials 3 to 10: that is where a small loudspeaker can carry a low tone,
        and where a flute note meets the partials of a drone below it.
Units   decibels of amplitude below the first partial, partial 1 first.
Source  our own choice by ear and purpose; no instrument was measured.
"""

from __future__ import annotations

DRONE_PARTIALS_DB: dict[str, tuple[float, ...]] = {
    #           1    2     3     4     5     6     7     8     9    10    11    12
    "bright": (0.0, -1.0, -1.0, -2.0, -3.0, -4.0, -5.0, -6.0, -7.0, -8.0, -11.0, -14.0),
    "medium": (0.0, -2.0, -3.0, -4.0, -6.0, -8.0, -10.0, -12.0, -14.0, -16.0, -20.0, -24.0),
    "pure": (0.0, -6.0, -10.0, -14.0, -18.0, -22.0, -26.0, -30.0, -34.0, -38.0),
}  # fmt: skip
"""The drone's timbres by name, from the one that carries furthest to the softest."""

CHANGES_PARTIALS_DB = (0.0, -4.0, -8.0, -12.0, -16.0, -20.0, -24.0, -28.0)
"""The chords: below the drone in brightness, clear enough to tune a third against."""

GUIDE_PARTIALS_DB = (0.0, -9.0, -18.0, -27.0, -34.0)
"""The guide voice: a few partials, the first far above the others, as a flute has."""

HIGHEST_PARTIAL = 0.45
"""Partials above this share of the sample rate are left out, so that nothing folds back."""
