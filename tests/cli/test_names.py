"""Files and titles may be called anything: blanks, umlauts, emoji, other scripts, bytes that are no text.

Referee  the file system.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.programs import SHORT_SESSION, Ran, droner_in, files_in

LONGEST_FILE_NAME = 255
"""Bytes (Linux, NAME_MAX; NTFS and APFS allow as many signs)."""
NAMES = ("my winter session.toml", "Übung für die Flöte.toml", "朝の練習.toml", "🎵.toml", "-dash.toml", "it's.toml")


def drill_called(name: str) -> str:
    return (
        f'[drill."{name}"]\nabout = "Mine."\nstaple = "scales"\nmaterial = "scale"\ncells = ["1 2"]\npath = "octave"\n'
    )


@pytest.mark.parametrize("name", NAMES)
def test_a_session_of_any_name_is_read(tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_text(SHORT_SESSION.replace("Two thirds", "Été 🎵"), encoding="utf-8")
    plan = droner_in(tmp_path, "today", "--json", "--", name).data
    assert (plan["session"], plan["title"]) == (name, "Été 🎵")


@pytest.mark.parametrize("name", ["two words", "Übung 🎵", "練習", "a'b\"c"])
def test_a_folder_of_any_name_is_made(room: Path, name: str) -> None:
    made = droner_in(room, "render", "--as", "mid", "--out", name)
    assert {Path(line).name for line in made.lines} == files_in(room / name)


@pytest.mark.parametrize("title", ["練習", "Übung: 🎵 / \\\\ ?", "x" * 100])
def test_tracks_of_any_title_have_names_that_a_phone_takes(room: Path, title: str) -> None:
    (room / "practice.toml").write_text(SHORT_SESSION.replace("Two thirds", title), encoding="utf-8")
    made = droner_in(room, "render", "--as", "mid", "--long", "--out", "day")
    assert (made.code, len(made.lines)) == (0, 3)
    assert all(name.isascii() for name in files_in(room / "day"))


@pytest.mark.parametrize("name", ["гамма", "名" * 60, "long " * 11 + "name", "a/b: c?", "..", "con"])
def test_drills_of_any_name_make_tracks(room: Path, name: str) -> None:
    (room / "patterns").mkdir()
    (room / "patterns" / "mine.toml").write_text(drill_called(name), encoding="utf-8")
    (room / "practice.toml").write_text(SHORT_SESSION.replace("thirds", name), encoding="utf-8")
    made = droner_in(room, "render", "--as", "mid", "--out", "day")
    names = files_in(room / "day")
    assert (made.code, len(names)) == (0, 2)
    assert all(len(each.encode()) <= LONGEST_FILE_NAME and each.startswith(("01", "02")) for each in names)


def test_a_name_that_is_no_text_comes_back_as_it_went_in(tmp_path: Path) -> None:
    name = b"caf\xe9.mid".decode("utf-8", "surrogateescape")
    made: Ran = droner_in(tmp_path, "drone", "D3", "--out", name)
    assert (made.code, made.out) == (0, f"{name}\n")
    assert files_in(tmp_path) == {name}


@pytest.mark.parametrize("encoding", ["ascii", "cp1252"])
def test_a_terminal_of_another_encoding_is_no_failure(room: Path, encoding: str) -> None:
    (room / "practice.toml").write_text(SHORT_SESSION.replace("Two thirds", "Été 🎵"), encoding="utf-8")
    other = {"PYTHONIOENCODING": encoding, "PYTHONUTF8": "0"}
    assert droner_in(room, "today", environment=other).code == 0
    assert droner_in(room, "today", "--json", environment=other).data["title"] == "Été 🎵"
    assert droner_in(room, "today", "🎵.toml", environment=other).code == 1
