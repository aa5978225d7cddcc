"""Write days down with the real program, and see what the next plan makes of them.

Referee Python's own sqlite3, json and csv read what was written; counts are worked by hand. The player is invented.
"""

from __future__ import annotations

import csv
import json
import sqlite3
from pathlib import Path
from typing import Any

import pytest

from tests.cli.diary import LADDER, MONDAY, last, on, plan
from tests.cli.programs import droner_in, files_in


@pytest.fixture
def stand(tmp_path: Path) -> Path:
    """A folder with a session whose rotation moves by what is written down."""
    (tmp_path / "practice.toml").write_text(LADDER, encoding="utf-8")
    return tmp_path


def test_an_entry_holds_what_the_plan_says(stand: Path) -> None:
    first, second = plan(stand, 0)["items"]
    told = droner_in(stand, "log", "1", "2/3", "--note", "thumb late", on(0), "--json")
    assert told.code == 0, told.err
    (entry,) = told.data
    for name in ("drill", "key", "variant", "place", "tempo_bpm"):
        assert entry[name] == first[name]
    assert (entry["clean"], entry["total"], entry["note"], entry["date"]) == (2, 3, "thumb late", "2026-01-05")
    assert entry["seconds"] == pytest.approx(3 * first["seconds"], abs=0.001)  # three runs of it
    assert [item["logged"] for item in plan(stand, 0)["items"]] == [[{"clean": 2, "total": 3}], []]
    assert second["logged"] == []


def test_the_logbook_is_an_sqlite_file_that_anybody_can_read(stand: Path, own_logbook: Path) -> None:
    droner_in(stand, "log", "1", "2/3", "2", "3/3", on(0))
    with sqlite3.connect(own_logbook) as file:
        assert file.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        (table,) = [name for (name,) in file.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")]
        rows = file.execute(f"SELECT clean, total FROM {table}").fetchall()  # noqa: S608 - a name from the file itself
    file.close()
    assert sorted(rows) == [(2, 3), (3, 3)]


def test_a_plan_stays_the_same_while_its_day_is_written_down(stand: Path) -> None:
    def without_what_is_logged(told: Any) -> Any:
        return [{name: value for name, value in item.items() if name != "logged"} for item in told["items"]]

    before = without_what_is_logged(plan(stand, 0))
    droner_in(stand, "log", "1-2", "5/5", on(0))
    assert without_what_is_logged(plan(stand, 0)) == before


def test_the_next_day_goes_on_and_up(stand: Path) -> None:
    today = plan(stand, 0)
    droner_in(stand, "log", "1-2", "3/3", on(0))
    tomorrow = plan(stand, 1)
    assert tomorrow["rotation"]["place"] == today["rotation"]["place"] + 2
    assert {item["ladder"]["tempo_bpm"] for item in today["items"]} == {60}
    assert {item["ladder"]["tempo_bpm"] for item in tomorrow["items"]} == {63}  # the second 3/3 is slower than 63
    page = droner_in(stand, "today", on(1)).out
    assert "on Monday" in page


def test_a_correction_stands_for_the_old_entry_and_a_taken_back_one_is_gone(stand: Path) -> None:
    first, second = droner_in(stand, "log", "1", "0/3", "2", "3/3", on(0), "--json").data
    corrected = droner_in(stand, "log", "--correct", first["name"][:8], "3/3", "--json")
    assert corrected.code == 0, corrected.err
    assert corrected.data[0]["corrects"] == first["name"]
    assert droner_in(stand, "log", "--take-back", second["name"]).code == 0
    (holds,) = last(stand)
    assert (holds["drill"], holds["key"], holds["clean"], holds["total"]) == (first["drill"], first["key"], 3, 3)
    assert holds["date"] == first["date"]
    assert holds["tempo_bpm"] == first["tempo_bpm"]
    assert [item["logged"] for item in plan(stand, 0)["items"]] == [[{"clean": 3, "total": 3}], []]


@pytest.mark.parametrize("ending", ["jsonl", "csv"])
def test_what_is_exported_can_be_imported_anywhere_and_twice(stand: Path, ending: str) -> None:
    note = 'commas, "quotes"\nand a second line = 2'
    (first, _) = droner_in(stand, "log", "1", "1/3", "2", "3/3", "--note", note, on(0), "--json").data
    droner_in(stand, "log", "--correct", first["name"], "2/3", "--quiet")
    assert droner_in(stand, "log", "--export", f"all.{ending}").code == 0
    other = {"DRONER_LOGBOOK": str(stand / "other.logbook")}
    for news in ("3 entries read: all new; ", "3 entries read: none new, 3 known already; "):
        told = droner_in(stand, "log", "--import", f"all.{ending}", environment=other)
        assert told.code == 0
        assert news in told.err
        assert ('column "counts"' in told.err) == (ending == "csv")
    entries = droner_in(stand, "log", "--last", "9", "--json", environment=other).data
    assert entries == last(stand)
    assert {entry["note"] for entry in entries} == {note}
    assert droner_in(stand, "log", "--export", f"again.{ending}", environment=other).code == 0
    assert (stand / f"again.{ending}").read_bytes() == (stand / f"all.{ending}").read_bytes()


def test_the_exports_are_what_their_endings_say(stand: Path) -> None:
    droner_in(stand, "log", "1", "1/3", "2", "3/3", on(0))
    droner_in(stand, "log", "--export", "all.jsonl")
    droner_in(stand, "log", "--export", "all.csv")
    lines = [json.loads(line) for line in (stand / "all.jsonl").read_text(encoding="utf-8").splitlines()]
    with (stand / "all.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    named = [line for line in lines if "clean" in line]
    assert [int(row["clean"]) for row in rows] == [line["clean"] for line in named] == [1, 3]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["3", "1/1"], "items 1 to 2; there is no item 3"),
        (["1", "5/4"], "5/4 cannot be"),
        (["1", "0/0"], "0/0 cannot be"),
        (["1", "x"], "'x' is not clean runs of all runs"),
        (["1", "1/1", "--last", "3", "--export", "x.csv"], "ask for one at a time"),
        (["1", "1/1", "--last", "3"], "leave the other option"),
        (["1", "1/1", "--import", "x.csv"], "leave the other option"),
        (["1", "1/1", "--take-back", "abcd1234"], "leave the other option"),
        (["--correct", "ab", "1/1"], "4 signs at least"),
        (["--correct", "abcd1234", "1/1"], "No entry has a name"),
        (["--export", "all.txt"], "the ending says in which form"),
        (["--take-back", "abcd1234"], "No entry has a name"),
        (["1", "1/1", "--note", "x" * 2001], "a note has 2000 letters at most"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_written(
    stand: Path, own_logbook: Path, words: list[str], said: str
) -> None:
    before = files_in(stand)
    told = droner_in(stand, "log", *words, on(0))
    assert (told.code, told.out) == (2, ""), told.err
    assert said in told.err
    assert files_in(stand) == before
    assert not own_logbook.exists()


def test_all_that_is_told_in_one_command_is_kept_or_nothing(stand: Path) -> None:
    assert droner_in(stand, "log", "1", "1/1", "9", "1/1", on(0)).code == 2
    assert last(stand) == []


def test_a_file_that_is_no_logbook_is_told_and_left_alone(stand: Path) -> None:
    notes = stand / "notes.txt"
    notes.write_text("long tones on Tuesday\n" * 100, encoding="utf-8")
    before = notes.read_bytes()
    for words in (["log", "1", "1/1"], ["today"], ["log", "--last", "2"]):
        told = droner_in(stand, *words, "--logbook", "notes.txt")
        assert told.code in {1, 3}
        assert "notes.txt" in told.err
        assert "Traceback" not in told.err
        assert notes.read_bytes() == before


def test_a_session_keeps_its_own_logbook_beside_it_once_it_has_one(stand: Path, tmp_path: Path) -> None:
    (stand / "lena.toml").write_text(LADDER, encoding="utf-8")
    away = {"DRONER_LOGBOOK": "", "XDG_DATA_HOME": str(tmp_path / "data"), "HOME": str(tmp_path / "home")}
    assert droner_in(stand, "log", "lena.toml", "1", "1/1", "--logbook", "lena.logbook", on(0)).code == 0
    assert droner_in(stand, "log", "lena.toml", "2", "1/1", on(0), environment=away).code == 0
    (stand / "own.toml").write_text(LADDER, encoding="utf-8")
    assert droner_in(stand, "log", "own.toml", "1", "1/1", on(0), environment=away).code == 0
    told = droner_in(stand, "log", "--last", "9", "--json", "--logbook", "lena.logbook")
    assert len(told.data) == 2
    assert [path.name for path in (tmp_path / "data").rglob("*.logbook")] == ["droner.logbook"]


def test_an_export_never_takes_the_place_of_its_logbook(stand: Path) -> None:
    assert droner_in(stand, "log", "1", "1/1", on(0), "--logbook", "mine.csv").code == 0
    kept = (stand / "mine.csv").read_bytes()
    told = droner_in(stand, "log", "--logbook", "mine.csv", "--export", "./mine.csv")
    assert told.code == 2
    assert "would be lost" in told.err
    assert (stand / "mine.csv").read_bytes() == kept


def test_a_good_export_is_not_replaced_by_that_of_a_logbook_that_is_not_there(stand: Path) -> None:
    (stand / "backup.csv").write_text("kept", encoding="utf-8")
    assert droner_in(stand, "log", "--logbook", "typo.logbook", "--export", "backup.csv").code == 1
    assert (stand / "backup.csv").read_text(encoding="utf-8") == "kept"


def test_a_corrected_count_of_runs_takes_its_share_of_the_time(stand: Path) -> None:
    (entry,) = droner_in(stand, "log", "1", "4/10", on(0), "--json").data
    (corrected,) = droner_in(stand, "log", "--correct", entry["name"], "1/1", "--judged", "by pedal", "--json").data
    assert corrected["seconds"] == pytest.approx(entry["seconds"] / 10, abs=0.001)
    assert corrected["judged"] == "by pedal"
    told = droner_in(stand, "log", "--correct", entry["name"], "2/2")
    assert (told.code, corrected["name"][:8] in told.err) == (2, True)
    assert droner_in(stand, "log", "--correct", corrected["name"]).code == 2  # nothing to correct


def test_a_day_that_has_not_come_is_refused(stand: Path) -> None:
    told = droner_in(stand, "log", "1", "1/1", "--date", "2999-01-01")
    assert (told.code, "has not come yet" in told.err) == (2, True)


def test_the_last_entry_is_the_one_written_down_last(stand: Path) -> None:
    droner_in(stand, "log", "1", "1/1", on(3))
    droner_in(stand, "log", "1", "1/1", on(0))
    (entry,) = last(stand, 1)
    assert entry["date"] == MONDAY.isoformat()
