"""`droner check`: read session and pattern files, and report every mistake in one run."""

from __future__ import annotations

import json
from pathlib import Path

import click

from droner.cli.day import USUAL_SESSION
from droner.errors import Mistake, MistakesFound
from droner.practice.files import file_text, load_patterns, load_session, own_patterns_folder
from droner.practice.pattern import Patterns
from droner.practice.plan import Planner


@click.command("check", epilog="\b\nExamples:\n  droner check\n  droner check mine.toml patterns/*.toml")
@click.argument("files", nargs=-1, type=click.Path(path_type=Path))
@click.option("--schema", is_flag=True, help="Print the JSON Schema of session files, for editors.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
def command(files: tuple[Path, ...], *, schema: bool, as_json: bool) -> None:
    """Read session and pattern files and report every mistake. FILE: practice.toml by default."""
    if schema:
        from droner.practice.session_schema import session_schema  # noqa: PLC0415 - only editors need it

        click.echo(json.dumps(session_schema(load_patterns()), indent=2, ensure_ascii=False))
        return
    mistakes = [mistake for file in files or (USUAL_SESSION,) for mistake in _mistakes(file)]
    if as_json:
        click.echo(json.dumps([_data(mistake) for mistake in mistakes], indent=2, ensure_ascii=False))
        raise SystemExit(1 if mistakes else 0)
    if mistakes:
        raise MistakesFound(mistakes)
    for file in files or (USUAL_SESSION,):
        click.echo(f"{file}: no mistakes")


def _mistakes(file: Path) -> tuple[Mistake, ...]:
    try:
        if _holds_patterns(file):
            load_patterns(file.parent)
            return ()
        patterns: Patterns = load_patterns(own_patterns_folder(file))
        Planner(load_session(file, patterns), patterns)
    except MistakesFound as found:
        return found.mistakes
    return ()


def _holds_patterns(file: Path) -> bool:
    """Whether a file is one of a patterns folder: by where it lies, else by what it holds."""
    if file.parent.name == "patterns":
        return True
    text = file_text(file)
    return not any(
        line.lstrip().startswith(("[[block", "[rotation", "[tuning", "instrument")) for line in text.splitlines()
    ) and ("[drill" in text or "[rhythm" in text or "[changes" in text or "[click" in text or "[drone." in text)


def _data(mistake: Mistake) -> dict[str, str | int]:
    return {name: getattr(mistake, name) for name in ("file", "line", "key", "problem", "found", "allowed", "nearest")}
