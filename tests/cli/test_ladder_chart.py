"""Where ladders stand, as a chart, with the real program.

Referees  the calendar (5 January 2026 was a Monday, ISO 8601); the XML parser of the standard library, which reads a
          chart back; the PNG specification (W3C). The players are invented.
"""

from __future__ import annotations

import re
import struct
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import pytest

from tests.cli.climber import LONG, MONDAY, SESSION, TEN_DAYS, WEEK, keep, ladder, played, row
from tests.cli.programs import SOURCE, droner_in, files_in

DRAWN = 0.01
"""A hundredth of a day or of a beat a minute is far below the width of a line."""
SVG = "{http://www.w3.org/2000/svg}"


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
