"""Explain the signs of a chart of ladders, under the charts.

Rule    a sign and its words; what has no room in a line goes on in the next.
Units   inches on the paper.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.cli import ladder_signs as signs
from droner.cli.ladder_picture import Share

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from droner.cli.ladder_paper import Paper

SIGN_INCHES, LETTER_INCHES, GAP_INCHES, LINE_INCHES = 0.34, 0.071, 0.25, 0.25
SIGN_MIDDLE_INCHES = 0.14
WORDS_POINTS = 8.5


def legend_inches(across_inches: float) -> float:
    """How high it is where there is so much room across."""
    return (1 + max(line for _, _, line in _places(across_inches))) * LINE_INCHES


def draw_legend(figure: Figure, paper: Paper, bottom_inches: float) -> None:
    """The signs with their words, on axes whose units are inches."""
    across = paper.size_inches[0] - paper.left_inches
    axes = figure.add_axes(paper.shares(paper.left_inches, bottom_inches, across, paper.legend_inches))
    axes.set_xlim(0, across)
    axes.set_ylim(-paper.legend_inches, 0)
    axes.set_axis_off()
    for words, x, line in _places(across):
        y = -(line + 0.5) * LINE_INCHES
        _SIGNS[words](axes, x + SIGN_MIDDLE_INCHES, y)
        axes.text(x + SIGN_INCHES, y, words, fontsize=WORDS_POINTS, va="center", color=signs.INK)


def _places(across_inches: float) -> Iterator[tuple[str, float, int]]:
    x, line = 0.0, 0
    for words in _SIGNS:
        needed = SIGN_INCHES + len(words) * LETTER_INCHES
        if x and x + needed > across_inches:
            x, line = 0.0, line + 1
        yield words, x, line
        x += needed + GAP_INCHES


def _mark(share: Share) -> Callable[[Axes, float, float], None]:
    return lambda axes, x, y: signs.mark(axes, [x], [y], share, signs.MARK_POINTS)


def _way(axes: Axes, x: float, y: float) -> None:
    signs.way(axes, [x - 0.13, x, x, x + 0.13], [y - 0.05, y - 0.05, y + 0.05, y + 0.05])


def _band(axes: Axes, x: float, y: float) -> None:
    axes.fill_between([x - 0.12, x + 0.12], y - 0.08, y + 0.08, color=signs.AWAY, linewidth=0)


def _range(axes: Axes, x: float, y: float) -> None:
    signs.whisker(axes, (x - 0.13, x + 0.13), y)
    signs.day(axes, x, y)


_SIGNS: dict[str, Callable[[Axes, float, float], None]] = {
    "all clean": _mark(Share.ALL),
    "some clean": _mark(Share.SOME),
    "none clean": _mark(Share.NONE),
    "where the ladder stood": _way,
    "down after misses": lambda axes, x, y: signs.fall(axes, [x], [y], signs.MARK_POINTS),
    "back after days away": lambda axes, x, y: signs.way_back(axes, [x], [y], signs.MARK_POINTS),
    "days away": _band,
    "when the target may be clean, and the range of 90 in 100": _range,
}
"""What draws a sign at a place, by its words."""
