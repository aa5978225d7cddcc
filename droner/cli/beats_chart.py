"""Write a chart of beats as a picture, SVG or PNG.

Rule    the same notes give the same file, byte for byte, with one version of matplotlib, whatever the player's own
        settings of it are. It is an extra: only this command loads it, and says how to get it where it is missing.
"""

from __future__ import annotations

import io
import logging
from typing import TYPE_CHECKING, Any

from droner.cli.beats_drawing import SIZE_INCHES, draw, title
from droner.cli.one_file import form_of
from droner.errors import MachineError
from droner.whole_file import whole_file

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from droner.theory.beats import DegreeBeats
    from droner.theory.tuning import Tuning

FORMS = {".svg": "svg", ".png": "png"}
MISSING = "a chart needs matplotlib, which is not installed: pip install 'droner[charts]'"
PNG_DOTS_AN_INCH = 150
SETTINGS: dict[Any, dict[str, Any]] = {
    "font": {"family": "DejaVu Sans"},
    "svg": {"fonttype": "path", "hashsalt": "droner beats"},
    "path": {"simplify": False},
    "axes": {"linewidth": 0.8},
    "hatch": {"linewidth": 0.6},
}
"""DejaVu Sans travels with matplotlib; letters as outlines need no font where the chart is shown."""
METADATA: dict[str, dict[str, Any]] = {"svg": {"Date": None, "Creator": "droner"}, "png": {"Software": "droner"}}


def write_chart(path: Path, rows: Sequence[DegreeBeats], tuned: Tuning) -> dict[str, Any]:
    """Write the chart; give it as data. UsageError for a name of another form, MachineError without matplotlib."""
    form = form_of(path, FORMS)
    if not path.parent.is_dir():
        raise MachineError(f"cannot write {path}: there is no folder {path.parent}")
    drawn = picture(rows, tuned, form)
    with whole_file(path) as file:
        file.write(drawn)
    return {"path": str(path), "form": form, "title": title(rows)}


def picture(rows: Sequence[DegreeBeats], tuned: Tuning, form: str) -> bytes:
    """The chart as the bytes of a file."""
    logging.getLogger("matplotlib").setLevel(logging.ERROR)  # it would tell of its font cache among our remarks
    try:
        import matplotlib as mpl  # noqa: PLC0415 - an extra, which only a chart needs
        from matplotlib.figure import Figure  # noqa: PLC0415
    except ImportError:
        raise MachineError(MISSING) from None
    out = io.BytesIO()
    with mpl.rc_context():
        mpl.rcdefaults()
        for group, wishes in SETTINGS.items():
            mpl.rc(group, **wishes)
        figure = Figure(figsize=SIZE_INCHES, dpi=PNG_DOTS_AN_INCH)
        draw(figure, rows, tuned)
        figure.savefig(out, format=form, metadata=METADATA[form])
    return out.getvalue()
