"""Bring the README's output up to date, or say where it is not.

Rule    `<!-- file: NAME -->` before a code block makes that file; `<!-- run: COMMAND -->` before one runs the
        command, in an empty folder with those files, and what it prints stands in the block; between
        `<!-- keys -->` and `<!-- end keys -->` stands the table of session keys.
Use     python tests/readme.py   rewrites README.md; the test compares.
"""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

import droner

README = Path(__file__).parent.parent / "README.md"
_FILE = re.compile(r"<!-- file: (?P<name>\S+) -->\n```\w*\n(?P<text>.*?)```", re.DOTALL)
_RUN = re.compile(r"(?P<head><!-- run: (?P<command>.+?) -->\n```console\n)(?P<body>.*?)(?P<tail>```)", re.DOTALL)
_KEYS = re.compile(r"(?P<head><!-- keys -->\n).*?(?P<tail><!-- end keys -->)", re.DOTALL)


def refreshed(text: str) -> str:
    """The README as it should be."""
    with tempfile.TemporaryDirectory() as folder:
        shutil.copytree(README.parent / "demo_sessions", Path(folder) / "demo_sessions")
        for found in _FILE.finditer(text):
            (Path(folder) / found["name"]).write_text(found["text"], encoding="utf-8")
        text = _RUN.sub(lambda found: f"{found['head']}{_ran(found['command'], folder)}{found['tail']}", text)
    return _KEYS.sub(lambda found: f"{found['head']}{_keys()}\n{found['tail']}", text)


def _ran(command: str, folder: str) -> str:
    program, *words = shlex.split(command)
    assert program == "droner"
    done = subprocess.run(
        [sys.executable, "-m", "droner", *words],
        cwd=folder,
        env={
            **os.environ,
            "COLUMNS": "100",
            "PYTHONPATH": str(Path(droner.__file__).parent.parent),
            "DRONER_LOGBOOK": str(Path(folder) / "droner.logbook"),
        },
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    return f"$ {command}\n{done.stdout}{done.stderr}"


def _keys() -> str:
    from droner.practice.reading.session_table import session_keys

    sections: dict[str, list[str]] = {}
    for section, field in session_keys():
        rows = sections.setdefault(section, ["| key | what it says | when it is not written |", "|---|---|---|"])
        rows.append(f"| `{field.key}` | {field.about} | {_without(field)} |")
    return (
        "\n".join("\n".join(("", f"**{_heading(section)}**", "", *rows)) for section, rows in sections.items()) + "\n"
    )


def _heading(section: str) -> str:
    if not section:
        return "At the top"
    return "`[[block]]`, one for each part of the day" if section == "block" else f"`[{section}]`"


def _without(field: object) -> str:
    if getattr(field, "needed", False):
        return "it must be there"
    otherwise, default = getattr(field, "otherwise", ""), getattr(field, "default", None)
    if otherwise:
        return str(otherwise)
    if default == {}:
        return "as its keys say"
    return {True: "true", False: "false"}.get(default, str(default)) if isinstance(default, bool) else str(default)


if __name__ == "__main__":
    README.write_text(refreshed(README.read_text(encoding="utf-8")), encoding="utf-8")
