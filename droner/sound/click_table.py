"""List what each kind of click sounds like.

Rule    a click is short and dry, holds its energy between 2 and 5 kHz, and has no pitch that a player could
        tune to: it is a burst of noise out of one band. Kinds differ in level and colour; the count before
        the start is a double stroke, which no other kind is.
Units   bands in hertz; times in milliseconds; level_db of the highest sample below full scale.
Source  common practice for band, length and dryness, no source; the figures are our own choice, the seeds
        those of the first two hundred that favour no semitone while nine tenths of the energy stay in band.
"""

from __future__ import annotations

from dataclasses import dataclass

from droner.score.score import ClickKind

LONGEST_CLICK_MS = 30.0


@dataclass(frozen=True, slots=True)
class ClickRow:
    """One kind of click: its band, how fast it dies away, its strokes, and the seed of its noise."""

    low_hz: float
    high_hz: float
    decay_ms: float
    length_ms: float
    strokes_ms: tuple[float, ...]
    level_db: float
    seed: int


CLICKS: dict[ClickKind, ClickRow] = {
    #                               low     high  decay length  strokes     level seed
    ClickKind.ACCENT: ClickRow(2800.0, 4500.0, 4.0, 24.0, (0.0,), -8.0, 115),
    ClickKind.BEAT: ClickRow(2400.0, 3900.0, 3.5, 20.0, (0.0,), -13.0, 115),
    ClickKind.SUBDIVISION: ClickRow(3200.0, 4600.0, 2.5, 14.0, (0.0,), -20.0, 69),
    ClickKind.COUNT: ClickRow(2200.0, 3300.0, 3.0, 28.0, (0.0, 11.0), -10.0, 161),
}  # fmt: skip
