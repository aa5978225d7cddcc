"""Share the paper out among the charts of a page.

Rule    up to four charts stand one below the other, more in two columns. All have the same days: from the first that
        was played on any ladder of the session, a year at most, and half as far ahead of today as that lies behind, if
        a range reaches so far.
Units   inches on the paper; days.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from droner.cli.ladder_rows import Row, Seen

MOST_IN_A_COLUMN = 4
WIDE_INCHES, NARROW_INCHES, HIGH_INCHES, LOW_INCHES = 8.8, 6.4, 4.0, 2.6
"""Of a chart: across where it is alone in its line, or one of two; upwards where it is the only one, or not."""
TOP_INCHES, BOTTOM_INCHES, RIGHT_INCHES = 0.8, 0.2, 0.35
"""Of the paper: for the title, below all, and at the right of a chart."""
ABOVE_INCHES, BELOW_INCHES = 0.62, 0.5
"""Of a chart: for its heading, and for the names of its days."""
LEAST_LEFT_INCHES, UNIT_INCHES, LETTER_INCHES = 0.75, 0.35, 0.075
FEWEST_DAYS, MOST_DAYS = 28, 366


@dataclass(frozen=True, slots=True)
class Paper:
    """A page of charts."""

    charts: int
    left_inches: float
    legend_inches: float
    first: date
    last: date

    @property
    def columns(self) -> int:
        """How many charts stand side by side."""
        return 1 if self.charts <= MOST_IN_A_COLUMN else 2

    @property
    def lines(self) -> int:
        """How many charts stand one below the other."""
        return -(-self.charts // self.columns)

    @property
    def chart_inches(self) -> tuple[float, float]:
        """A chart, across and upwards."""
        return (WIDE_INCHES if self.columns == 1 else NARROW_INCHES), (HIGH_INCHES if self.charts == 1 else LOW_INCHES)

    @property
    def size_inches(self) -> tuple[float, float]:
        """All of it."""
        wide, high = self.chart_inches
        return (
            self.columns * (self.left_inches + wide + RIGHT_INCHES),
            TOP_INCHES + self.lines * (ABOVE_INCHES + high + BELOW_INCHES) + self.legend_inches + BOTTOM_INCHES,
        )

    def place(self, chart: int) -> tuple[float, float, float, float]:
        """Of a chart on the paper, down the left column first: left, bottom, width, height, as shares."""
        wide, high = self.chart_inches
        column, line = divmod(chart, self.lines)
        left = self.left_inches + column * (self.left_inches + wide + RIGHT_INCHES)
        top = TOP_INCHES + ABOVE_INCHES + line * (ABOVE_INCHES + high + BELOW_INCHES)
        return self.shares(left, self.size_inches[1] - top - high, wide, high)

    def shares(self, left: float, bottom: float, wide: float, high: float) -> tuple[float, float, float, float]:
        """A place in inches as shares of the paper."""
        paper_wide, paper_high = self.size_inches
        return left / paper_wide, bottom / paper_high, wide / paper_wide, high / paper_high


def paper_of(shown: Seen, rows: Sequence[Row], legend_inches: float) -> Paper:
    """The page that some ladders need."""
    longest = max(len(rung.label) for row in rows for rung in row.way.rungs)
    first, last = _days(shown)
    return Paper(
        charts=len(rows),
        left_inches=max(LEAST_LEFT_INCHES, UNIT_INCHES + (longest + 1) * LETTER_INCHES),
        legend_inches=legend_inches,
        first=first,
        last=last,
    )


def _days(shown: Seen) -> tuple[date, date]:
    """The first and the last day of every chart, with a day's room at both ends."""
    today = shown.today
    starts = [row.climb.first for row in shown.rows if row.climb.first]
    first = max(min([*starts, _later(today, 1 - FEWEST_DAYS)]), _later(today, 1 - MOST_DAYS))
    latest = [row.target.latest for row in shown.rows if row.target.latest]
    last = min(max([today, *latest]), _later(today, max((today - first).days, FEWEST_DAYS) // 2))
    return _later(first, -1), _later(last, 2)


def _later(day: date, days: int) -> date:
    """So many days later, as far as the calendar goes."""
    return date.fromordinal(min(max(day.toordinal() + days, date.min.toordinal()), date.max.toordinal() - 1))
