"""Help is short, tells everything, and its examples run as they stand.

Referee  the program itself, running every line of every example in an empty folder; a fresh interpreter's list of
         loaded modules.
"""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import click
import pytest

from droner.cli.command_table import COMMANDS
from droner.cli.group import EXAMPLES
from tests.cli.programs import droner_in, surroundings

WIDEST = 100
"""Columns of a terminal that a page shall fit into."""
HEAVY = ("numpy", "soundfile", "mido", "droner.theory", "droner.practice", "droner.score", "droner.errors")
"""What help has no use for."""


def command_of(name: str) -> click.Command:
    command: click.Command = import_module(f"droner.cli.{name}_command").command
    return command


def example_lines(epilog: str) -> list[list[str]]:
    """The commands in an epilog, without their remarks, which stand behind two spaces and more."""
    lines = (line.strip() for line in epilog.splitlines())
    return [shlex.split(re.split(r" {2,}", line)[0]) for line in lines if line.startswith("droner ")]


@pytest.mark.parametrize("name", ["", *COMMANDS])
def test_every_line_of_every_example_runs_in_an_empty_folder(tmp_path: Path, name: str) -> None:
    lines = example_lines(command_of(name).epilog or "" if name else EXAMPLES)
    assert lines
    for line in lines:
        if name and line in example_lines(EXAMPLES):
            continue  # runs with those of the whole program, and a day's work is not done twice
        ran = droner_in(tmp_path, *line[1:])
        assert (line, ran.code) == (line, 0)
        assert ran.out
    assert any(name in line for line in lines) or not name


@pytest.mark.parametrize("name", ["", *COMMANDS])
def test_help_fits_a_terminal_and_stands_on_stdout(tmp_path: Path, name: str) -> None:
    told = droner_in(tmp_path, *([name] if name else []), "-h")
    assert (told.code, told.err) == (0, "")
    assert max(map(len, told.lines)) <= WIDEST
    assert "Example" in told.out


def test_the_name_alone_shows_the_help(tmp_path: Path) -> None:
    alone = droner_in(tmp_path)
    assert (alone.code, alone.err) == (0, "")
    assert alone.out == droner_in(tmp_path, "--help").out


def test_help_names_every_command_with_what_it_does(tmp_path: Path) -> None:
    told = droner_in(tmp_path, "--help").out
    for name, about in COMMANDS.items():
        assert re.search(rf"^  {name} +{re.escape(about)}$", told, re.MULTILINE)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_option_says_what_it_is_for(name: str) -> None:
    options = [each for each in command_of(name).params if isinstance(each, click.Option)]
    assert [option.name for option in options if not option.help] == []
    assert {"--json", "--quiet"} <= {text for option in options for text in option.opts}


def test_version_is_the_packages(tmp_path: Path) -> None:
    told = droner_in(tmp_path, "--version").out
    assert re.fullmatch(r"droner \d+\.\d+\.\d+\n", told)


@pytest.mark.parametrize("arguments", [["--help"], ["--version"], *([name, "--help"] for name in COMMANDS)])
def test_help_loads_nothing_but_click(arguments: list[str]) -> None:
    report = (
        "import sys\n"
        f"sys.argv = ['droner', *{arguments!r}]\n"
        "from droner.cli.main import main\n"
        "try:\n    main()\n"
        "except SystemExit:\n    pass\n"
        "print(*sys.modules, file=sys.stderr)\n"
    )
    ran = subprocess.run([sys.executable, "-c", report], env=surroundings(), capture_output=True, text=True, check=True)
    loaded = ran.stderr.split()
    assert "click" in loaded
    assert [name for name in loaded if name.startswith(HEAVY)] == []
