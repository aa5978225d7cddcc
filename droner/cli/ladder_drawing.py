"""Draw one ladder as a chart of tempo against day.

Rule    the target is a dashed line, with the day and the range on it in which it may be clean; a range that ends beyond
        the chart has an arrow. Days away are grey where they led back, or are more than a week.
Units   inches and points on the paper; days and tempos as in `ladder_picture`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.cli import ladder_signs as signs
from droner.cli.ladder_days import named_days
from droner.cli.ladder_paper import LETTER_INCHES
from droner.cli.ladder_picture import NOON, picture_of
from droner.cli.ladder_words import climb_words, target_label

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from matplotlib.axes import Axes

    from droner.cli.ladder_paper import Paper
    from droner.cli.ladder_picture import Picture, Point
    from droner.cli.ladder_rows import Row
    from droner.practice.ladder.projection import Projection

LABEL_POINTS, HEAD_POINTS = 8.5, 10.5
DAY_INCHES, RUNG_INCHES = 0.95, 0.17
"""What the name of a day needs across, that of a rung upwards."""
SMALLEST_MARK_POINTS, MARK_SHARE, POINTS_AN_INCH = 1.8, 0.9, 72
"""A mark is no wider than this share of its day, as far as it can still be seen."""
HEADROOM, FOOTROOM = 0.15, 0.07
"""Above and below what is shown, as shares of it."""


def draw_chart(axes: Axes, row: Row, paper: Paper, today: date, number: int) -> None:
    """The chart of one ladder, the `number`th of its page, on empty axes."""
    picture = picture_of(row, paper.first, today)
    axes.set_xlim(paper.first.toordinal(), paper.last.toordinal() + 1)
    _rungs(axes, picture, row, paper)
    _days(axes, paper)
    _away(axes, picture, paper)
    _target(axes, row, picture, today, number)
    points = _mark_points(paper)
    signs.way(axes, *_across_and_up(picture.way), f"stood-{number}")
    signs.fall(axes, *_across_and_up(picture.falls), points, f"falls-{number}")
    signs.way_back(axes, *_across_and_up(picture.returns), points, f"returns-{number}")
    for share, places in picture.marks.items():
        signs.mark(axes, *_across_and_up(places), share, points, f"{share.value.replace(' ', '-')}-{number}")
    _today(axes, today, paper)
    _heading(axes, row)


def _across_and_up(points: Sequence[Point]) -> tuple[list[float], list[float]]:
    return [point.x for point in points], [point.y for point in points]


def _rungs(axes: Axes, picture: Picture, row: Row, paper: Paper) -> None:
    """The rungs as faint lines, named as far as there is room; the first and the last always."""
    heights = [height for height, _ in picture.scale]
    played = [point.y for points in picture.marks.values() for point in points]
    low, high = min(heights + played), max(heights + played)
    span = max(high - low, 1.0)
    axes.set_ylim(low - FOOTROOM * span, high + HEADROOM * span)
    room = RUNG_INCHES / paper.chart_inches[1] * (1 + HEADROOM + FOOTROOM) * span
    named = [picture.scale[-1]]
    for height, label in picture.scale[-2::-1]:
        if named[-1][0] - height >= room and (height - heights[0] >= room or height == heights[0]):
            named.append((height, label))
    named.reverse()
    axes.set_yticks([height for height, _ in named], [label for _, label in named])
    axes.hlines(heights, *axes.get_xlim(), color=signs.RUNG, linewidth=0.7, zorder=signs.BEHIND)
    axes.set_ylabel("beats a minute" if row.way.by_tempo else "step", fontsize=LABEL_POINTS, color=signs.FAINT_INK)


def _days(axes: Axes, paper: Paper) -> None:
    days = named_days(paper.first, paper.last, int(paper.chart_inches[0] / DAY_INCHES))
    axes.set_xticks([day.toordinal() for day, _ in days], [name for _, name in days])
    axes.tick_params(labelsize=LABEL_POINTS, labelcolor=signs.INK, color=signs.FAINT_INK, length=3)
    for edge in ("top", "right"):
        axes.spines[edge].set_visible(False)


def _away(axes: Axes, picture: Picture, paper: Paper) -> None:
    """Bands, with the number of days where it has room."""
    a_day_inches = paper.chart_inches[0] / ((paper.last - paper.first).days + 1)
    for begins, ends in picture.away:
        axes.axvspan(begins, ends, color=signs.AWAY, linewidth=0, zorder=0)
        words = f"{ends - begins} days"
        if len(words) * LETTER_INCHES < (ends - begins) * a_day_inches:
            axes.annotate(
                words, ((begins + ends) / 2, 0), (0, 3), xycoords=("data", "axes fraction"),
                textcoords="offset points", ha="center", fontsize=LABEL_POINTS, color=signs.FAINT_INK,
            )  # fmt: skip


def _target(axes: Axes, row: Row, picture: Picture, today: date, number: int) -> None:
    axes.plot(
        axes.get_xlim(), [picture.target] * 2, color=signs.INK, linewidth=0.9, linestyle=(0, (5, 3)),
        zorder=signs.BEHIND + 1, gid=f"target-{number}",
    )  # fmt: skip
    axes.annotate(
        target_label(row, today), (1, picture.target), (-2, 7),
        xycoords=("axes fraction", "data"), textcoords="offset points", ha="right", va="bottom",
        fontsize=LABEL_POINTS, color=signs.INK,
    )  # fmt: skip
    _range(axes, row.target, picture.target, number)


def _range(axes: Axes, target: Projection, height: float, number: int) -> None:
    """The days in which the target may be clean."""
    if not (target.day and target.earliest and target.latest):
        return
    _, right = axes.get_xlim()
    day, first, last = (each.toordinal() + NOON for each in (target.day, target.earliest, target.latest))
    if first < right:
        signs.whisker(axes, [first, min(last, right)], height, f"may-be-{number}")
    if last > right:
        signs.goes_on(axes, right, height)
    if day < right:
        signs.day(axes, day, height, f"day-{number}")


def _mark_points(paper: Paper) -> float:
    a_day = paper.chart_inches[0] * POINTS_AN_INCH / ((paper.last - paper.first).days + 1)
    return max(SMALLEST_MARK_POINTS, min(signs.MARK_POINTS, MARK_SHARE * a_day))


def _today(axes: Axes, today: date, paper: Paper) -> None:
    """A line at the end of the day that is looked at, where days to come follow it."""
    if (paper.last - today).days > 2:
        ends = today.toordinal() + 1
        axes.axvline(ends, color=signs.FAINT_INK, linewidth=0.9, linestyle=":", zorder=signs.BEHIND)
        axes.annotate(
            "today", (ends, 0), (3, 3), xycoords=("data", "axes fraction"), textcoords="offset points",
            fontsize=LABEL_POINTS, color=signs.FAINT_INK,
        )  # fmt: skip


def _heading(axes: Axes, row: Row) -> None:
    climb, stands = climb_words(row), row.stands
    _above(axes, 21, row.label, HEAD_POINTS, "bold")
    plateau = f"; plateau at {row.way.rungs[row.climb.state.stuck].label}" if stands.plateau else ""
    where = f"now {stands.rung.label}, rung {stands.place + 1} of {stands.of}{plateau}"
    nothing = "" if row.climb.first else "nothing written down yet"
    words = "; ".join(filter(None, (climb, where, nothing)))
    _above(axes, 8, words, LABEL_POINTS + 0.5, "normal")


def _above(axes: Axes, up_points: float, words: str, size_points: float, weight: str) -> None:
    axes.annotate(
        words, (0, 1), (0, up_points), xycoords="axes fraction", textcoords="offset points", fontsize=size_points,
        fontweight=weight, color=signs.INK,
    )  # fmt: skip
