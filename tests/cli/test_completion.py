"""The Tab key completes commands, options and values.

Referee  bash itself, asked with the script that droner hands it; for the values, click's protocol: a line "type,value".
"""

from __future__ import annotations

import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.programs import DRONER, droner_in, surroundings
from tests.parts import need


def offered(folder: Path, line: str) -> list[str]:
    """What the program offers for a line that ends where the cursor stands."""
    words = line.split(" ")
    asked = {"_DRONER_COMPLETE": "bash_complete", "COMP_WORDS": line, "COMP_CWORD": str(len(words) - 1)}
    told = droner_in(folder, environment=asked)
    assert (told.code, told.err) == (0, "")
    return [row.split(",", 1)[1] if row.startswith("plain") else row for row in told.lines if row]


@pytest.mark.parametrize(
    ("line", "values"),
    [
        ("droner to", ["today"]),
        ("droner r", ["render", "rotation"]),
        ("droner tody --", ["--version", "--help"]),
        ("droner today --q", ["--quiet"]),
        ("droner patterns dr", ["drills", "drones"]),
        ("droner today --temperament we", ["werckmeister-3"]),
        ("droner drone D3 --temperament Ju", ["just"]),
        ("droner drone D3 --timbre p", ["pure"]),
        ("droner click 4/4 --pattern two-b", ["two-bars-on,-two-off"]),
        ("droner instruments alto-s", ["alto-saxophone"]),
        ("droner render --as fl", ["flac"]),
        ("droner render --as wav,fl", ["wav,flac"]),
        ("droner render --as mp3,m", ["mp3,mid"]),
        ("droner today mine", ["file,mine"]),
        ("droner check mine", ["file,mine"]),
        ("droner render --out d", ["dir,d"]),
    ],
)
def test_what_is_begun_is_completed(tmp_path: Path, line: str, values: list[str]) -> None:
    assert offered(tmp_path, line) == values


def test_a_click_of_ones_own_is_completed(tmp_path: Path) -> None:
    (tmp_path / "patterns").mkdir()
    own = tmp_path / "patterns" / "mine.toml"
    own.write_text('[click."my own"]\nabout = "Mine."\n', encoding="utf-8")
    assert offered(tmp_path, "droner click 4/4 --pattern my") == ["my-own"]
    own.write_text("[click", encoding="utf-8")
    assert offered(tmp_path, "droner click 4/4 --pattern my") == []


@pytest.mark.parametrize("name", ["werckmeister-3", "kirnberger-3", "young-1", "quarter-comma-meantone"])
def test_a_completed_name_is_understood(tmp_path: Path, name: str) -> None:
    assert droner_in(tmp_path, "beats", "D3", "--temperament", name).code == 0


def test_bash_completes_with_the_script_it_is_given(tmp_path: Path) -> None:
    bash = need("bash")
    program = tmp_path / "droner"
    program.write_text(f'#!/bin/sh\nexec {shlex.join(DRONER)} "$@"\n', encoding="utf-8")
    program.chmod(0o755)
    script = (
        'eval "$(_DRONER_COMPLETE=bash_source droner)"\n'
        "COMP_WORDS=(droner rot); COMP_CWORD=1\n"
        "$(complete -p droner | sed 's/.*-F \\([^ ]*\\).*/\\1/') droner rot droner\n"
        'echo "${COMPREPLY[@]}"'
    )
    surrounding = surroundings(PATH=f"{tmp_path}:/usr/bin:/bin")
    told = subprocess.run(
        [bash, "-c", script], cwd=tmp_path, env=surrounding, capture_output=True, text=True, check=True
    )
    assert told.stdout.split() == ["rotation"]


@pytest.mark.parametrize("line", ["droner ", "droner today --"])
def test_completing_commands_loads_no_drills(line: str) -> None:
    report = (
        "import sys\nfrom droner.cli.main import main\n"
        "try: main()\n"
        "except SystemExit: print(*sys.modules, file=sys.stderr)"
    )
    words = str(len(line.split(" ")) - 1)
    asked = surroundings(_DRONER_COMPLETE="bash_complete", COMP_WORDS=line, COMP_CWORD=words)
    told = subprocess.run([sys.executable, "-c", report], env=asked, capture_output=True, text=True, check=True)
    assert told.stdout
    assert [name for name in told.stderr.split() if name.startswith(("droner.practice", "numpy", "mido"))] == []
