"""List the partials of every sound that holds a pitch, and what each timbre of the drone is for.

Rule    partials stand at whole multiples of the tone's hertz. However many a timbre has, its level is that of the
        others: how strong its partials are against one another is all that counts.
        A low drone must be strong in partials 3 to 10: that is where a small loudspeaker can carry it, and where a
        flute note meets the partials of a drone below it. A high one needs few: its first partial is carried anyway,
        and a difference tone is heard best where nothing else stands.
Units   decibels of amplitude below the first partial, or above it, partial 1 first.
Source  our own choice by ear and purpose; no instrument was measured. That a phone gives little below 300 to 500
        hertz: common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Timbre:
    """One sound of the drone, by its partials, and its purpose in the player's words."""

    about: str
    partials_db: tuple[float, ...]


USUAL_TIMBRE = "medium"
TIMBRES: dict[str, Timbre] = {
    "carrying": Timbre(
        "for low drones through a phone: its first two partials weak, partials 3 to 10 strong",
        # 1    2     3     4     5     6     7     8    9    10   11    12
        (0.0, 5.0, 10.0, 12.0, 12.0, 12.0, 11.0, 10.0, 9.0, 8.0, 2.0, -4.0),
    ),
    "bright": Timbre(
        "for low drones: strong up to partial 10, where thirds and seconds above meet it",
        (0.0, -1.0, -1.0, -2.0, -3.0, -4.0, -5.0, -6.0, -7.0, -8.0, -11.0, -14.0),
    ),
    "medium": Timbre(
        "for most drones: every partial clear to the tenth, and not tiring",
        (0.0, -2.0, -3.0, -4.0, -6.0, -8.0, -10.0, -12.0, -14.0, -16.0, -20.0, -24.0),
    ),
    "pure": Timbre(
        "for drones in your own octave: soft, its upper partials only just there",
        (0.0, -6.0, -10.0, -14.0, -18.0, -22.0, -26.0, -30.0, -34.0, -38.0),
    ),
    "bare": Timbre(
        "for high drones and difference tones: nearly the first partial alone, and hardly a beat but at the unison",
        (0.0, -24.0, -36.0),
    ),
}  # fmt: skip
"""The drone's timbres by name, from the one that carries furthest to the softest."""

DRONE_PARTIALS_DB = {name: timbre.partials_db for name, timbre in TIMBRES.items()}

CHANGES_PARTIALS_DB = (0.0, -4.0, -8.0, -12.0, -16.0, -20.0, -24.0, -28.0)
"""The chords: below the drone in brightness, clear enough to tune a third against."""

GUIDE_PARTIALS_DB = (0.0, -9.0, -18.0, -27.0, -34.0)
"""The guide voice: a few partials, the first far above the others, as a flute has."""

HIGHEST_PARTIAL = 0.45
"""Partials above this share of the sample rate are left out, so that nothing folds back."""
