"""The rotation on the page, on the map and in the chart: each says what the logbook says.

Referee  the theorem of the rotation; its rule as the program prints it, reckoned again from division with remainder;
         the calendar; the XML parser of the standard library, which reads the chart back. The
         players and their logbooks are invented.
"""

from __future__ import annotations

import struct
from collections import Counter
from datetime import date, timedelta
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from tests.cli.programs import droner_in
from tests.cli.winter import LATER, MONDAY, PLAYED, SESSION, Rule, keep, keep_winter, rotation
from tests.practice.entries import entry

CALENDAR = SESSION.replace('"when done"', '"by the calendar"\nbegins = 2026-01-05')
TWELVE_DAYS = SESSION.replace("keys_per_day = 6", 'keys_per_day = 24\nvariants = "twelve"')
SVG = "{http://www.w3.org/2000/svg}"
PLAIN_SIGN = {(): ".", ("thirds",): "+", ("broken arpeggio",): "+", ("thirds", "broken arpeggio"): "#"}


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


def test_rotation_meets_every_key_with_every_variant_once_in_a_cycle(tmp_path: Path) -> None:
    told = droner_in(tmp_path, "rotation", "--place", "0", "--days", "1440", "--json").data
    days = told["cycle"] // told["keys_per_day"]
    pairs = [(item["key"], item["variant"]) for day in told["days"][:days] for item in day["items"]]
    assert told["cycle"] == len(told["keys"]) * told["variants"] == len(pairs)
    assert set(Counter(pairs).values()) == {1}
    assert told["proof"]["holds"] is True
    assert told["days_to_complete"] == days


def test_rotation_of_one_key_counts_it_in_plain_words(tmp_path: Path) -> None:
    text = '[rotation]\nkeys = ["C major"]\nvariants = "none"\n[[block]]\ndrill = "thirds"\n'
    (tmp_path / "practice.toml").write_text(text, encoding="utf-8")
    first, second, *_ = droner_in(tmp_path, "rotation", "--place", "0").lines
    assert first.startswith("1 key, no variants, 1 key a day; ")
    assert second == "Cycle 1: 0 of 1 turns lie behind, 1 day ahead."


def test_rotation_page_ends_with_the_calendar(tmp_path: Path) -> None:
    shown = droner_in(tmp_path, "rotation", "--date", "9999-12-30", "--days", "30")
    assert shown.code == 0
    assert "Fri 9999-12-31" in shown.out


def test_without_a_logbook_nothing_is_said_of_what_is_played(winter: Path) -> None:
    assert rotation(winter)["played"] is None
    assert "Played" not in droner_in(winter, "rotation").out


def test_the_page_counts_what_is_played(kept: Path) -> None:
    told = rotation(kept, day=LATER)
    played = told["played"]
    assert (played["played"], played["played_by_all"], played["ahead"], told["place"]) == (40, 25, 1400, 40)
    assert played["by_drill"] == {"thirds": 40, "broken arpeggio": 25}
    assert told["days_to_complete"] == 234  # 1400 turns, 6 a day
    page = droner_in(kept, "rotation", f"--date={LATER}").out
    assert "Cycle 1: 40 of 1440 turns lie behind, 234 days ahead." in page
    assert "Played: 40 of 1440 turns, 25 by every drill (thirds 40, broken arpeggio 25)." in page


def test_the_day_itself_counts_before_the_rotation_moves(kept: Path) -> None:
    # 40 turns, 6 a day: the seventh day, a Sunday, has the last four, and its plan stays as it was that morning
    sunday = MONDAY + timedelta(6)
    told = rotation(kept, day=sunday)
    assert (told["place"], told["played"]["played"]) == (36, 40)
    assert rotation(kept, day=sunday - timedelta(1))["played"]["played"] == 36


def test_the_coming_days_pass_over_what_was_played_before_its_turn(winter: Path, own_logbook: Path) -> None:
    rule = Rule(winter)
    keep(own_logbook, *rule.entries([0, 1, 4, 9], "thirds"))
    told = rotation(winter, "--days", "2", day=LATER)
    items = [(item["key"], item["variant"]) for day in told["days"] for item in day["items"]]
    assert items == [rule.turn(place) for place in (2, 3, 5, 6, 7, 8, 10, 11, 12, 13, 14, 15)]
    planned = droner_in(winter, "today", f"--date={LATER}", "--minutes", "60", "--json").data
    met = [(item["key"], item["variant"]) for item in planned["items"] if item["drill"] == "thirds"]
    assert met == items[:6]


def test_the_pace_leads_to_the_end_of_the_cycle(winter: Path, own_logbook: Path) -> None:
    rule, last = Rule(winter), MONDAY + timedelta(39)
    keep(own_logbook, *rule.entries(range(240), "thirds"))  # six a day for forty days
    played = rotation(winter, day=last)["played"]
    ends = (last + timedelta(200)).isoformat()  # 1200 turns are left, six a day
    assert played["pace"]["turns_a_day"] == played["pace"]["turns_a_practice_day"] == 6
    assert played["end"] == {
        "expected": ends, "at_best_fortnight": ends, "at_weakest_fortnight": ends, "why_not": None,
    }  # fmt: skip
    too_early = rotation(winter, day=MONDAY + timedelta(26))["played"]["end"]
    assert (too_early["expected"], "27 of the 28 days" in too_early["why_not"]) == (None, True)


def test_by_the_calendar_the_cycle_ends_when_it_is_planned(tmp_path: Path, own_logbook: Path) -> None:
    (tmp_path / "practice.toml").write_text(CALENDAR, encoding="utf-8")
    rule = Rule(tmp_path)
    keep(own_logbook, *rule.entries([0, 2, 4, 6], "thirds", a_day=3))
    played = rotation(tmp_path, day=MONDAY + timedelta(2))["played"]
    assert played["planned_end"] == (MONDAY + timedelta(239)).isoformat()  # 1440 turns, six a day, the first on Monday
    assert (played["played"], played["passed_without_an_entry"]) == (4, 8)  # of the twelve of two days
    assert played["end"]["expected"] is None


def test_a_full_cycle_of_short_variants_is_twelve_days(tmp_path: Path, own_logbook: Path) -> None:
    (tmp_path / "practice.toml").write_text(TWELVE_DAYS, encoding="utf-8")
    turns = rotation(tmp_path, "--days", "12")["days"]
    entries = [
        entry(
            date.fromisoformat(day["date"]), 1, 1, drill="thirds", key=item["key"], variant=item["variant"],
            place=24 * number + step, session="Winter", number=step,
        )
        for number, day in enumerate(turns)
        for step, item in enumerate(day["items"])
    ]  # fmt: skip
    keep(own_logbook, *entries)
    on_the_last = rotation(tmp_path, day=MONDAY + timedelta(11))["played"]
    assert (on_the_last["played"], on_the_last["end"]["why_not"]) == (288, "the cycle is complete")
    after = rotation(tmp_path, day=MONDAY + timedelta(12))["played"]
    assert (after["cycle"], after["played"]) == (2, 0)
    assert rotation(tmp_path, "--cycle", "1", day=MONDAY + timedelta(12))["played"]["played"] == 288


def test_the_map_shows_each_turn_where_the_rule_puts_it(kept: Path) -> None:
    rule = Rule(kept)
    shown = droner_in(kept, "rotation", "--map", f"--date={LATER}", environment={"PYTHONIOENCODING": "ascii"})
    lines = {line[:8].rstrip(): line[10:] for line in shown.lines[4:28]}
    assert list(lines) == rule.keys
    by = {place: tuple(drill for drill, places in PLAYED.items() if place in places) for place in range(1440)}
    wanted = {rule.turn(place): PLAIN_SIGN[drills] for place, drills in by.items()}
    assert {(key, 1 + at): sign for key, line in lines.items() for at, sign in enumerate(line)} == wanted


def test_the_map_fits_eighty_columns_and_each_variant_stands_under_its_number(kept: Path) -> None:
    shown = droner_in(kept, "rotation", "--map", environment={"COLUMNS": "80"})
    assert max(map(len, shown.lines)) <= 80
    tens, ones = (line[len("C# minor  ") :].ljust(60) for line in shown.lines[2:4])
    assert [int(ten + one) for ten, one in zip(tens, ones, strict=True)] == [*range(1, 61)]


def test_on_a_narrow_terminal_the_map_goes_on_below(kept: Path) -> None:
    shown = droner_in(kept, "rotation", "--map", environment={"COLUMNS": "60"})
    assert max(map(len, shown.lines)) <= 60
    assert sum(line.startswith("Eb minor") for line in shown.lines) == 2


def test_a_terminal_that_can_has_the_better_signs(kept: Path) -> None:
    assert "\N{FULL BLOCK}" in droner_in(kept, "rotation", "--map", f"--date={LATER}").out
    plain = droner_in(kept, "rotation", "--map", environment={"PYTHONIOENCODING": "latin-1"})
    assert "\\u" not in plain.out


def test_the_map_as_data_names_the_entries(kept: Path) -> None:
    rule, turns = Rule(kept), rotation(kept, "--map", day=LATER)["played"]["map"]
    assert [(turn["key"], turn["variant"]) for turn in turns] == [rule.turn(place) for place in range(1440)]
    held = droner_in(kept, "log", "--last", "1000", "--json").data
    assert {turn["by"][drill]["entry"] for turn in turns for drill in turn["by"]} == {one["name"] for one in held}
    assert turns[12]["first_day"] == "2026-01-05"  # the third of the arpeggios; the thirds came there two days later


def test_without_a_logbook_the_map_is_empty_and_says_so(winter: Path) -> None:
    shown = droner_in(winter, "rotation", "--map")
    assert "0 of 1440" in shown.out
    assert "no logbook" in shown.err
    assert droner_in(winter, "rotation", "--map", "--quiet").err == ""


def test_the_chart_has_a_square_for_each_turn(kept: Path) -> None:
    pytest.importorskip("matplotlib")
    assert droner_in(kept, "rotation", "--chart", "map.svg", f"--date={LATER}").out == "map.svg\n"
    root = ET.parse(kept / "map.svg").getroot()  # noqa: S314 - a file that the test has made itself
    groups = {group.get("id"): group for group in root.iter(f"{SVG}g")}
    squares = {
        name: len(list(groups[name].iter(f"{SVG}path"))) for name in ("played by all", "played by some", "ahead")
    }
    assert squares == {"played by all": 25, "played by some": 15, "ahead": 1400}


def test_the_chart_is_the_same_file_again_and_png_is_a_picture(kept: Path) -> None:
    pytest.importorskip("matplotlib")
    for name in ("a.svg", "b.svg", "c.png"):
        droner_in(kept, "rotation", "--chart", name, f"--date={LATER}")
    assert (kept / "a.svg").read_bytes() == (kept / "b.svg").read_bytes()
    head = (kept / "c.png").read_bytes()[:24]
    assert head[:8] == b"\x89PNG\r\n\x1a\n"
    wide, high = struct.unpack(">II", head[16:24])
    assert wide > high > 500
