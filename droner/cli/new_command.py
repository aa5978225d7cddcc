"""`droner new`: a starter session file, commented."""

from __future__ import annotations

from pathlib import Path

import click

from droner.cli.day import USUAL_SESSION
from droner.errors import MachineError


@click.command("new", epilog="\b\nExample:\n  droner new\n  droner today")
@click.argument("file", default=USUAL_SESSION, type=click.Path(path_type=Path))
@click.option("--force", is_flag=True, help="Replace a file that is there.")
def command(file: Path, *, force: bool) -> None:
    """Write a starter session file, with a comment beside every line. FILE: practice.toml by default."""
    from droner.practice.files import patterns_folder  # noqa: PLC0415 - the reader loads only when it is used

    text = (patterns_folder() / "session" / "practice.toml").read_text(encoding="utf-8")
    try:
        with file.open("w" if force else "x", encoding="utf-8") as opened:
            opened.write(text)
    except FileExistsError:
        raise click.UsageError(f"{file} is there already; --force replaces it") from None
    except OSError as refused:
        raise MachineError(f"cannot write {file}: {refused.strerror or refused}") from refused
    click.echo(str(file))
