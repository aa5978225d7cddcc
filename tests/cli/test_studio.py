"""Many sessions at once: each comes out as it would alone, whatever the cores.

Referee a session worked on alone by the same program; sums are added up here. The players are invented.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.cli.programs import droner_in, files_in

DATE = "--date=2026-01-05"
PLAYERS = {
    "lena": 'title = "Lena"\nlogbook = "beside the session"\n[rotation]\nkeys_per_day = 2\n'
    '[[block]]\ndrill = "thirds"\nladder = { from = 60, to = 120 }\n',
    "omar": 'title = "Omar"\nlogbook = "beside the session"\ninstrument = "clarinet"\n[rotation]\nkeys_per_day = 1\n'
    '[[block]]\ndrill = "thirds"\n',
    "ruth": 'title = "Ruth"\nlogbook = "beside the session"\nminutes = 10\n[rotation]\nkeys_per_day = 2\n'
    'moves = "when done"\n[[block]]\ndrill = "octave scale"\n',
}
"""Invented."""


@pytest.fixture
def house(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a folder of sessions in it."""
    monkeypatch.delenv("DRONER_LOGBOOK")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    (tmp_path / "studio").mkdir()
    for name, text in PLAYERS.items():
        (tmp_path / "studio" / f"{name}.toml").write_text(text, encoding="utf-8")
    return tmp_path


def test_each_plan_is_what_it_would_be_alone(house: Path) -> None:
    together = droner_in(house, "today", "studio", DATE, "--json")
    assert together.err == ""
    alone = [droner_in(house, "today", f"studio/{name}.toml", DATE, "--json").data for name in sorted(PLAYERS)]
    assert together.data == alone


def test_the_pages_end_in_a_sum(house: Path) -> None:
    told = droner_in(house, "today", "studio", DATE)
    plans = droner_in(house, "today", "studio", DATE, "--json").data
    assert [line.split()[0] for line in told.lines[-5:-1]] == ["session", *sorted(PLAYERS)]
    minutes, seconds = divmod(round(sum(plan["seconds"] for plan in plans)), 60)
    assert told.lines[-1] == f"3 sessions, {minutes}:{seconds:02} in all"
    assert all(f"{plan['title']}: Monday 5 January 2026" in told.out for plan in plans)


def test_what_one_player_wrote_down_is_nobody_else_s(house: Path) -> None:
    assert droner_in(house, "log", "studio/ruth.toml", "1-2", "1/1", DATE).code == 0
    assert sorted(path.name for path in house.rglob("*.logbook")) == ["ruth.logbook"]
    lena, omar, ruth = droner_in(house, "today", "studio", "--date=2026-01-06", "--json").data
    assert ruth["rotation"]["place"] == 2
    assert (lena["rotation"]["place"], omar["rotation"]["place"]) == (10, 5)  # by the calendar since 1 January


def test_a_slip_of_one_player_keeps_nobody_else_waiting(house: Path) -> None:
    for name in ("omar", "ruth"):
        (house / "studio" / f"{name}.toml").write_text(f"{PLAYERS[name]}tempoo = 60\n", encoding="utf-8")
    alone = droner_in(house, "today", "studio/lena.toml", DATE, "--json").data
    told = droner_in(house, "today", "studio", DATE, "--json")
    assert (told.code, told.data) == (1, [alone])
    for command in (["today", "studio"], ["render", "studio", "--out", "tracks", "--as", "mid"]):
        told = droner_in(house, *command, DATE)
        assert told.code == 1
        assert "omar.toml" in told.err
        assert "ruth.toml" in told.err
        assert told.err.rstrip().endswith("2 mistakes; left out: omar, ruth")
    assert [path.name for path in (house / "tracks").iterdir()] == ["lena"]
    assert "omar: 1 mistake, left out\nruth: 1 mistake, left out\n" in told.err


def test_who_was_left_out_stands_in_the_closing_table(house: Path) -> None:
    (house / "studio" / "omar.toml").write_text(f"{PLAYERS['omar']}tempoo = 60\nkeyss = 1\n", encoding="utf-8")
    days = droner_in(house, "today", "studio", DATE).lines
    assert [line.split()[0] for line in days[-5:-1]] == ["session", *sorted(PLAYERS)]
    assert days[-3].split("  ")[0] == "omar"
    assert days[-3].endswith("2 mistakes, left out")
    assert days[-1].startswith("2 sessions, ")
    ladders = droner_in(house, "ladder", "studio", DATE)
    assert ladders.lines[-1] == "omar     2 mistakes, left out"
    assert "left out: omar" in ladders.err


def test_the_days_of_a_player_stand_apart(house: Path) -> None:
    for day in ("2026-01-05", "2026-01-06", "2026-01-06"):
        told = droner_in(house, "render", "studio", f"--date={day}", "--out", "tracks", "--as", "mid", "-q")
        assert told.code == 0, told.err
    for name in PLAYERS:
        days = sorted(path.name for path in (house / "tracks" / name).iterdir())
        assert days == [f"{name} 2026-01-05", f"{name} 2026-01-06"]
    assert droner_in(house, "render", "studio", DATE, "--as", "mid", "-q").code == 0
    assert sorted(path.name for path in (house / "practice 2026-01-05").iterdir()) == sorted(PLAYERS)


def test_the_folder_of_a_day_is_named_after_its_session(house: Path) -> None:
    for name in ("lena", "ruth"):
        assert droner_in(house, "render", f"studio/{name}.toml", DATE, "--as", "mid", "-q").code == 0
    (house / "practice.toml").write_text(PLAYERS["omar"], encoding="utf-8")
    assert droner_in(house, "render", DATE, "--as", "mid", "-q").code == 0
    (house / "omar").mkdir()
    (house / "omar" / "practice.toml").write_text(PLAYERS["omar"], encoding="utf-8")
    assert droner_in(house, "render", "omar/practice.toml", DATE, "--as", "mid", "-q").code == 0
    made = {path.name for path in house.iterdir() if path.name.endswith("2026-01-05")}
    assert made == {f"{name} 2026-01-05" for name in ("lena", "ruth", "practice", "omar")}


def test_a_folder_is_checked_file_by_file(house: Path) -> None:
    good = droner_in(house, "check", "studio")
    assert (good.code, good.lines) == (0, [f"studio/{name}.toml: no mistakes" for name in sorted(PLAYERS)])
    for name in ("omar", "ruth"):
        (house / "studio" / f"{name}.toml").write_text(f"{PLAYERS[name]}tempoo = 60\n", encoding="utf-8")
    told = droner_in(house, "check", "studio")
    assert (told.code, told.out) == (1, "")
    assert [line.split(":")[0] for line in told.err.splitlines() if "tempoo: there" in line] == [
        "studio/omar.toml",
        "studio/ruth.toml",
    ]
    assert told.err.endswith("\n\n2 mistakes\n")  # to look for them writes nothing, and says nothing of it


def test_item_numbers_in_the_place_of_a_session_are_told_where_they_belong(house: Path) -> None:
    told = droner_in(house, "render", "--only", "2", "4")
    assert (told.code, told.out) == (2, "")
    assert "--only 2,4" in told.err
    (house / "4").write_text(PLAYERS["omar"], encoding="utf-8")
    assert droner_in(house, "render", "--only", "1", "4", "--as", "mid", "-q").code == 0


def test_where_all_slip_nothing_is_written(house: Path) -> None:
    for name, text in PLAYERS.items():
        (house / "studio" / f"{name}.toml").write_text(f"{text}tempoo = 60\n", encoding="utf-8")
    before = files_in(house)
    told = droner_in(house, "render", "studio", "--out", "tracks")
    assert (told.code, told.out) == (1, "")
    assert files_in(house) == before


def test_tracks_stand_in_a_folder_for_each_player_and_are_what_they_would_be_alone(house: Path) -> None:
    together = droner_in(house, "render", "studio", DATE, "--out", "tracks", "--as", "wav,mid")
    assert together.code == 0, together.err
    for name in PLAYERS:
        alone = droner_in(
            house, "render", f"studio/{name}.toml", DATE, "--out", f"alone/{name}", "--as", "wav,mid", "-q"
        )
        assert alone.code == 0, alone.err
        made = {path.name: path.read_bytes() for path in (house / "tracks" / name / f"{name} 2026-01-05").iterdir()}
        assert made == {path.name: path.read_bytes() for path in (house / "alone" / name).iterdir()}
        assert made
    assert together.lines == [str(Path("tracks") / name / f"{name} 2026-01-05") for name in sorted(PLAYERS)]
    assert "3 sessions" in together.err


def test_players_of_one_name_in_two_folders_are_told_apart(house: Path) -> None:
    (house / "other").mkdir()
    (house / "other" / "lena.toml").write_text(PLAYERS["lena"], encoding="utf-8")
    told = droner_in(
        house, "render", "studio/lena.toml", "other/lena.toml", DATE, "--out", "tracks", "--as", "mid", "-q"
    )
    assert told.code == 0, told.err
    assert sorted(path.name for path in (house / "tracks").iterdir()) == ["other lena", "studio lena"]


def test_the_ladders_of_all_stand_in_one_table(house: Path) -> None:
    assert droner_in(house, "log", "studio/lena.toml", "1", "3/3", DATE).code == 0
    together = droner_in(house, "ladder", "studio", DATE, "--json").data
    alone = [droner_in(house, "ladder", f"studio/{name}.toml", DATE, "--json").data for name in sorted(PLAYERS)]
    assert together == alone
    (row,) = alone[0]["ladders"]
    assert droner_in(house, "ladder", "studio", DATE).lines[-1].split() == [
        *("lena", "thirds", "120", "63", str(row["rung"]), "of", str(row["of"]), "today")
    ]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["ladder", "studio", "--chart", "all.svg"], "name that one"),
        (["today", "studio", "--logbook", "one.logbook"], "each has its own"),
        (["today", "empty"], "empty holds no session file"),
        (["today", "studio", "--ledger", "1"], "name that one"),
        (["render", "studio", "--only", "2"], "name that one"),
    ],
)
def test_what_makes_no_sense_for_many_is_refused(house: Path, words: list[str], said: str) -> None:
    (house / "empty").mkdir()
    told = droner_in(house, *words)
    assert (told.code, told.out) == (2, "")
    assert said in told.err


def test_one_file_by_two_names_is_one_player(house: Path) -> None:
    told = droner_in(house, "today", "studio/lena.toml", "studio/../studio/lena.toml", DATE, "--json")
    assert len(told.data) == 1


def test_a_pipe_in_the_folder_is_no_session(house: Path) -> None:
    os.mkfifo(house / "studio" / "pipe.toml")
    assert len(droner_in(house, "today", "studio", DATE, "--json").data) == 3


def test_a_session_that_shares_a_logbook_is_told_what_to_write(house: Path) -> None:
    (house / "studio" / "new.toml").write_text('[[block]]\ndrill = "thirds"\n', encoding="utf-8")
    told = droner_in(house, "today", "studio", DATE)
    assert told.err.startswith('new: write logbook = "beside the session"')
