"""Write a chart of beats as a picture, SVG or PNG."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from droner.cli.beats_drawing import SIZE_INCHES, draw, title
from droner.cli.picture import write_picture

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from droner.theory.beats import DegreeBeats
    from droner.theory.tuning import Tuning


def write_chart(path: Path, rows: Sequence[DegreeBeats], tuned: Tuning) -> dict[str, Any]:
    """Write the chart; give it as data. UsageError for a name of another form, MachineError without matplotlib."""
    return write_picture(path, title(rows), SIZE_INCHES, lambda figure: draw(figure, rows, tuned))
