"""Where ladders stand, as a page, as data and as a chart, with the real program.

Referees  the climbing rules worked by hand beside each test; the calendar (5 January 2026 was a Monday, ISO 8601); the
          XML parser of the standard library, which reads a chart back; the PNG specification (W3C). The players are
          invented.
"""

from __future__ import annotations

import json
import re
import struct
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import pytest

from droner.practice.logbook.entry import Entry
from droner.practice.logbook.store import open_logbook
from tests.cli.programs import SOURCE, Ran, droner_in, files_in
from tests.practice.entries import entry

MONDAY = date(2026, 1, 5)
SESSION = 'title = "Thirds"\n[[block]]\ndrill = "thirds"\nladder = { from = 60, to = 72, fine_from = 100 }\n'
"""Invented. Its rungs are metronome numbers: 60 63 66 69 72."""
WEEK = ((0, 60, 3, 3), (1, 63, 3, 3), (2, 66, 0, 2), (3, 60, 3, 3), (4, 63, 1, 3))
"""Up to 63 and 66, down by two after two misses, up again, then one clean run of three: stands at 63."""
DRAWN = 0.01
"""A hundredth of a day or of a beat a minute is far below the width of a line."""
SVG = "{http://www.w3.org/2000/svg}"


def played(*told: tuple[int, float, int, int], **more: Any) -> list[Entry]:
    """Entries of thirds: days since Monday, tempo, clean runs, all runs."""
    return [
        entry(MONDAY + timedelta(since), clean, total, drill="thirds", bpm=bpm, number=number, **more)
        for number, (since, bpm, clean, total) in enumerate(told)
    ]


def keep(logbook: Path, entries: list[Entry]) -> None:
    with open_logbook(logbook, create=True) as opened:
        opened.append(entries)


def ladder(folder: Path, since: int, *more: str) -> Ran:
    told = droner_in(folder, "ladder", f"--date={MONDAY + timedelta(since)}", *more)
    assert told.code == 0, told.err
    return told


def row(folder: Path, since: int) -> Any:
    (found,) = ladder(folder, since, "--json").data["ladders"]
    return found


@pytest.fixture
def stand(tmp_path: Path) -> Path:
    (tmp_path / "practice.toml").write_text(SESSION, encoding="utf-8")
    return tmp_path


def test_the_data_say_where_it_stands_and_how_it_got_there(stand: Path, own_logbook: Path) -> None:
    keep(own_logbook, played(*WEEK))
    found = row(stand, 4)
    assert (found["from_bpm"], found["to_bpm"]) == (60, 72)
    assert [rung["tempo_bpm"] for rung in found["rungs"]] == [60, 63, 66, 69, 72]
    assert (found["tempo_bpm"], found["rung"], found["of"]) == (63, 2, 5)
    assert found["last_clean"] == {"tempo_bpm": 63, "step": None}  # missed above it
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
        "Why: stands at 63: 1 of 3 clean today, 70 per cent lead up.",
        "Monday     3 clean in a row at 60, up to 63",
        "Wednesday  missed twice in a row at 66, down to 60",
        "Thursday   3 clean in a row at 60, up to 63",
    ):
        assert words in told.out


def test_the_day_itself_is_read_and_what_comes_after_it_is_not(stand: Path, own_logbook: Path) -> None:
    keep(own_logbook, played(*WEEK))
    assert [row(stand, since)["tempo_bpm"] for since in range(-1, 5)] == [60, 63, 66, 60, 63, 63]
    before = row(stand, -1)
    assert (before["last_clean"], before["first_played"], before["seven_days"]["total"]) == (None, None, 0)


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


LONG = SESSION.replace("72", "126").replace(", fine_from = 100", "")
TEN_DAYS = tuple((since, bpm, 3, 3) for since, bpm in enumerate((60, 63, 66, 69, 72, 76, 80, 84, 88, 92)))
"""A rung a day. Twenty lead to 126, with 118 and 123 where steps are halved: the last is clean on the twentieth day."""


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


class Drawn:
    """A chart read back from its SVG, in days after Monday and beats a minute."""

    def __init__(self, path: Path, days: list[int], tempos: list[int]) -> None:
        """`days`, `tempos`: what stands at the ticks, all of them in their order."""
        self._root = ET.parse(path).getroot()  # noqa: S314 - a file that the test has made itself
        self._days, self._tempos = days, tempos
        self._across = [self._tick(f"xtick_{number}")[0] for number in range(1, len(days) + 1)]
        self._up = [self._tick(f"ytick_{number}")[1] for number in range(1, len(tempos) + 1)]
        assert self._groups("xtick") == len(days)
        assert self._groups("ytick") == len(tempos)

    def ticks_lie_evenly(self) -> bool:
        """Whether every tick stands where the first and the last put it."""
        return all(
            self._read(x, self._up[0])[0] == pytest.approx(day, abs=DRAWN)
            for day, x in zip(self._days, self._across, strict=True)
        ) and all(
            self._read(self._across[0], y)[1] == pytest.approx(bpm, abs=DRAWN)
            for bpm, y in zip(self._tempos, self._up, strict=True)
        )

    def marks(self, name: str) -> list[tuple[float, float]]:
        """The places of marks; one that is drawn in two halves once."""
        found = ((float(use.get("x", "")), float(use.get("y", ""))) for use in self._group(name).iter(f"{SVG}use"))
        return sorted(self._read(*place) for place in dict.fromkeys(found))

    def line(self, name: str) -> list[tuple[float, float]]:
        """The corners of a line."""
        path = next(self._group(name).iter(f"{SVG}path"))
        numbers = [float(number) for number in re.findall(r"-?[\d.]+", path.get("d", ""))]
        return [self._read(*corner) for corner in zip(numbers[::2], numbers[1::2], strict=True)]

    def _read(self, x: float, y: float) -> tuple[float, float]:
        return _between(self._across, self._days, x), _between(self._up, self._tempos, y)

    def _groups(self, beginning: str) -> int:
        return sum((group.get("id") or "").startswith(f"{beginning}_") for group in self._root.iter(f"{SVG}g"))

    def _group(self, name: str) -> ET.Element:
        (found,) = (group for group in self._root.iter(f"{SVG}g") if group.get("id") == name)
        return found

    def _tick(self, name: str) -> tuple[float, float]:
        use = next(self._group(name).iter(f"{SVG}use"))
        return float(use.get("x", "")), float(use.get("y", ""))


def _between(places: list[float], values: list[int], place: float) -> float:
    share = (place - places[0]) / (places[-1] - places[0])
    return values[0] + share * (values[-1] - values[0])


def near(*places: tuple[float, float]) -> list[Any]:
    return [pytest.approx(place, abs=DRAWN) for place in places]


MONDAYS = [-21, -14, -7, 0, 7]
"""Four weeks at least are shown: the 28 days up to Sunday 11 January, and a day or two at their sides."""


def test_a_chart_has_its_marks_and_lines_where_days_and_tempos_put_them(stand: Path, own_logbook: Path) -> None:
    pytest.importorskip("matplotlib")
    keep(own_logbook, played(*WEEK))
    assert ladder(stand, 6, "--chart", "c.svg").out == "c.svg\n"
    chart = Drawn(stand / "c.svg", MONDAYS, [60, 63, 66, 69, 72])
    assert chart.ticks_lie_evenly()
    noon = 0.5
    assert chart.marks("all-clean-1") == near((noon, 60), (1 + noon, 63), (3 + noon, 60))
    assert chart.marks("some-clean-1") == near((4 + noon, 63))
    assert chart.marks("none-clean-1") == near((2 + noon, 66))
    assert [bpm for _, bpm in chart.line("target-1")] == pytest.approx([72, 72], abs=DRAWN)
    assert chart.marks("falls-1") == near((2 + noon, (66 + 60) / 2))
    assert chart.marks("returns-1") == []
    stood = chart.line("stood-1")
    assert stood[0] == pytest.approx((0, 60), abs=DRAWN)
    assert stood[-1] == pytest.approx((7, 63), abs=DRAWN)  # to the end of the day that is looked at
    for (day, bpm), (later, then) in pairwise(stood):
        assert day == pytest.approx(later, abs=DRAWN) or bpm == pytest.approx(then, abs=DRAWN), "steps, no slopes"


def test_a_chart_shows_the_way_back_after_days_away(stand: Path, own_logbook: Path) -> None:
    pytest.importorskip("matplotlib")
    # clean up to 69; three days after it no faster than 80 per cent of 69, so 60, met in the morning of the day
    keep(own_logbook, played((0, 60, 3, 3), (0, 63, 3, 3), (0, 66, 3, 3), (0, 69, 3, 3), (3, 60, 1, 1)))
    ladder(stand, 6, "--chart", "c.svg")
    chart = Drawn(stand / "c.svg", MONDAYS, [60, 63, 66, 69, 72])
    # the clean run at 60 leads up to 63 at once; from then to the sixth day are three days more, which lead back again
    assert chart.marks("returns-1")[0] == pytest.approx((3, (72 + 60) / 2), abs=DRAWN)


def test_runs_of_a_day_at_one_tempo_are_one_mark(stand: Path, own_logbook: Path) -> None:
    pytest.importorskip("matplotlib")
    keep(own_logbook, played((0, 60, 1, 1), (0, 60, 0, 1), (1, 60, 1, 1)))
    ladder(stand, 6, "--chart", "c.svg")
    chart = Drawn(stand / "c.svg", MONDAYS, [60, 63, 66, 69, 72])
    assert [len(chart.marks(f"{share}-clean-1")) for share in ("all", "some", "none")] == [1, 1, 0]


def test_a_chart_shows_the_last_year_at_most(stand: Path, own_logbook: Path) -> None:
    pytest.importorskip("matplotlib")
    keep(own_logbook, played((0, 60, 1, 1), (40, 60, 1, 1), (400, 60, 1, 1)))
    ladder(stand, 400, "--chart", "c.svg")
    root = ET.parse(stand / "c.svg").getroot()  # noqa: S314 - a file that the test has made itself
    (marks,) = (group for group in root.iter(f"{SVG}g") if group.get("id") == "all-clean-1")
    assert len([*marks.iter(f"{SVG}use")]) == 2  # 366 days up to the last begin with the 35th


def test_a_chart_shows_the_day_and_the_range_on_the_target(stand: Path, own_logbook: Path) -> None:
    pytest.importorskip("matplotlib")
    (stand / "practice.toml").write_text(LONG, encoding="utf-8")
    keep(own_logbook, played(*TEN_DAYS))
    target = row(stand, 9)["target"]
    ladder(stand, 9, "--chart", "c.svg")
    # 28 days up to 14 January, half as many ahead: Mondays from 22 December to 26 January. No room to name every rung
    named = [60, 66, 72, 76, 80, 84, 88, 92, 96, 100, 104, 108, 112, 116, 120, 126]
    chart = Drawn(stand / "c.svg", [*range(-14, 22, 7)], named)
    assert chart.ticks_lie_evenly()
    assert chart.marks("day-1") == near((19.5, 126))
    first, last = chart.line("may-be-1")
    assert first == pytest.approx((19.5, 126), abs=DRAWN)
    latest = (date.fromisoformat(target["latest"]) - MONDAY).days
    assert last[0] == pytest.approx(min(latest + 0.5, 9 + 14 + 3), abs=DRAWN)


def test_a_chart_is_the_same_file_every_time_whatever_the_player_likes(stand: Path, own_logbook: Path) -> None:
    pytest.importorskip("matplotlib")
    keep(own_logbook, played(*WEEK))
    own = stand / "matplotlibrc"
    own.write_text("lines.linewidth: 9\nfont.size: 30\nsvg.fonttype: none\nsavefig.dpi: 30\n", encoding="utf-8")
    for ending in ("svg", "png"):
        ladder(stand, 6, "--chart", f"a.{ending}")
        droner_in(
            stand, "ladder", "--date=2026-01-11", "--chart", f"b.{ending}", environment={"MATPLOTLIBRC": str(own)}
        )
        assert (stand / f"a.{ending}").read_bytes() == (stand / f"b.{ending}").read_bytes()


def test_many_ladders_take_several_pages(stand: Path, own_logbook: Path) -> None:
    pytest.importorskip("matplotlib")
    each_key = SESSION.replace("fine_from", 'each = "key", fine_from')
    (stand / "practice.toml").write_text(each_key, encoding="utf-8")
    keys = ("C major", "D major", "E major", "F major", "G major", "A major", "B major")
    keep(own_logbook, [each for key in keys for each in played((0, 60, 1, 1), key=key)])
    made = ladder(stand, 0, "--chart", "c.png", "--json").data
    assert [(one["path"], one["form"]) for one in made] == [("c.png", "png"), ("c-2.png", "png")]
    assert "page 2 of 2" in made[1]["title"]
    sizes = []
    for one in made:
        head = (stand / one["path"]).read_bytes()[:24]
        assert head[:8] == b"\x89PNG\r\n\x1a\n"
        sizes.append(struct.unpack(">II", head[16:24]))
    assert sizes[0][0] > sizes[1][0], "six stand in two columns, one stands alone"


@pytest.mark.parametrize("name", ["c.pdf", "c", "none/c.svg"])
def test_a_chart_that_cannot_be_written_is_refused(stand: Path, own_logbook: Path, name: str) -> None:
    keep(own_logbook, played(*WEEK))
    told = droner_in(stand, "ladder", "--chart", name)
    assert (told.code, told.out) == (3 if "/" in name else 2, "")
    assert files_in(stand) == {"practice.toml"}


def test_without_matplotlib_a_chart_says_how_to_get_it(stand: Path, own_logbook: Path) -> None:
    keep(own_logbook, played(*WEEK))
    (stand / "hides").mkdir()
    (stand / "hides" / "matplotlib.py").write_text("raise ImportError", encoding="utf-8")
    hidden = {"PYTHONPATH": f"{stand / 'hides'}:{SOURCE}"}
    told = droner_in(stand, "ladder", "--chart", "c.svg", environment=hidden)
    assert (told.code, told.out, len(told.err.splitlines())) == (3, "", 1)
    assert "pip install 'droner[charts]'" in told.err
    assert not (stand / "c.svg").exists()
    assert droner_in(stand, "ladder", environment=hidden).code == 0


@pytest.mark.parametrize("days", [1, 20, 60, 100, 400, 3000, 40_000])
def test_the_days_of_an_axis_have_room_and_fall_on_mondays_or_firsts(days: int) -> None:
    from droner.cli.ladder_days import named_days

    first, last = MONDAY, MONDAY + timedelta(days)
    named = named_days(first, last, 9)
    assert 1 <= len(named) <= 9 or days == 1
    assert [day for day, _ in named] == sorted({day for day, _ in named})
    assert all(first <= day <= last for day, _ in named)
    assert all(day.isoweekday() == 1 for day, _ in named) or all(day.day == 1 for day, _ in named)
    assert all(f"{day:%B}" in words for day, words in named)
    for (before, _), (day, words) in pairwise(named):
        assert (str(day.year) in words) == (day.year != before.year)


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
