"""Find the bar and the beat in which a moment falls, as the page counts them."""

from __future__ import annotations

from droner.score.score import Bar
from droner.units import Beats


def bar_at(bars: tuple[Bar, ...], moment: Beats) -> tuple[int, int]:
    """The number of the bar and of the beat in it, from 1; (0, 0) before all bars."""
    bar = next((bar for bar in reversed(bars) if bar.onset <= moment), None)
    if bar is None:
        return 0, 0
    return bar.number, int((moment - bar.onset).ratio(bar.meter.beat)) + 1
