"""Keep the start of a tone, for notes to be cut out of.

Rule    it is made piece by piece, as far as notes reach into it, and every piece is made only once. A piece is always
        made alone and at the same place, so that its samples do not depend on who asked first.
Units   frames from the start of the tone.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from droner.sound.additive import ROW_FRAMES, Sounding, rows_from_start
from droner.sound.voice import Samples

PIECE_ROWS = 16
PIECES = 6
PIECE_FRAMES = PIECE_ROWS * ROW_FRAMES
KEPT_FRAMES = PIECES * PIECE_FRAMES
"""About a second. What lasts longer is made when it is wanted."""

TONES_KEPT = 48
"""9 MB at most, if every one of them were held for a second; of the usual short notes a third."""


class ToneStart:
    """The first second of a tone, at full level."""

    def __init__(self, tone: Sounding, rate_hz: int) -> None:
        self._tone, self._rate_hz = tone, rate_hz
        self._samples: Samples = np.empty(0, dtype=np.float32)

    def frames(self, first: int, last: int) -> Samples:
        """So many frames of it, not to be changed; `last` is at most KEPT_FRAMES."""
        if len(self._samples) < last:
            rows = range(len(self._samples) // ROW_FRAMES, -(-last // ROW_FRAMES), PIECE_ROWS)
            self._samples = np.concatenate((self._samples, *map(self._piece, rows)))
            self._samples.flags.writeable = False
        return self._samples[first:last]

    def _piece(self, row: int) -> Samples:
        return rows_from_start((self._tone,), self._rate_hz, row, row + PIECE_ROWS)


@lru_cache(maxsize=TONES_KEPT)
def tone_start(tone: Sounding, rate_hz: int) -> ToneStart:
    """The start of that tone: the same again while it is kept."""
    return ToneStart(tone, rate_hz)
