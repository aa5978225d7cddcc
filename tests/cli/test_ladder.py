"""Where ladders stand, as a page and as data, with the real program.

Referees  the climbing rules worked by hand beside each test; the calendar (5 January 2026 was a Monday, ISO 8601). The
          players are invented.
"""

from __future__ import annotations

import json
import re
from dataclasses import replace
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any

from tests.cli.climber import LONG, MONDAY, SESSION, TEN_DAYS, WEEK, keep, ladder, played, row
from tests.cli.programs import SOURCE, droner_in, files_in
from tests.practice.entries import entry


def test_the_data_say_where_it_stands_and_how_it_got_there(stand: Path, own_logbook: Path) -> None:
    keep(own_logbook, played(*WEEK))
    found = row(stand, 4)
    assert (found["from_bpm"], found["to_bpm"]) == (60, 72)
    assert [rung["tempo_bpm"] for rung in found["rungs"]] == [60, 63, 66, 69, 72]
    assert (found["tempo_bpm"], found["rung"], found["of"]) == (63, 2, 5)
    assert found["secure"] == {"tempo_bpm": 63, "step": None}  # missed above it
    assert found["seven_days"] == {"clean": 3 + 3 + 0 + 3 + 1, "total": 3 + 3 + 2 + 3 + 3}
    assert [(move["date"], move["from_rung"], move["to_rung"], move["why"]) for move in found["moves"]] == [
        ("2026-01-05", 1, 2, "clean"),
        ("2026-01-06", 2, 3, "clean"),
        ("2026-01-07", 3, 1, "missed"),
        ("2026-01-08", 1, 2, "clean"),
    ]
    assert (found["first_played"], found["last_played"]) == ("2026-01-05", "2026-01-09")
    assert found["target"] == {"date": None, "earliest": None, "latest": None, "why": "too early to say"}


def test_the_page_tells_the_same_in_words(stand: Path, own_logbook: Path) -> None:
    keep(own_logbook, played(*WEEK))
    told = ladder(stand, 4)
    assert told.err == ""
    assert told.lines[0] == "Thirds: Friday 9 January 2026"
    assert re.split(r" {2,}", told.lines[4]) == [
        "thirds", "60", "72", "63", "2 of 5", "63", "10 of 14", "too early to say",
    ]  # fmt: skip
    for words in (
        "Why: stands at 63: 1 of 3 clean there today, 70 per cent lead up.",
        "Monday     3 clean in a row at 60, up to 63",
        "Wednesday  missed twice in a row at 66, down to 60",
        "Thursday   3 clean in a row at 60, up to 63",
    ):
        assert words in told.out


def test_the_day_itself_is_read_and_what_comes_after_it_is_not(stand: Path, own_logbook: Path) -> None:
    keep(own_logbook, played(*WEEK))
    assert [row(stand, since)["tempo_bpm"] for since in range(-1, 5)] == [60, 63, 66, 60, 63, 63]
    before = row(stand, -1)
    assert (before["secure"], before["first_played"], before["seven_days"]["total"]) == (None, None, 0)


def test_seven_days_are_today_and_the_six_before(stand: Path, own_logbook: Path) -> None:
    keep(own_logbook, played(*WEEK))
    # on the ninth day after Monday they begin with the third
    assert row(stand, 9)["seven_days"] == {"clean": 3 + 1, "total": 3 + 3}
    assert row(stand, 11)["seven_days"] == {"clean": 0, "total": 0}


def test_days_away_lead_back_on_the_day_that_is_asked_for(stand: Path, own_logbook: Path) -> None:
    keep(own_logbook, played(*WEEK))
    found = row(stand, 9)  # five days after the last one: no faster than 80 per cent of 60
    assert found["tempo_bpm"] == 60
    assert "5 days since the last time" in found["why"]
    assert len(found["moves"]) == 4  # nothing was played after them, so it is no move yet


def test_groups_that_climb_by_themselves_have_a_row_each(stand: Path, own_logbook: Path) -> None:
    each_mode = SESSION.replace("fine_from", 'each = "mode", fine_from')
    (stand / "practice.toml").write_text(each_mode, encoding="utf-8")
    minor = played((0, 60, 3, 3), (1, 63, 3, 3), key="A minor")
    keep(own_logbook, [*played((0, 60, 3, 3), (1, 63, 1, 2), key="F major"), *minor])
    found = {each["group"]: each for each in ladder(stand, 1, "--json").data["ladders"]}
    assert {group: each["tempo_bpm"] for group, each in found.items()} == {"major": 63, "minor": 66}
    assert {group: each["seven_days"]["clean"] for group, each in found.items()} == {"major": 4, "minor": 6}
    page = ladder(stand, 1).out
    assert re.search(r"^thirds +major +60 +72 +63 ", page, re.MULTILINE)
    assert re.search(r"^thirds, minor$", page, re.MULTILINE)


def test_two_blocks_of_one_drill_are_told_apart(stand: Path, own_logbook: Path) -> None:
    more = '[[block]]\ndrill = "thirds"\nladder = { from = 60, to = 96, climb = "growing bursts" }\n'
    (stand / "practice.toml").write_text(SESSION + more, encoding="utf-8")
    bursts = [replace(each, step="1 breath") for each in played((0, 96, 3, 3))]
    keep(own_logbook, [*bursts, *played((1, 60, 3, 3), (2, 63, 3, 3))])
    tempos, steps = ladder(stand, 2, "--json").data["ladders"]
    assert (tempos["tempo_bpm"], tempos["step"], tempos["seven_days"]["total"]) == (66, None, 6)
    assert (steps["tempo_bpm"], steps["step"], steps["seven_days"]["total"]) == (96, "2 breaths", 3)
    assert (steps["rung"], steps["of"]) == (2, 9)  # one to eight breaths, then all of it
    page = ladder(stand, 2).out
    assert "thirds, block 2 (growing bursts at 96)" in page
    assert "3 clean in a row at 1 breath, up to 2 breaths" in page


def test_a_plateau_comes_with_what_to_change(stand: Path, own_logbook: Path) -> None:
    # two of four clean on three days: half is less than 70 per cent, and no two misses need stand in a row
    keep(own_logbook, played((0, 60, 3, 3), (1, 63, 2, 4), (2, 63, 2, 4), (3, 63, 2, 4)))
    assert not row(stand, 2)["plateau"]
    found = row(stand, 3)
    assert (found["plateau"], found["tempo_bpm"]) == (True, 63)
    assert found["target"]["why"] == "not at this pace"
    assert found["suggestion"].startswith("3 days did not get past 63: leave the tempo, try ")
    assert f"Plateau: {found['suggestion'][:60]}" in ladder(stand, 3).out


def test_the_day_of_the_target_is_told_with_its_range(stand: Path, own_logbook: Path) -> None:
    (stand / "practice.toml").write_text(LONG, encoding="utf-8")
    keep(own_logbook, played(*TEN_DAYS))
    found = row(stand, 9)
    assert found["of"] == 20
    assert found["target"]["date"] == found["target"]["earliest"] == "2026-01-24"
    assert found["target"]["latest"] > "2026-01-24"
    page = ladder(stand, 9).out
    assert re.search(r"^thirds .* 24 January$", page, re.MULTILINE)
    assert "126 may be clean between 24 January and " in page
    assert "The last 5 of 10 moves:" in page


def test_what_to_do_where_there_is_no_ladder(room: Path, own_logbook: Path) -> None:
    told = ladder(room, 0)
    assert "ladder = { from = 60, to = 126 }" in told.out
    assert ladder(room, 0, "--json").data["ladders"] == []
    refused = droner_in(room, "ladder", "--chart", "c.svg")
    assert (refused.code, refused.out) == (2, "")
    assert "ladder = { from = 60, to = 126 }" in refused.err
    assert files_in(room) == {"practice.toml"}
    assert not own_logbook.exists()


def test_what_to_do_where_nothing_is_written_down(stand: Path, own_logbook: Path) -> None:
    told = ladder(stand, 0)
    assert "no logbook yet" in told.err
    assert "droner log" in told.err
    assert re.search(r"^thirds +60 +72 +60 +1 of 5 +none +none +too early to say$", told.out, re.MULTILINE)
    assert ladder(stand, 0, "--json").data["logbook"] is None
    assert not own_logbook.exists()
    keep(own_logbook, [entry(MONDAY, 1, 1, drill="fifths")])
    told = ladder(stand, 0)
    assert "nothing of these drills" in told.err
    assert "no logbook" not in told.err
    assert ladder(stand, 0, "--quiet").err == ""
    assert ladder(stand, 0, "--json").data["logbook"] == str(own_logbook)


DEMO = SOURCE / "demo_sessions" / "climbing_three_months.jsonl"


def test_the_demo_is_small_invented_and_has_what_it_promises(tmp_path: Path) -> None:
    lines = [json.loads(line) for line in DEMO.read_text(encoding="utf-8").splitlines()]
    assert len(lines) < 250
    assert len({line["name"] for line in lines}) == len(lines)
    assert {line["note"] for line in lines} == {"invented"}
    days = sorted({date.fromisoformat(line["day"]) for line in lines})
    assert 80 <= (days[-1] - days[0]).days <= 90, "twelve weeks"
    ((left, back),) = [(before, day) for before, day in pairwise(days) if (day - before).days > 10]
    assert droner_in(tmp_path, "log", "--import", str(DEMO)).code == 0

    def on(day: date) -> Any:
        session = str(DEMO.with_suffix(".toml"))
        return droner_in(tmp_path, "ladder", session, f"--date={day}", "--json").data["ladders"]

    def whys(found: Any) -> set[str]:
        return {move["why"] for move in found["moves"]}

    assert len(on(days[-1])) == 4
    assert any(found["plateau"] for found in on(left))
    scale = on(back)[0]
    assert {"clean", "missed", "days away"} <= whys(scale)
    assert scale["tempo_bpm"] < on(left)[0]["tempo_bpm"]
    assert any(found["target"]["date"] for found in on(days[-1]))
