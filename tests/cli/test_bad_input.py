"""What is wrong on the command line or in a file is said in one plain message, and nothing is left behind.

Referee  the exit codes of the manual (1 the player's files, 2 usage, 3 the machine); the folder before and after.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.cli.programs import Ran, droner_in, files_in

LONG = "a" * 300
"""Longer than any usual file system lets a name be (255 bytes; Linux, NAME_MAX)."""

USAGE = (
    (["tody"], "Did you mean today?"),
    (["xyz"], "There are: new, check, today"),
    (["today", "--jsno"], "--jsno"),
    (["rotation", "one.toml", "two.toml"], "two.toml"),
    (["today", "--date", "25.11.2026"], "is not a date such as 2026-11-25"),
    (["today", "--date", "2026-02-30"], "there is no day 2026-02-30"),
    (["today", "--date", "2026-W48-3"], "is not a date"),
    (["today", "--date"], "requires an argument"),
    (["today", "--a4", "1000"], "outside 380 to 480"),
    (["today", "--a4", "379.99"], "outside 380 to 480"),
    (["today", "--a4", "442,5"], "is not a number such as 380"),
    (["today", "--a4", "nan"], "is not a number"),
    (["today", "--a4", "inf"], "is not a number"),
    (["today", "--a4", "1e999999999"], "is not a number"),
    (["today", "--minutes", "4"], "outside 5 to 240"),
    (["today", "--minutes", "1/0"], "is not a number"),
    (["today", "--place", "-1"], "outside 0 to"),
    (["today", "--place", "9" * 5000], "is not a whole number"),
    (["today", "--seed", "1.5"], "is not a whole number"),
    (["today", "--temperament", "jsut"], "Did you mean just?"),
    (["today", "--temperament", "werckmiester-3"], "Did you mean werckmeister 3?"),
    (["today", "--temperament", "zzz"], "There are: just; equal"),
    (["today", ""], "the name is empty"),
    (["rotation", "--days", "0"], "outside 1 to"),
    (["beats"], "Missing argument"),
    (["beats", "H3"], "is not a pitch with its octave"),
    (["beats", "D"], "is not a pitch with its octave"),
    (["beats", "D3", "F#"], "is not a pitch with its octave"),
    (["drone"], "Name a PITCH"),
    (["drone", "D99"], "is not a pitch"),
    (["drone", "C-1"], "is not a pitch of a wind instrument"),
    (["drone", "D3", "A3", "D4", "F#4", "A4", "D5", "A5"], "at most 6 tones, not 7"),
    (["drone", "D3", "--seconds", "0"], "outside 1 to 7200"),
    (["drone", "D3", "--timbre", "brite"], "'bright', 'medium', 'pure'"),
    (["drone", "D3", "--out", "d"], "end the name with one of .wav"),
    (["drone", "D3", "--out", "d.wave"], "Did you mean d.wav?"),
    (["drone", "D3", "--out", "d.m4a"], "end the name with one of"),
    (["drone", "D3", "--out", ""], "the name is empty"),
    (["click"], "Missing argument"),
    (["click", "4"], "is not a meter such as 4/4"),
    (["click", "4/5"], "counts notes of 1/1"),
    (["click", "99/4"], "1 to 64"),
    (["click", "4/4", "--tempo", "0"], "outside 20 to 400"),
    (["click", "4/32", "--tempo", "20"], "too slow for 4/32"),
    (["click", "4/4", "--pattern", "evry beat"], "Did you mean every beat?"),
    (["patterns", "dril"], "Did you mean drills?"),
    (["instruments", "flut"], "Did you mean flute?"),
    (["instruments", "kazoo"], "There are: flute"),
    (["render", "--as", "mp4"], "did you mean mp3?"),
    (["render", "--as", ","], "name at least one of wav"),
    (["render", "--as", "wav,wav24"], "choose one"),
    (["render", "--only", "0"], "from 1 on"),
    (["render", "--only", "5-2"], "lower number first"),
    (["render", "--only", "1-99999999999"], "is not an item number"),
    (["render", "--only", "²"], "is not an item number"),
    (["render", "--only", ","], "is not an item number"),
    (["render", "--only", "1,99", "--quiet"], "items 1 to 2; there is no item 99"),
    (["today", "--ledger", "0", "--quiet"], "outside 1 to"),
    (["today", "--ledger", "3", "--quiet"], "items 1 to 2; there is no item 3"),
    (["today", "--ledger", "two"], "is not a whole number"),
    (["new", "taken.toml"], "is there already"),
    (["check", "--scheme"], "--scheme"),
)

MISTAKES = (
    (["today", "none.toml"], "there is no such file"),
    (["today", "practise.toml"], "did you mean: practice.toml?"),
    (["render", "none/none.toml", "--out", "day"], "there is no such file"),
    (["today", "taken.toml/inside.toml"], "there is no such file"),
    (["rotation", "folder"], "this is a folder"),
    (["render", "latin.toml", "--out", "day"], "latin.toml:1: this line is not saved as UTF-8"),
    (["today", "utf16.toml"], "saved as UTF-16"),
    (["today", "zero.toml"], "zero byte"),
    (["today", "empty.toml"], "'block' is missing"),
    (["render", "huge.toml", "--out", "day"], "minutes: this is too large"),
    (["today", "large.toml"], "this file is too large"),
    (["render", "unknown.toml", "--out", "day"], "did you mean: instrument"),
    (["rotation", "broken.toml"], "broken.toml:2"),
    (["today", "slow.toml"], "slow.toml:4: block[1].speeds: this is too slow to be written in a MIDI file"),
    (["render", "low.toml", "--out", "day"], "low.toml:1: range[1]: no flute reaches so far"),
    (["check", "unknown.toml", "huge.toml", "empty.toml"], "3 mistakes"),
    (["check", "none.toml", "--quiet"], "1 mistake"),
)

MACHINE = (
    (["render", "--out", "taken.toml"], "there is a file of that name"),
    (["render", "--out", "taken.toml/day"], "not a directory"),
    (["render", "--out", LONG], "name too long"),
    (["render", "--out", "/dev/null/day"], "not a directory"),
    (["drone", "D3", "--out", "none/d.wav"], "there is no folder none"),
    (["drone", "D3", "--out", f"{LONG}.wav"], "name too long"),
    (["drone", "D3", "--out", "folder.wav"], "there is a folder of that name"),
    (["click", "4/4", "--out", "none/c.mid"], "there is no folder none"),
    (["new", "none/mine.toml"], "no such file or directory"),
    (["new", "folder"], "there is a folder of that name"),
    (["new", f"{LONG}.toml"], "name too long"),
)


@pytest.fixture
def full_room(room: Path) -> Path:
    """A folder with files that are wrong in every way."""
    block = '[[block]]\ndrill = "thirds"\n'
    (room / "folder").mkdir()
    (room / "folder.wav").mkdir()
    for name, text in (
        ("taken.toml", "mine"),
        ("empty.toml", ""),
        ("huge.toml", f"minutes = 1e400\n{block}"),
        ("unknown.toml", f'instrumnet = "flute"\n{block}'),
        ("slow.toml", '[[block]]\ndrill = "fourths"\ntempo = 20\nspeeds = [10, 100]\nmeter = "4/2"\n'),
        ("low.toml", f'range = ["A3", "C7"]\n{block}'),
        ("broken.toml", f'title = "a"\n"b" = = 2\n{block}'),
    ):
        (room / name).write_text(text, encoding="utf-8")
    (room / "latin.toml").write_bytes(b'title = "\xe9tude"\n')
    (room / "utf16.toml").write_bytes('title = "a"'.encode("utf-16"))
    (room / "zero.toml").write_bytes(b'title = "a\0"')
    (room / "large.toml").write_bytes(b"#" * 2_000_000)
    return room


def refused(folder: Path, arguments: list[str]) -> Ran:
    """The run, which must leave the folder as it was and show neither data nor traceback."""
    before = files_in(folder)
    ran = droner_in(folder, *arguments)
    assert files_in(folder) == before
    assert ran.out == ""
    assert "Traceback" not in ran.err
    return ran


@pytest.mark.parametrize(("arguments", "words"), USAGE)
def test_wrong_usage_is_one_line_and_where_help_is(full_room: Path, arguments: list[str], words: str) -> None:
    ran = refused(full_room, arguments)
    message, hint = ran.err.splitlines()
    assert ran.code == 2
    assert words in message
    assert re.fullmatch(r"Help: droner( [a-z]+)? --help", hint)


@pytest.mark.parametrize(("arguments", "words"), MISTAKES)
def test_a_mistake_in_a_file_is_named_with_its_place(full_room: Path, arguments: list[str], words: str) -> None:
    ran = refused(full_room, arguments)
    assert ran.code == 1
    assert words in ran.err
    assert re.search(r"^[\w./]+\.toml(:\d+)?: |^folder: ", ran.err)
    assert re.search(r"^\d+ mistakes?(;|$)", ran.err.splitlines()[-1])


@pytest.mark.parametrize(("arguments", "words"), MACHINE)
def test_what_the_machine_refuses_is_one_line(full_room: Path, arguments: list[str], words: str) -> None:
    ran = refused(full_room, arguments)
    (message,) = ran.err.splitlines()
    assert ran.code == 3
    assert words in message


def test_mistakes_come_as_data_too(full_room: Path) -> None:
    ran = droner_in(full_room, "check", "unknown.toml", "huge.toml", "--json")
    first, second = ran.data
    assert (ran.code, ran.err) == (1, "")
    assert (first["file"], first["line"], first["key"], first["nearest"]) == (
        "unknown.toml",
        1,
        "instrumnet",
        "instrument",
    )
    assert (second["file"], second["line"], second["key"]) == ("huge.toml", 1, "minutes")
