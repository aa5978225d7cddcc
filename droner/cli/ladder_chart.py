"""Write the ladders of a session as pictures, so many a page.

Rule    the first page has the name that was asked for, the others a number behind it: climb.svg, climb-2.svg.
Units   inches and points on the paper.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from droner.cli.ladder_drawing import draw_chart
from droner.cli.ladder_legend import draw_legend, legend_inches
from droner.cli.ladder_paper import BOTTOM_INCHES, paper_of
from droner.cli.ladder_signs import INK
from droner.cli.ladder_words import NO_LADDER
from droner.cli.picture import write_picture

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from matplotlib.figure import Figure

    from droner.cli.ladder_paper import Paper
    from droner.cli.ladder_rows import Row, Seen

MOST_A_PAGE = 6
TITLE_POINTS, SUBTITLE_POINTS = 13.5, 9.5
TITLE_INCHES, SUBTITLE_INCHES = 0.42, 0.66
"""From the top of the paper."""


def write_charts(path: Path, shown: Seen) -> list[dict[str, Any]]:
    """Write the pages; give them as data. UsageError for a session without a ladder."""
    if not shown.rows:
        raise click.UsageError(NO_LADDER)
    pages = [shown.rows[start : start + MOST_A_PAGE] for start in range(0, len(shown.rows), MOST_A_PAGE)]
    return [_write(path, number, len(pages), shown, rows) for number, rows in enumerate(pages, 1)]


def _write(path: Path, number: int, pages: int, shown: Seen, rows: Sequence[Row]) -> dict[str, Any]:
    title = f"{shown.session.title}: where the ladders stood"
    if pages > 1:
        title += f", page {number} of {pages}"
    named = path if number == 1 else path.with_name(f"{path.stem}-{number}{path.suffix}")
    paper = paper_of(shown, rows, 0)
    paper = paper_of(shown, rows, legend_inches(paper.size_inches[0] - paper.left_inches))
    return write_picture(named, title, paper.size_inches, lambda figure: _draw(figure, paper, shown, rows, title))


def _draw(figure: Figure, paper: Paper, shown: Seen, rows: Sequence[Row], title: str) -> None:
    for place, row in enumerate(rows):
        draw_chart(figure.add_axes(paper.place(place)), row, paper, shown.today, place + 1)
    draw_legend(figure, paper, BOTTOM_INCHES)
    today = shown.today
    wide, high = paper.size_inches
    left = paper.left_inches / wide
    figure.text(left, 1 - TITLE_INCHES / high, title, fontsize=TITLE_POINTS, fontweight="bold", color=INK)
    under = f"{shown.session.instrument.name}; as of {today.day} {today:%B} {today.year}"
    if any(row.climb.first and row.climb.first < paper.first for row in rows):
        under += "; the last year of it"
    figure.text(left, 1 - SUBTITLE_INCHES / high, under, fontsize=SUBTITLE_POINTS, color=INK)
