"""`droner check` tells what a file is by its keys, and finds every mistake of all files in one run.

Referee  the files, written here by hand with known mistakes.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from droner.cli.checking import holds_patterns
from tests.cli.programs import DRONER, LONGEST_RUN_SECONDS, droner_in, surroundings

SESSION = '[[block]]\ndrill = "thirds"\n'
RHYTHM = '[rhythm."gallop"]\nabout = "Mine."\nlengths = "1/2 1/4 1/4"\n'
DRILL = '[drill."mine"]\nabout = "Mine."\nstaple = "scales"\nmaterial = "scale"\ncells = ["1 2"]\npath = "octave"\n'


@pytest.mark.parametrize(
    ("text", "patterns"),
    [
        (SESSION, False),
        ('title = "a [drill] and a [rhythm]"\n' + SESSION, False),
        ("block = [{ drill = 'thirds' }]\n", False),
        ("[[ block ]]\ndrill = 'thirds'\n", False),
        ('"instrument" = "flute"\n', False),
        ('  [ "tuning" ]\na4 = 442\n', False),
        ("rotation.keys_per_day = 2\n", False),
        ('[[blok]]\ndrill = "thirds"\n', False),
        ("# [drill]\ntitle = '''\n[rhythm]\n'''\n", False),
        (RHYTHM, True),
        (DRILL, True),
        ('[ drill . "mine" ]\nabout = "instrument"\n', True),
        ("drill.mine.about = 'Mine.'\n", True),
        ('rhythm = { gallop = { about = "Mine.", lengths = "1/2 1/2" } }\n', True),
        ("variant = [['even in four', 'all slurred', 'medium', 'no accent', 'every beat', 'from the top']]\n", True),
        ('[dril."mine"]\nabout = "[[block]]"\n', True),
        ("[variant_set.mine]\nabout = '''\n[[block]]\ninstrument = 1\n'''\n", True),
        ('[drill."mine"]\nabout = "broken\n', True),
        ("", False),
        ("nothing that is known\n", False),
    ],
)
def test_what_a_file_is_its_keys_say(tmp_path: Path, text: str, patterns: bool) -> None:  # noqa: FBT001 - a case
    file = tmp_path / "file.toml"
    file.write_text(text, encoding="utf-8")
    assert holds_patterns(file) is patterns


def test_where_keys_do_not_decide_the_folder_does(tmp_path: Path) -> None:
    (tmp_path / "patterns").mkdir()
    for folder, patterns in ((tmp_path, False), (tmp_path / "patterns", True)):
        (folder / "empty.toml").write_text("# nothing yet\n", encoding="utf-8")
        assert holds_patterns(folder / "empty.toml") is patterns
    (tmp_path / "patterns" / "day.toml").write_text(SESSION, encoding="utf-8")
    assert not holds_patterns(tmp_path / "patterns" / "day.toml")


def test_mistakes_of_session_and_patterns_come_in_one_run(tmp_path: Path) -> None:
    (tmp_path / "patterns").mkdir()
    (tmp_path / "patterns" / "mine.toml").write_text(DRILL.replace("octave", "octav"), encoding="utf-8")
    session = 'title = 3\n[[block]]\ndrill = "mine"\n[[block]]\ndrill = "nobody\'s"\n'
    (tmp_path / "practice.toml").write_text(session, encoding="utf-8")
    found = droner_in(tmp_path, "check", "--json")
    places = [(row["file"], row["line"], row["key"]) for row in found.data]
    assert found.code == 1
    assert places == [
        ("patterns/mine.toml", 6, "drill.mine.path"),
        ("practice.toml", 1, "title"),
        ("practice.toml", 5, "block[2].drill"),
    ]


def test_a_pattern_file_anywhere_is_read_alone(tmp_path: Path) -> None:
    (tmp_path / "mine.toml").write_text(RHYTHM, encoding="utf-8")
    (tmp_path / "day.toml").write_text(SESSION, encoding="utf-8")
    (tmp_path / "wrong.toml").write_text("[rhythm.wrong]\n", encoding="utf-8")
    assert droner_in(tmp_path, "check", "mine.toml", "day.toml").lines == [
        "mine.toml: no mistakes",
        "day.toml: no mistakes",
    ]


def test_pattern_files_may_name_rows_of_one_another(tmp_path: Path) -> None:
    (tmp_path / "one.toml").write_text(RHYTHM, encoding="utf-8")
    row = '["gallop", "all slurred", "medium", "no accent", "every beat", "from the low tonic"]'
    sets = "".join(f'[variant_set.{name}]\nabout = "All."\n' for name in ("sixty", "thirty", "twelve"))
    (tmp_path / "two.toml").write_text(f"variant = [{row}]\n{sets}", encoding="utf-8")
    assert droner_in(tmp_path, "check", "one.toml", "two.toml").code == 0
    alone = droner_in(tmp_path, "check", "two.toml", "--json").data
    assert [row["found"] for row in alone] == ['"gallop"']


def test_a_mistake_is_told_once_however_often_its_file_is_named(tmp_path: Path) -> None:
    (tmp_path / "mine.toml").write_text(RHYTHM.replace("lengths", "length"), encoding="utf-8")
    (tmp_path / "day.toml").write_text("title = 3\n" + SESSION, encoding="utf-8")
    once = droner_in(tmp_path, "check", "mine.toml", "day.toml").err.splitlines()
    twice = droner_in(tmp_path, "check", "mine.toml", "day.toml", "./mine.toml", "day.toml").err.splitlines()
    assert once[-1] == twice[-1]


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no /dev/stdin")
@pytest.mark.parametrize(
    ("text", "code", "told"),
    [
        (SESSION, 0, "/dev/stdin: no mistakes"),
        (RHYTHM, 0, "/dev/stdin: no mistakes"),
        ("title = 3\n" + SESSION, 1, "/dev/stdin:1: title: "),
        (RHYTHM.replace("lengths", "length"), 1, "/dev/stdin:3: rhythm.gallop.length: "),
    ],
)
def test_a_pipe_can_be_checked(tmp_path: Path, text: str, code: int, told: str) -> None:
    """What comes through a pipe comes once, though its keys are looked at before it is read as what they say."""
    done = subprocess.run(
        [*DRONER, "check", "/dev/stdin"],
        cwd=tmp_path,
        env=surroundings(),
        input=text,
        capture_output=True,
        text=True,
        timeout=LONGEST_RUN_SECONDS,
        check=False,
    )
    assert done.returncode == code
    assert told in done.stdout + done.stderr


def test_a_hidden_file_beside_patterns_is_passed_over(tmp_path: Path) -> None:
    """As an editor leaves one while a file is open."""
    (tmp_path / "patterns").mkdir()
    (tmp_path / "patterns" / "mine.toml").write_text(RHYTHM, encoding="utf-8")
    (tmp_path / "patterns" / ".#mine.toml").symlink_to("player@home.1234")
    assert droner_in(tmp_path, "check", "patterns/mine.toml").lines == ["patterns/mine.toml: no mistakes"]


def test_the_schema_is_one_by_its_own_rules(tmp_path: Path) -> None:
    schema = droner_in(tmp_path, "check", "--schema").data
    Draft202012Validator.check_schema(schema)
    judge = Draft202012Validator(schema)
    assert judge.is_valid({"block": [{"drill": "thirds"}]})
    assert not judge.is_valid({"blok": [{"drill": "thirds"}]})
