"""`droner new`: a starter session file, commented."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from droner.cli.options import USUAL_SESSION, completing, json_option, quiet_option, today
from droner.cli.screen import show, show_json, tell
from droner.cli.values import path

if TYPE_CHECKING:
    from pathlib import Path


@click.command("new", epilog="\b\nExamples:\n  droner new\n  droner new winter.toml\n  droner today winter.toml")
@click.argument("file", default=USUAL_SESSION, type=path, shell_complete=completing("files"))
@click.option("--force", is_flag=True, help="Replace a file that is there.")
@json_option
@quiet_option
def command(file: Path, *, force: bool, as_json: bool, quiet: bool) -> None:
    """Write a starter session file, with a comment beside every line. FILE: practice.toml when none is named.

    Its rotation begins today.
    """
    from droner.practice.reading.files import file_text, patterns_folder  # noqa: PLC0415 - help reads nothing
    from droner.practice.reading.session_table import FIRST_DAY  # noqa: PLC0415
    from droner.whole_file import whole_file  # noqa: PLC0415 - it loads no sound

    if file.is_file() and not force:
        raise click.UsageError(f"{file} is there already; --force replaces it.")
    text = file_text(patterns_folder() / "session" / USUAL_SESSION)
    text = text.replace(f"begins = {FIRST_DAY}", f"begins = {today()}")
    with whole_file(file) as opened:
        opened.write(text.encode())
    if as_json:
        show_json([{"path": str(file)}])
    else:
        show(str(file))
    named = "" if str(file) == USUAL_SESSION else f" {file}"
    tell(f"Change it as you like; then: droner check{named}, droner today{named}", quiet=quiet)
