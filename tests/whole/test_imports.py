"""A command loads what it uses and no more: asked of a fresh interpreter each time.

Referee  `sys.modules` after the fact. Numbers are for sound, mido for MIDI, click for the commands.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

import droner

ROOT = Path(droner.__file__).parents[1]
HEAVY = frozenset({"numpy", "mido", "rtmidi", "soundfile", "click"})
LOADED = "import sys; print('loaded:', *sorted(sys.modules))"


def modules_of(floor: str) -> list[str]:
    folder = ROOT / "droner" / floor
    return [f"droner.{floor}.{file.stem}" for file in sorted(folder.glob("*.py")) if file.stem != "__init__"]


def loaded(program: str, folder: Path) -> set[str]:
    """What a fresh interpreter has loaded after a program, in an empty folder."""
    run = subprocess.run(
        [sys.executable, "-c", f"import sys; sys.path.insert(0, {str(ROOT)!r})\n{program}\n{LOADED}"],
        capture_output=True,
        text=True,
        check=True,
        cwd=folder,
    )
    return set(run.stdout.rpartition("loaded:")[2].split())


def command(*words: str) -> str:
    """A program that runs droner with these words and goes on."""
    return f"""
from droner.cli.main import main
sys.argv = ["droner", *{words!r}]
try:
    main()
except SystemExit as ended:
    assert not ended.code, ended.code
"""


def test_importing_droner_loads_nothing_heavy(tmp_path: Path) -> None:
    found = loaded("import droner", tmp_path)
    assert "droner" in found
    assert not HEAVY & found


@pytest.mark.parametrize("floor", ["theory", "practice", "score"])
def test_importing_a_whole_pure_floor_loads_nothing_heavy(floor: str, tmp_path: Path) -> None:
    wanted = modules_of(floor)
    found = loaded("\n".join(f"import {name}" for name in wanted), tmp_path)
    assert set(wanted) <= found
    assert not HEAVY & found


@pytest.mark.parametrize("words", [("--help",), ("--version",), ("today", "--help"), ("render", "--help")])
def test_help_loads_click_and_no_number_no_midi_no_sound(words: tuple[str, ...], tmp_path: Path) -> None:
    found = loaded(command(*words), tmp_path)
    assert "click" in found
    assert not (HEAVY - {"click"}) & found


@pytest.mark.parametrize(
    "words",
    [
        ("today",),
        ("today", "--json"),
        ("rotation",),
        ("beats", "D3"),
        ("patterns",),
        ("instruments",),
        ("new", "mine.toml"),
    ],
)
def test_a_command_that_makes_no_sound_loads_no_numbers_and_no_midi(words: tuple[str, ...], tmp_path: Path) -> None:
    found = loaded(command(*words), tmp_path)
    assert "droner.cli.main" in found
    assert not (HEAVY - {"click"}) & found


def test_a_midi_file_needs_mido_and_no_numbers(tmp_path: Path) -> None:
    found = loaded(command("click", "4/4", "--seconds", "4", "--out", "click.mid"), tmp_path)
    assert "mido" in found
    assert not {"numpy", "soundfile", "rtmidi"} & found
    assert (tmp_path / "click.mid").stat().st_size > 100


def test_a_sound_file_needs_numbers_and_no_mido(tmp_path: Path) -> None:
    found = loaded(command("drone", "D3", "--seconds", "1", "--out", "d.wav"), tmp_path)
    assert {"numpy", "soundfile"} <= found
    assert not {"mido", "rtmidi"} & found
    assert (tmp_path / "d.wav").stat().st_size > 10_000
