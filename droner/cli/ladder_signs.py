"""Draw the signs of a chart of ladders: marks, the way, falls and ways back, a range.

Rule    one ink and a blue that prints dark: what was clean is told by how full a mark is, the rest by shape. The same
        function draws a sign in the chart and in the legend.
Units   points on the paper.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.cli.ladder_picture import Share

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes

INK, BLUE, FAINT_INK, RUNG, AWAY, PAPER = "#1a1a1a", "#1f5f99", "#6a6a6a", "#ebebeb", "#e2e2e2", "#ffffff"
MARK_POINTS, ARROW = 5.2, 1.25
"""A round mark; what points down is so much larger."""
BEHIND, MIDDLE, FRONT, FOREMOST = 1, 3, 5, 6
"""What lies over what."""


def mark(axes: Axes, x: Sequence[float], y: Sequence[float], share: Share, points: float, gid: str = "") -> None:
    """Round marks of what was played: full, half or empty."""
    axes.plot(
        x, y, "o", markersize=points, color=INK, fillstyle="bottom" if share is Share.SOME else "full",
        markerfacecolor=PAPER if share is Share.NONE else INK, markerfacecoloralt=PAPER, markeredgecolor=INK,
        markeredgewidth=0.7, zorder=FRONT, gid=gid or None,
    )  # fmt: skip


def way(axes: Axes, x: Sequence[float], y: Sequence[float], gid: str = "") -> None:
    """Where the ladder stood."""
    axes.plot(x, y, color=BLUE, linewidth=1.5, zorder=MIDDLE, solid_joinstyle="miter", gid=gid or None)


def fall(axes: Axes, x: Sequence[float], y: Sequence[float], points: float, gid: str = "") -> None:
    """Down after misses."""
    _down(axes, x, y, points, INK, gid)


def way_back(axes: Axes, x: Sequence[float], y: Sequence[float], points: float, gid: str = "") -> None:
    """Down after days away."""
    _down(axes, x, y, points, PAPER, gid)


def _down(axes: Axes, x: Sequence[float], y: Sequence[float], points: float, ground: str, gid: str) -> None:
    axes.plot(
        x, y, "v", markersize=points * ARROW, markerfacecolor=ground, markeredgecolor=INK, markeredgewidth=0.9,
        zorder=FOREMOST, gid=gid or None,
    )  # fmt: skip


def whisker(axes: Axes, ends: Sequence[float], y: float, gid: str = "") -> None:
    """A range of days, with a bar at each end that is shown."""
    axes.plot(ends, [y] * 2, color=BLUE, linewidth=2.2, zorder=MIDDLE, solid_capstyle="butt", gid=gid or None)
    _, right = axes.get_xlim()
    inside = [end for end in ends if end < right]
    axes.plot(inside, [y] * len(inside), "|", color=BLUE, markersize=8, markeredgewidth=2.0, zorder=MIDDLE)


def day(axes: Axes, x: float, y: float, gid: str = "") -> None:
    """The day in a range."""
    axes.plot(
        [x], [y], "D", markersize=6.5, markerfacecolor=PAPER, markeredgecolor=BLUE, markeredgewidth=1.6, zorder=FRONT,
        gid=gid or None,
    )  # fmt: skip


def goes_on(axes: Axes, x: float, y: float) -> None:
    """An arrow where a range ends beyond the chart."""
    axes.plot([x], [y], ">", color=BLUE, markersize=7, clip_on=False, zorder=FRONT)
