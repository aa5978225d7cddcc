"""Write a picture, SVG or PNG, of what a function draws.

Rule    the same drawing gives the same file, byte for byte, with one version of matplotlib, whatever the player's own
        settings of it are. It is an extra: only a picture loads it, and says how to get it where it is missing.
"""

from __future__ import annotations

import io
import logging
from typing import TYPE_CHECKING, Any

from droner.cli.one_file import form_of
from droner.errors import MachineError
from droner.whole_file import whole_file

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from matplotlib.figure import Figure

FORMS = {".svg": "svg", ".png": "png"}
MISSING = "a chart needs matplotlib, which is not installed: pip install 'droner[charts]'"
PNG_DOTS_AN_INCH = 150
SETTINGS: dict[Any, dict[str, Any]] = {
    "font": {"family": "DejaVu Sans"},
    "svg": {"fonttype": "path", "hashsalt": "droner"},
    "path": {"simplify": False},
    "axes": {"linewidth": 0.8},
    "hatch": {"linewidth": 0.6},
}
"""DejaVu Sans travels with matplotlib; letters as outlines need no font where the picture is shown."""
METADATA: dict[str, dict[str, Any]] = {"svg": {"Date": None, "Creator": "droner"}, "png": {"Software": "droner"}}


def write_picture(
    path: Path, title: str, size_inches: tuple[float, float], draw: Callable[[Figure], None]
) -> dict[str, Any]:
    """Write the picture; give it as data. UsageError for a name of another form, MachineError without matplotlib."""
    form = form_of(path, FORMS)
    if not path.parent.is_dir():
        raise MachineError(f"cannot write {path}: there is no folder {path.parent}")
    drawn = picture(size_inches, draw, form)
    with whole_file(path) as file:
        file.write(drawn)
    return {"path": str(path), "form": form, "title": title}


def picture(size_inches: tuple[float, float], draw: Callable[[Figure], None], form: str) -> bytes:
    """The picture as the bytes of a file."""
    logging.getLogger("matplotlib").setLevel(logging.ERROR)  # it would tell of its font cache among our remarks
    try:
        import matplotlib as mpl  # noqa: PLC0415 - an extra, which only a picture needs
        from matplotlib.figure import Figure  # noqa: PLC0415
    except ImportError:
        raise MachineError(MISSING) from None
    out = io.BytesIO()
    with mpl.rc_context():
        mpl.rcdefaults()
        for group, wishes in SETTINGS.items():
            mpl.rc(group, **wishes)
        figure = Figure(figsize=size_inches, dpi=PNG_DOTS_AN_INCH)
        draw(figure)
        figure.savefig(out, format=form, metadata=METADATA[form])
    return out.getvalue()
