"""The certificate of a cycle: it can be counted again, and what was bettered or is gone is found.

Referee  the recipe in the certificate, followed in `by_recipe`; sed and sha256sum. The players are invented.
"""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

import pytest

from tests.cli.programs import droner_in, files_in
from tests.cli.winter import LATER, MONDAY, SESSION, Rule, keep, keep_winter
from tests.parts import need
from tests.practice.by_recipe import recount
from tests.practice.entries import entry


@pytest.fixture
def winter(tmp_path: Path) -> Path:
    """A folder with a session of two drills that follow the rotation, which moves when it is done."""
    (tmp_path / "practice.toml").write_text(SESSION, encoding="utf-8")
    return tmp_path


@pytest.fixture
def kept(winter: Path, own_logbook: Path) -> Path:
    """The folder, once 40 turns have been played, and 25 of them by both drills."""
    keep_winter(winter, own_logbook)
    return winter


@pytest.mark.parametrize(
    ("option", "name", "code"),
    [("--chart", "map.pdf", 2), ("--chart", "no/map.svg", 3), ("--certificate", "no/c.jsonl", 3)],
)
def test_a_file_that_cannot_be_written_is_refused(kept: Path, option: str, name: str, code: int) -> None:
    before = files_in(kept)
    told = droner_in(kept, "rotation", option, name)
    assert (told.code, told.out) == (code, "")
    assert files_in(kept) == before


def test_the_certificate_can_be_counted_again(kept: Path, own_logbook: Path) -> None:
    assert droner_in(kept, "rotation", "--certificate", "cycle.jsonl", f"--date={LATER}").out == "cycle.jsonl\n"
    text = (kept / "cycle.jsonl").read_text(encoding="ascii")
    found = recount(text)
    assert (found.played, found.by_all, found.entries, found.pairs) == (40, 25, 65, 1440)
    assert found.says["in_words"].startswith("40 of 1440 turns")
    rule = Rule(kept)
    turns = [row for row in map(json.loads, text.splitlines()) if row["line"] == "turn"]
    assert [(turn["key"], turn["variant"]) for turn in turns] == [rule.turn(place) for place in range(1440)]
    told = droner_in(kept, "rotation", "--recheck", "cycle.jsonl", "--json")
    assert (told.code, told.data["played"], told.data["logbook"]) == (0, 40, str(own_logbook))


def test_the_recipe_for_the_sum_works_as_it_stands_in_the_file(kept: Path) -> None:
    need("sed"), need("sha256sum")
    droner_in(kept, "rotation", "--certificate", "cycle.jsonl")
    lines = [json.loads(line) for line in (kept / "cycle.jsonl").read_text(encoding="ascii").splitlines()]
    (how,) = (one for one in lines[2]["how"] if "sha256sum" in one)
    command = how.rpartition(": ")[2].replace("FILE", "cycle.jsonl")
    done = subprocess.run(command, shell=True, cwd=kept, capture_output=True, text=True, check=True)  # noqa: S602 - what the file tells a player to type
    assert done.stdout.split()[0] == lines[-1]["sha256"]


def test_a_certificate_that_was_bettered_is_found_with_its_line(kept: Path) -> None:
    droner_in(kept, "rotation", "--certificate", "cycle.jsonl", f"--date={LATER}")
    text = (kept / "cycle.jsonl").read_text(encoding="ascii")
    (kept / "cycle.jsonl").write_text(text.replace('"played": 40', '"played": 1440'), encoding="ascii")
    told = droner_in(kept, "rotation", "--recheck", "cycle.jsonl")
    counts = text.count("\n") - 1
    assert told.code == 1
    assert f"cycle.jsonl:{counts}: played" in told.err
    assert f"cycle.jsonl:{counts + 1}: sha256" in told.err


def test_an_entry_that_was_taken_back_is_found(kept: Path) -> None:
    droner_in(kept, "rotation", "--certificate", "cycle.jsonl", f"--date={LATER}")
    name = droner_in(kept, "log", "--last", "1", "--json").data[0]["name"]
    assert droner_in(kept, "log", "--take-back", name).code == 0
    told = droner_in(kept, "rotation", "--recheck", "cycle.jsonl")
    assert told.code == 1
    assert name in told.err
    assert "taken back" in told.err


def test_another_player_s_logbook_is_not_asked_unless_it_is_named(
    kept: Path, tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> None:
    droner_in(kept, "rotation", "--certificate", "cycle.jsonl", f"--date={LATER}")
    monkeypatch.delenv("DRONER_LOGBOOK")
    other = tmp_path_factory.mktemp("other")
    shutil.copy(kept / "cycle.jsonl", other)
    (other / "practice.toml").write_text(SESSION, encoding="utf-8")
    keep(other / "practice.logbook", entry(MONDAY, 1, 1))
    assert droner_in(other, "rotation", "--recheck", "cycle.jsonl", "--json").data["logbook"] is None
    named = droner_in(other, "rotation", "--recheck", "cycle.jsonl", "--logbook", "practice.logbook")
    assert (named.code, named.err.count("none of its 65 entries is there")) == (1, 1)
    none = droner_in(other, "rotation", "--recheck", "cycle.jsonl", "--logbook", "typo.logbook")
    assert (none.code, none.err) == (1, "typo.logbook: there is no such logbook\n\n1 mistake\n")


def test_one_letter_that_was_changed_is_named_after_the_sum(kept: Path) -> None:
    droner_in(kept, "rotation", "--certificate", "cycle.jsonl", f"--date={LATER}")
    text = (kept / "cycle.jsonl").read_text(encoding="ascii")
    (kept / "cycle.jsonl").write_text(text.replace('"D minor"', '"D miner"', 1), encoding="ascii")
    line = text[: text.index('"D minor"')].count("\n") + 1
    told = droner_in(kept, "rotation", "--recheck", "cycle.jsonl")
    assert told.code == 1
    first, *_, last = told.err.splitlines()
    assert "this file was changed after it was made" in first
    assert f"cycle.jsonl:{line}: name: " in told.err
    assert "found:   D miner\n    allowed: D minor" in told.err
    assert last == "2 mistakes"


@pytest.mark.parametrize("more", [["--map"], ["--chart", "a.svg"], ["--certificate", "b.jsonl"], ["--cycle", "2"]])
def test_recheck_goes_alone(winter: Path, more: list[str]) -> None:
    assert droner_in(winter, "rotation", "--recheck", "cycle.jsonl", *more).code == 2


@pytest.mark.parametrize(("name", "code"), [("none.jsonl", 1), (".", 1), ("practice.toml", 1)])
def test_what_is_no_certificate_is_a_mistake(winter: Path, name: str, code: int) -> None:
    told = droner_in(winter, "rotation", "--recheck", name)
    assert (told.code, told.out) == (code, "")
    assert "Traceback" not in told.err


def test_a_session_in_which_nothing_follows_says_so(tmp_path: Path, own_logbook: Path) -> None:
    text = '[[block]]\ndrill = "slow chromatic"\n'
    (tmp_path / "practice.toml").write_text(text, encoding="utf-8")
    keep(own_logbook, entry(MONDAY, 1, 1, drill="slow chromatic", key=""))
    assert "No drill of this session follows the rotation" in droner_in(tmp_path, "rotation").out
    droner_in(tmp_path, "rotation", "--certificate", "cycle.jsonl")
    assert droner_in(tmp_path, "rotation", "--recheck", "cycle.jsonl").code == 0
