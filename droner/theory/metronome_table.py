"""List the numbers on the traditional metronome.

Rule    39 tempos; the steps grow with the tempo, so that each is between 3.45 and 5.56 per cent.
Units   beats a minute.
Source  the series as quoted on the horn mailing list (music.memphis.edu archive, msg29183): steps of 2 from
        40, 3 from 60, 4 from 72, 6 from 120, 8 from 144 to 208. The ends: Encyclopaedia Britannica 1911.
"""

from __future__ import annotations

TRADITIONAL_BPM: tuple[int, ...] = (
    40, 42, 44, 46, 48, 50, 52, 54, 56, 58,
    60, 63, 66, 69,
    72, 76, 80, 84, 88, 92, 96, 100, 104, 108, 112, 116,
    120, 126, 132, 138,
    144, 152, 160, 168, 176, 184, 192, 200, 208,
)  # fmt: skip
