"""Write the map of a cycle as a picture."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from droner.cli.picture import write_picture
from droner.cli.rotation_drawing import draw, size_inches, title

if TYPE_CHECKING:
    from pathlib import Path

    from droner.cli.day import Day
    from droner.cli.rotation_played import Played


def write_map(path: Path, day: Day, played: Played) -> dict[str, Any]:
    """Write the chart; give it as data."""
    heading = (
        f"{day.session.title}, {day.session.instrument.name}; {played.coverage.played} of {played.turns} turns "
        f"played by {day.plan.day.isoformat()}"
    )
    return write_picture(path, title(played), size_inches(played.coverage), lambda paper: draw(paper, played, heading))
