"""Write one score to one file, in the form that its name ends with."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from droner.cli.form_table import FORM_OF_SUFFIX
from droner.cli.jobs import job_of
from droner.cli.screen import show, show_json
from droner.cli.tracks import safe_name
from droner.cli.writing import stoppable, write_all
from droner.errors import MachineError, nearest

if TYPE_CHECKING:
    from collections.abc import Mapping

    from droner.score.score import Score

USUAL_FORM = ".wav"


def form_of(path: Path, forms: Mapping[str, str] = FORM_OF_SUFFIX) -> str:
    """The form a file name asks for by its ending. UsageError for one that we cannot write."""
    suffix = path.suffix.lower()
    if suffix not in forms:
        close = nearest(suffix, forms)
        hint = f" Did you mean {path.stem}{close}?" if close else ""
        *others, last = forms
        raise click.UsageError(f"{path}: end the name with one of {', '.join(others)} or {last}.{hint}")
    return forms[suffix]


def write_one(asked: Path | None, score: Score, timbre: str, *, as_json: bool, quiet: bool) -> None:
    """The score as a file, then its name; MachineError where the machine will not have it."""
    from droner.sound.mix import Mix  # noqa: PLC0415 - help makes nothing
    from droner.sound.tags import Tags  # noqa: PLC0415

    path = asked or Path(safe_name(score.title) + USUAL_FORM)
    form = form_of(path)
    if not path.parent.is_dir():
        raise MachineError(f"cannot write {path}: there is no folder {path.parent}")
    mix, tags = Mix(timbre=timbre), Tags(title=score.title, artist="droner")
    with stoppable():
        write_all([job_of(path, form, score, score, mix, tags)], quiet=quiet)
    if as_json:
        show_json([{"path": str(path), "form": form, "title": score.title, "seconds": float(score.duration)}])
    else:
        show(str(path))
