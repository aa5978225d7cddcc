"""`droner check`: read session and pattern files, and report every mistake in one run."""

from __future__ import annotations

from os.path import lexists
from typing import TYPE_CHECKING, Any

import click

from droner.cli.options import USUAL_SESSION, completing, json_option, quiet_option
from droner.cli.screen import show, show_json, tell
from droner.cli.values import path

if TYPE_CHECKING:
    from pathlib import Path

    from droner.errors import Mistake

BUILT_IN = "the built-in session"
FIELDS = ("file", "line", "key", "problem", "found", "allowed", "nearest")


@click.command(
    "check",
    epilog="""\b
Examples:
  droner check                    practice.toml here
  droner new winter.toml
  droner check winter.toml        any other session or pattern file
  droner check .                  every session file in this folder
  droner check --schema           what may stand in a session, for an editor
""",
)
@click.argument("files", nargs=-1, type=path, metavar="[FILE]...", shell_complete=completing("files"))
@click.option("--schema", is_flag=True, help="Print the JSON Schema of session files, for editors.")
@json_option
@quiet_option
def command(files: tuple[Path, ...], *, schema: bool, as_json: bool, quiet: bool) -> None:
    """Read session and pattern files and report every mistake.

    FILE is practice.toml when none is named; a folder stands for every session file in it. A file with [[block]] is
    a session, one with tables such as [drill] or [rhythm] holds patterns.
    """
    if schema:
        show_json(_schema())
        return
    usual = path(USUAL_SESSION)
    asked = files or ((usual,) if lexists(usual) else ())
    if not asked:
        tell(f"There is no {USUAL_SESSION} here: the built-in session was read.", quiet=quiet)
    from droner.cli.checking import mistakes_in  # noqa: PLC0415 - help reads nothing
    from droner.cli.endings import MistakesToTell  # noqa: PLC0415
    from droner.cli.studio import sessions_of  # noqa: PLC0415

    asked = tuple(sessions_of(asked)) if any(file.is_dir() for file in asked) else asked
    mistakes = mistakes_in(asked)
    if as_json:
        show_json([_data(mistake) for mistake in mistakes])
        raise SystemExit(1 if mistakes else 0)
    if mistakes:
        raise MistakesToTell(mistakes)
    show("\n".join(f"{file}: no mistakes" for file in asked or (BUILT_IN,)))


def _schema() -> Any:
    from droner.practice.reading.files import load_patterns  # noqa: PLC0415 - only editors need it
    from droner.practice.reading.session_schema import session_schema  # noqa: PLC0415

    return session_schema(load_patterns())


def _data(mistake: Mistake) -> dict[str, str | int]:
    return {name: getattr(mistake, name) for name in FIELDS}
