"""Draw a chart of beats against cents off, to lie on a music stand.

Rule    one ink and no key: lines are named at their ends and bands at their sides, so that grey print and every eye
        can read it.
Units   inches and points on the paper; cents and beats a second in the chart.
Source  roughness from 15 a second: Fastl & Zwicker, Psychoacoustics. Countable to about 6: common practice, no source.
"""

from __future__ import annotations

from textwrap import wrap
from typing import TYPE_CHECKING

from droner.cli.beats_lines import MOST_CENTS, chart_of, end_of, named_points, spread
from droner.cli.beats_page import heading
from droner.theory.beats import FASTEST_COUNTED_HZ, PER_CENT, ROUGH_HZ

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from droner.cli.beats_lines import Chart, Line, Point
    from droner.theory.beats import DegreeBeats
    from droner.theory.tuning import Tuning

SIZE_INCHES = (10.0, 6.8)
PLACE = (0.075, 0.165, 0.75, 0.645)
"""Of the chart on the paper: left, bottom, width, height, as shares."""
INK, FAINT_INK, POINT_INK = "#1a1a1a", "#7a7a7a", "#c04a00"
COUNTABLE, ROUGH, HATCH = "#dcebf7", "#f1f1f1", "#c9c9c9"
LABEL_POINTS = 9.5
LETTER_INCHES, LINE_INCHES = 0.092, 0.17
"""What a letter of a label takes in width, a line in height: a little more than they do."""
LETTERS_BELOW = 150
"""Of a line under the chart."""
MARK_POINTS, TUNED_MARK_POINTS, POINT_LABEL_POINTS = 5.5, 8.5, 8.5
MARK_INCHES = 0.06
NAMED_FROM_HZ = 0.05
"""A unison or an octave that stands still needs no name beside its point."""
THREAD_INCHES, SIDE_ROOM_INCHES = 0.16, 1.6
"""From the end of a line to its label; beyond the chart's right edge for the labels above it."""
SOURCES = (
    f"Lines: arithmetic of partials. Countable to about {FASTEST_COUNTED_HZ:g} a second: common practice. "
    f"Rough from {ROUGH_HZ:g}: Fastl & Zwicker, Psychoacoustics. Made by droner."
)


def title(rows: Sequence[DegreeBeats]) -> str:
    """What the chart is called."""
    return f"Beats against a drone on {rows[0].drone}"


def draw(figure: Figure, rows: Sequence[DegreeBeats], tuned: Tuning) -> None:
    """The chart of some notes against one drone, on an empty figure."""
    chart = chart_of(rows, tuned)
    axes = figure.add_axes(PLACE)
    axes.set_xlim(-MOST_CENTS, MOST_CENTS)
    axes.set_ylim(0, chart.top_hz)
    _bands(axes, chart.top_hz)
    for line in chart.lines:
        _arm(axes, line)
    _points(axes, chart)
    _names(axes, chart)
    _scales(axes, chart.top_hz)
    _words(figure, chart, rows, tuned)


def _bands(axes: Axes, top_hz: float) -> None:
    """Each band with its name outside, where no line can run through it."""
    axes.axhspan(0, FASTEST_COUNTED_HZ, color=COUNTABLE, linewidth=0, zorder=0)
    bands = [(0.0, FASTEST_COUNTED_HZ, "countable")]
    if top_hz > ROUGH_HZ:
        axes.axhspan(ROUGH_HZ, top_hz, facecolor=ROUGH, hatch="///", edgecolor=HATCH, linewidth=0, zorder=0)
        bands.append((ROUGH_HZ, top_hz, "rough"))
    for lower, upper, words in bands:
        axes.annotate(
            words, (0, (lower + upper) / 2), (-36, 0), xycoords=("axes fraction", "data"),
            textcoords="offset points", ha="center", va="center", rotation=90, style="italic", color=INK,
        )  # fmt: skip


def _arm(axes: Axes, line: Line) -> None:
    cents = range(-MOST_CENTS, MOST_CENTS + 1)
    (drawn,) = axes.plot(
        list(cents), [line.rate_hz(each) for each in cents],
        color=INK if line.clear else FAINT_INK, linewidth=1.5 if line.clear else 0.9,
        linestyle="-" if line.clear else (0, (4, 3)), zorder=2,
    )  # fmt: skip
    drawn.set_gid(f"partial {line.drone_partial}")


def _points(axes: Axes, chart: Chart) -> None:
    """The tuner's zero of every note, named; where the temperament puts it, behind."""
    marks = (
        ("tuned", chart.tuned, "D", TUNED_MARK_POINTS, "white"),
        ("equal", chart.equal, "o", MARK_POINTS, POINT_INK),
    )
    for name, points, mark, size, ground in marks:
        (drawn,) = axes.plot(
            [point.cents for point in points], [point.rate_hz for point in points], mark, markersize=size,
            markerfacecolor=ground, markeredgecolor=INK, markeredgewidth=0.8, zorder=5, clip_on=False,
        )  # fmt: skip
        drawn.set_gid(name)
    named = named_points(chart.equal)
    for point in named:
        if point.rate_hz > NAMED_FROM_HZ:
            _name_point(axes, point, [*named, *chart.tuned])


def _name_point(axes: Axes, point: Point, marks: Sequence[Point]) -> None:
    """The name on the outer side of its point; where another mark lies there, on the inner, else above."""
    from matplotlib.patheffects import withStroke  # noqa: PLC0415 - as matplotlib itself

    outer = 1 if point.cents > 0 else -1
    side = next((side for side in (outer, -outer) if _is_free(axes, point, side, marks)), 0)
    axes.annotate(
        point.note, (point.cents, point.rate_hz), (7 * side, -2 if side else 9), textcoords="offset points",
        ha={1: "left", 0: "center", -1: "right"}[side], va="center", color=INK, zorder=6,
        fontsize=POINT_LABEL_POINTS, path_effects=[withStroke(linewidth=2.5, foreground="white")],
    )  # fmt: skip


def _is_free(axes: Axes, point: Point, side: int, marks: Sequence[Point]) -> bool:
    """Whether no other mark lies where the name would stand, to the right (1) or the left (-1)."""
    wide, high = _inches(axes)
    room = len(point.note) * LETTER_INCHES + 2 * MARK_INCHES
    ways = [(side * (mark.cents - point.cents) * wide, (mark.rate_hz - point.rate_hz) * high) for mark in marks]
    return not any(MARK_INCHES < along < room and abs(up) < LINE_INCHES for along, up in ways)


def _inches(axes: Axes) -> tuple[float, float]:
    """A cent across and a beat a second upwards, on the paper."""
    return SIZE_INCHES[0] * PLACE[2] / (2 * MOST_CENTS), SIZE_INCHES[1] * PLACE[3] / axes.get_ylim()[1]


def _names(axes: Axes, chart: Chart) -> None:
    """Each line's name at its end, moved along the edge where others stand, with a thread to the line."""
    ends = {line: end_of(line, chart.top_hz) for line in chart.lines}
    at_side = [line for line in chart.lines if ends[line][1] < chart.top_hz]
    at_top = sorted((line for line in chart.lines if line not in at_side), key=lambda line: ends[line][0])
    wide, high = _inches(axes)
    heights = [(line.label.count("\n") + 1) * LINE_INCHES / high for line in at_side]
    for line, y in zip(at_side, spread([ends[line][1] for line in at_side], heights, 0, chart.top_hz), strict=True):
        _name(axes, line, ends[line], (MOST_CENTS + THREAD_INCHES / wide, y))
    widths = [(max(map(len, line.label.split("\n"))) + 1) * LETTER_INCHES / wide for line in at_top]
    farthest = MOST_CENTS + SIDE_ROOM_INCHES / wide
    for line, x in zip(at_top, spread([ends[line][0] for line in at_top], widths, -MOST_CENTS, farthest), strict=True):
        _name(axes, line, ends[line], (x, chart.top_hz + THREAD_INCHES / high))


def _name(axes: Axes, line: Line, end: tuple[float, float], place: tuple[float, float]) -> None:
    side = place[1] <= axes.get_ylim()[1]
    axes.annotate(
        line.label, end, place, annotation_clip=False,
        va="center" if side else "bottom", ha="left" if side else "center",
        color=INK if line.clear else FAINT_INK, fontsize=LABEL_POINTS,
        arrowprops={
            "arrowstyle": "-", "color": FAINT_INK, "linewidth": 0.6, "shrinkA": 1, "shrinkB": 0,
            "relpos": (0, 0.5) if side else (0.5, 0),
        },
    )  # fmt: skip


def _scales(axes: Axes, top_hz: float) -> None:
    axes.set_xticks(range(-MOST_CENTS, MOST_CENTS + 1, 5))
    axes.xaxis.set_major_formatter(lambda cents, _: f"{cents:+.0f}" if cents else "pure")
    axes.set_yticks(range(0, int(top_hz) + 1, 3 if top_hz > ROUGH_HZ else 2))  # both meet the edges of the bands
    axes.set_xlabel("\N{LEFTWARDS ARROW} flat        cents off the pure note        sharp \N{RIGHTWARDS ARROW}")
    axes.annotate("beats a second", (0, 1), (-36, 12), xycoords="axes fraction", textcoords="offset points", color=INK)
    for edge in ("top", "right"):
        axes.spines[edge].set_visible(False)


def _words(figure: Figure, chart: Chart, rows: Sequence[DegreeBeats], tuned: Tuning) -> None:
    left, top = PLACE[0], 0.95
    figure.text(left, top, title(rows), fontsize=16, fontweight="bold", color=INK)
    figure.text(left, top - 0.035, heading(rows[0].drone, tuned), fontsize=10.5, color=INK)
    marks = [("\N{BLACK CIRCLE}", POINT_INK, "where a tuner shows zero (equal temperament)")]
    if chart.tuned:
        marks.append(("\N{WHITE DIAMOND}", INK, f"where {tuned.temperament.name} puts the note"))
    for place, (mark, ink, words) in enumerate(marks):
        figure.text(left + 0.42 * place, top - 0.066, mark, fontsize=12, color=ink)
        figure.text(left + 0.42 * place + 0.02, top - 0.064, words, fontsize=LABEL_POINTS, color=INK)
    below = [line for words in _notes_below(chart) for line in wrap(words, LETTERS_BELOW)]
    for place, words in enumerate(below):
        figure.text(left, 0.075 - 0.022 * place, words, fontsize=8, color=INK)


def _notes_below(chart: Chart) -> list[str]:
    per_cent = f"{PER_CENT:.6f}"
    notes = [
        f"In brackets: the drone's partial that the note meets; its hertz x {per_cent} are the beats of each cent."
    ]
    if not all(line.clear for line in chart.lines):
        notes[0] += " Dashed: such high partials hardly sound."
    if chart.outside:
        rates = ", ".join(f"{point.note} {point.rate_hz:.1f} a second" for point in chart.outside)
        notes.append(f"A tuner's zero outside the chart: {rates}.")
    return [*notes, SOURCES]
