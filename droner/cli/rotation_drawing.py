"""Draw the map of a cycle as a chart: keys downwards, variants across, a square for each turn.

Rule    one dark ink and a pale one, told apart by shape too: full, half, a cross, empty; so that grey print and every
        eye can read it. Beside each key stands how many of its turns are played.
Units   inches and points on the paper.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.cli.rotation_map import legend_words
from droner.practice.coverage import State

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from droner.cli.rotation_played import Played
    from droner.practice.coverage import Coverage

INK, FAINT_INK, PALE, PAPER, GRID = "#12324f", "#767676", "#c9dcec", "#ffffff", "#d4d4d4"
TEXT = "#1a1a1a"
CELL_INCHES, MOST_ACROSS_INCHES = 0.165, 60.0
LEFT_INCHES, RIGHT_INCHES, TOP_INCHES, SCALE_INCHES = 1.15, 0.75, 1.05, 0.65
NARROWEST_INCHES = 7.5
"""What title and legend need across."""
MARGIN = 0.08
"""Of a cell on each side, so that neighbours stay apart."""
LABEL_POINTS = 8.5
LEGEND_INCHES, LEGEND_LINE_INCHES, LEGEND_SQUARE_INCHES, LETTER_INCHES = 0.2, 0.26, 0.5, 0.078
"""Of the legend: what is free below it, a line of it, a square with the space around it, a letter."""
Corners = list[tuple[float, float]]


def title(played: Played) -> str:
    """What the chart is called."""
    return f"Every key in every variant: cycle {played.coverage.cycle + 1} of the rotation"


def size_inches(covered: Coverage) -> tuple[float, float]:
    """The paper that the map needs."""
    return _across_inches(covered), TOP_INCHES + covered.asked.walk.keys * _cell_inches(covered) + _below_inches(
        covered
    )


def _across_inches(covered: Coverage) -> float:
    across = LEFT_INCHES + covered.asked.walk.variants * _cell_inches(covered) + RIGHT_INCHES
    return max(across, NARROWEST_INCHES)


def _below_inches(covered: Coverage) -> float:
    rows = 1 + max(row for _, row in _legend_places(covered).values())
    return SCALE_INCHES + rows * LEGEND_LINE_INCHES + LEGEND_INCHES


def _cell_inches(covered: Coverage) -> float:
    return min(CELL_INCHES, MOST_ACROSS_INCHES / covered.asked.walk.variants)


def draw(figure: Figure, played: Played, heading: str) -> None:
    """The map on an empty figure; `heading` stands under the title."""
    covered = played.coverage
    axes = _axes(figure, covered)
    for state in State:
        places = [(turn.variant, turn.key) for turn in covered.turns if turn.state is state]
        _squares(axes, state, places, state.value)
    _scales(axes, covered)
    _legend(figure, covered)
    wide, high = size_inches(covered)
    left = LEFT_INCHES / wide
    figure.text(left, 1 - 0.38 / high, title(played), fontsize=13.5, fontweight="bold", color=TEXT)
    figure.text(left, 1 - 0.64 / high, heading, fontsize=9.5, color=TEXT)


def _axes(figure: Figure, covered: Coverage) -> Axes:
    wide, high = size_inches(covered)
    cell, walk = _cell_inches(covered), covered.asked.walk
    axes = figure.add_axes(
        (LEFT_INCHES / wide, _below_inches(covered) / high, walk.variants * cell / wide, walk.keys * cell / high)
    )
    axes.set_xlim(0, walk.variants)
    axes.set_ylim(walk.keys, 0)
    return axes


def _squares(axes: Axes, state: State, places: Sequence[tuple[float, float]], name: str = "") -> None:
    """The squares of one state, each a shape; `name` is what they are called in an SVG file."""
    from matplotlib.collections import PolyCollection  # noqa: PLC0415 - an extra, which only a picture needs

    ground = {State.BY_ALL: INK, State.BY_SOME: PALE}.get(state, PAPER)
    edge = INK if state in {State.BY_ALL, State.BY_SOME} else GRID
    squares = PolyCollection(
        [_square(*place) for place in places], facecolors=ground, edgecolors=edge, linewidths=0.5, gid=name or None
    )
    axes.add_collection(squares)
    if state is State.BY_SOME:
        halves = [_square(*place)[:3] for place in places]
        axes.add_collection(PolyCollection(halves, facecolors=INK, edgecolors="none"))
    if state is State.PASSED and places:
        across, down = zip(*places, strict=True)
        axes.plot(
            [x + 0.5 for x in across], [y + 0.5 for y in down], "x", color=FAINT_INK, markersize=4, markeredgewidth=0.9
        )


def _square(x: float, y: float) -> Corners:
    """The corners, from the upper left down and round: the first three are the lower left half."""
    near, far = MARGIN, 1 - MARGIN
    return [(x + near, y + near), (x + near, y + far), (x + far, y + far), (x + far, y + near)]


def _scales(axes: Axes, covered: Coverage) -> None:
    asked = covered.asked
    tens = sorted({0, *range(9, len(asked.variants), 10)})
    axes.set_xticks([tenth + 0.5 for tenth in tens], [str(asked.variants[tenth] or "") for tenth in tens])
    axes.set_yticks([key + 0.5 for key in range(len(asked.keys))], asked.keys)
    axes.set_xlabel(
        "variant, by its number in the table" if asked.variants[0] else "plain",
        loc="left",
        fontsize=LABEL_POINTS + 1,
        color=TEXT,
    )
    axes.set_ylabel("key", fontsize=LABEL_POINTS + 1, color=TEXT)
    axes.tick_params(length=0, labelsize=LABEL_POINTS, labelcolor=TEXT)
    for spine in axes.spines.values():
        spine.set_visible(False)
    axes.annotate(
        "played",
        (1, 1),
        (6, 4),
        xycoords="axes fraction",
        textcoords="offset points",
        fontsize=LABEL_POINTS,
        color=TEXT,
    )
    for key, row in enumerate(covered.rows):
        played = sum(turn.is_played for turn in row)
        axes.annotate(
            str(played), (len(asked.variants), key + 0.5), (26, 0), textcoords="offset points",
            fontsize=LABEL_POINTS, ha="right", va="center", color=TEXT, annotation_clip=False,
        )  # fmt: skip


def _legend(figure: Figure, covered: Coverage) -> None:
    """A square of each kind with its words, under the map."""
    wide, high = size_inches(covered)
    cell, places = _cell_inches(covered), _legend_places(covered)
    rows = 1 + max(row for _, row in places.values())
    legend = figure.add_axes(
        (LEFT_INCHES / wide, LEGEND_INCHES / high, (wide - LEFT_INCHES) / wide, rows * LEGEND_LINE_INCHES / high)
    )
    legend.set_xlim(0, (wide - LEFT_INCHES) / cell)
    legend.set_ylim(rows * LEGEND_LINE_INCHES / cell, 0)
    legend.set_axis_off()
    for state, (across_inches, row) in places.items():
        x, y = across_inches / cell, row * LEGEND_LINE_INCHES / cell
        _squares(legend, state, [(x, y)])
        said = legend_words(covered)[state]
        legend.text(x + 1.5, y + 0.5, said, fontsize=LABEL_POINTS + 0.5, va="center", color=TEXT)


def _legend_places(covered: Coverage) -> dict[State, tuple[float, int]]:
    """Where each square of the legend stands: how far across, and in which line. What has no room goes on below."""
    room = _across_inches(covered) - LEFT_INCHES
    places, across, row = {}, 0.0, 0
    for state, said in legend_words(covered).items():
        needed = LEGEND_SQUARE_INCHES + len(said) * LETTER_INCHES
        if across and across + needed > room:
            across, row = 0.0, row + 1
        places[state] = (across, row)
        across += needed
    return places
