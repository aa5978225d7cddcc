"""The beat sheet: its page, its sound files, its chart.

Referees  arithmetic of ratios and cents; quarter-comma meantone by its definition (pure major thirds, fifths narrow by
          a quarter of 81/80); ffprobe, which reads tags; the XML parser of the standard library, which reads a chart
          back; the PNG specification (W3C).
"""

from __future__ import annotations

import re
import struct
from itertools import pairwise
from math import log2
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
import soundfile

from tests.cli.programs import SOURCE, droner_in, files_in
from tests.sound.readers import told_by_ffprobe

CENTS_ALIKE = 1e-6
PRINTED_RATE = 0.05
"""Titles give one decimal."""
DRAWN_CENTS, DRAWN_HZ = 0.01, 0.01
"""A hundredth of a cent, or of a beat a second, is far below the width of a line."""
SVG = "{http://www.w3.org/2000/svg}"
D3_HZ = 440 * 2 ** (-19 / 12)
CHART = ("beats", "D3", "D3", "E3", "F3", "F#3", "A3", "G#3")


@pytest.mark.parametrize(
    ("drone", "note", "degree", "met"),
    # a fifth's difference tone lies an octave below the lower note, a major third's two, a fourth's an octave and a
    # fifth, a minor third's two octaves and a major third: f2 - f1 of 3:2, 5:4, 4:3, 6:5 is 1
    [
        ("D4", "A4", "5", "D3"),
        ("D5", "F#5", "3", "D3"),
        ("D5", "G5", "4", "G3"),
        ("D5", "F5", "b3", "Bb2"),
        ("Gb5", "Bbb5", "b3", "Ebb3"),
        ("D3", "D3", "1", None),
        ("D3", "Eb3", "b2", None),
        ("D4", "C4", "b7", "Bb0"),  # 9/10: the difference is a tenth of D4, 29.4 Hz; Bb0 is 29.1
    ],
)
def test_degrees_and_difference_tones_are_named(
    tmp_path: Path, drone: str, note: str, degree: str, met: str | None
) -> None:
    (row,) = droner_in(tmp_path, "beats", drone, note, "--json").data
    assert (row["degree"], row["difference_note"]) == (degree, met)


@pytest.mark.parametrize(("note", "third_or_unison"), [("Bb2", 1.0), ("D3", 1.25)])
def test_cents_are_what_a_tuner_shows_when_the_drone_is_off_zero_too(
    tmp_path: Path, note: str, third_or_unison: float
) -> None:
    # five meantone fifths below A (octaves aside): each narrow by 5.377 cents, 3.422 below an equal one, so Bb is high
    (row,) = droner_in(tmp_path, "beats", "Bb2", note, "--temperament", "meantone", "--json").data
    high = 5 * (700 - 1200 * log2(5 ** (1 / 4)))
    equal_third_or_unison = 400 if note == "D3" else 0
    expected = high + 1200 * log2(third_or_unison) - equal_third_or_unison
    assert row["tuner_cents"] == pytest.approx(expected, abs=CENTS_ALIKE)
    page = droner_in(tmp_path, "beats", "Bb2", note, "--temperament", "meantone").lines
    assert ", +17.1 cents on a tuner (" in page[0]
    assert f"{expected:+.1f}" in page[3].split()


def test_what_hardly_sounds_is_called_faint(tmp_path: Path) -> None:
    page = droner_in(tmp_path, "beats", "D3", "G#3", "A3").lines
    assert [("faint" in line.split(), "countable" in line.split()) for line in page[3:5]] == [
        (True, False),
        (False, True),
    ]


@pytest.mark.parametrize(
    "arguments", [("C2",), ("Gb5",), ("Bb2", "--temperament", "meantone"), ("C6", "--a4", "442.5")]
)
def test_the_page_fits_a_terminal_and_parts_its_octaves(tmp_path: Path, arguments: tuple[str, ...]) -> None:
    shown = droner_in(tmp_path, "beats", *arguments)
    assert max(map(len, shown.lines)) <= 100
    rows = [bool(re.match("[A-G][#b]*[0-9] ", line)) for line in shown.lines]
    assert rows[3:30] == [True] * 13 + [False] + [True] * 13


def test_demo_writes_a_tagged_file_for_each_note(tmp_path: Path) -> None:
    made = droner_in(tmp_path, "beats", "D3", "F#3", "G#3", "A2", "--demo", "a/b", "--as", "wav,mp3", "--json").data
    assert {one["path"] for one in made} == {f"a/b/{name}" for name in files_in(tmp_path / "a" / "b")}
    assert [Path(one["path"]).stem for one in made[::2]] == ["01 F#3 over D3", "02 G#3 over D3", "03 A2 under D3"]
    for one in made:
        assert soundfile.info(tmp_path / one["path"]).duration == pytest.approx(one["seconds"], abs=1e-3)
    third, tritone, fourth = (one for one in made if one["form"] == "mp3")
    tags, _ = told_by_ffprobe(tmp_path / third["path"])
    rate = 5 * D3_HZ * (2 ** (5 / 1200) - 1)
    assert third["beats_sharp"] == pytest.approx(rate, abs=CENTS_ALIKE)
    assert float(re.findall(r"[\d.]+(?= beats a second)", tags["title"])[0]) == pytest.approx(rate, abs=PRINTED_RATE)
    assert (tags["track"], tags["album"]) == ("1/3", "Beats against D3")
    assert "partial 5 of the drone, 4 of yours" in tags["comment"]
    assert "no beats" in told_by_ffprobe(tmp_path / tritone["path"])[0]["title"]
    assert [third["can_beat"], tritone["can_beat"], fourth["can_beat"]] == [True, False, True]


def test_demo_takes_mp3_unless_asked_and_shows_the_names(tmp_path: Path) -> None:
    told = droner_in(tmp_path, "beats", "D4", "A4", "A4", "--demo", "d", "--quiet")
    assert (told.code, told.out, told.err) == (0, "d/01 A4 over D4.mp3\n", "")
    assert files_in(tmp_path / "d") == {"01 A4 over D4.mp3"}


def test_forms_without_a_demo_are_wrong_usage(tmp_path: Path) -> None:
    told = droner_in(tmp_path, "beats", "D4", "--as", "wav")
    assert (told.code, told.out) == (2, "")
    assert "--demo" in told.err


class Drawn:
    """A chart read back from its SVG, in cents and beats a second."""

    def __init__(self, path: Path) -> None:
        self._root = ET.parse(path).getroot()  # noqa: S314 - a file that the test has made itself
        unison = self._corners("partial 1")
        self._left, self._right = unison[0][0], unison[-1][0]
        self._zero, self._three = (self._mark(f"ytick_{number}")[1] for number in (1, 2))

    def line(self, partial: int) -> list[tuple[float, float]]:
        return [self._read(*corner) for corner in self._corners(f"partial {partial}")]

    def points(self, name: str) -> list[tuple[float, float]]:
        uses = self._group(name).iter(f"{SVG}use")
        return [self._read(float(use.get("x", "")), float(use.get("y", ""))) for use in uses]

    def _read(self, x: float, y: float) -> tuple[float, float]:
        """The chart goes from 25 cents flat to 25 sharp, and every third beat has a tick."""
        return (x - self._left) / (self._right - self._left) * 50 - 25, (y - self._zero) / (
            self._three - self._zero
        ) * 3

    def _group(self, name: str) -> ET.Element:
        (found,) = (group for group in self._root.iter(f"{SVG}g") if group.get("id") == name)
        return found

    def _corners(self, name: str) -> list[tuple[float, float]]:
        path = next(self._group(name).iter(f"{SVG}path"))
        numbers = [float(number) for number in re.findall(r"-?[\d.]+", path.get("d", ""))]
        return list(zip(numbers[::2], numbers[1::2], strict=True))

    def _mark(self, name: str) -> tuple[float, float]:
        use = next(self._group(name).iter(f"{SVG}use"))
        return float(use.get("x", "")), float(use.get("y", ""))


def test_lines_of_a_chart_stand_where_arithmetic_puts_them(tmp_path: Path) -> None:
    pytest.importorskip("matplotlib")
    assert droner_in(tmp_path, *CHART, "--chart", "c.svg").out == "c.svg\n"
    chart = Drawn(tmp_path / "c.svg")
    for partial in (1, 3, 5, 6, 9):
        for cents, rate in chart.line(partial):
            assert rate == pytest.approx(partial * D3_HZ * abs(2 ** (cents / 1200) - 1), abs=DRAWN_HZ)
    assert [len(chart.line(partial)) > 2 for partial in (1, 45)] == [True, True]


def test_points_of_a_chart_are_the_equal_notes(tmp_path: Path) -> None:
    pytest.importorskip("matplotlib")
    droner_in(tmp_path, *CHART, "--chart", "c.svg")
    points = Drawn(tmp_path / "c.svg").points("equal")
    # semitones and pure ratio of D, E, F, F#, A; the tritone beats beyond the top
    expected = [
        (100 * semitones - 1200 * log2(upper / lower), abs(lower * D3_HZ * 2 ** (semitones / 12) - upper * D3_HZ))
        for semitones, upper, lower in ((0, 1, 1), (2, 9, 8), (3, 6, 5), (4, 5, 4), (7, 3, 2))
    ]
    assert len(points) == len(expected)
    for (cents, rate), (cents_by_sum, rate_by_sum) in zip(points, expected, strict=True):
        assert cents == pytest.approx(cents_by_sum, abs=DRAWN_CENTS)
        assert rate == pytest.approx(rate_by_sum, abs=DRAWN_HZ)


def test_a_chart_in_a_temperament_shows_where_that_puts_the_notes(tmp_path: Path) -> None:
    pytest.importorskip("matplotlib")
    droner_in(tmp_path, "beats", "D3", "D3", "E3", "F#3", "A3", "--temperament", "meantone", "--chart", "c.svg")
    points = Drawn(tmp_path / "c.svg").points("tuned")
    comma = 1200 * log2(81 / 80)
    # the third is pure; the fifth is narrow by a quarter of the comma, the tone, two fifths, by half of it
    assert [cents for cents, _ in points] == pytest.approx([0, -comma / 2, 0, -comma / 4], abs=DRAWN_CENTS)


def test_a_chart_is_the_same_file_whatever_the_player_likes(tmp_path: Path) -> None:
    pytest.importorskip("matplotlib")
    own = tmp_path / "matplotlibrc"
    own.write_text("lines.linewidth: 9\nfont.size: 30\nsvg.fonttype: none\nsavefig.dpi: 30\n", encoding="utf-8")
    for ending in ("svg", "png"):
        droner_in(tmp_path, *CHART, "--chart", f"a.{ending}")
        droner_in(tmp_path, *CHART, "--chart", f"b.{ending}", environment={"MATPLOTLIBRC": str(own)})
        assert (tmp_path / f"a.{ending}").read_bytes() == (tmp_path / f"b.{ending}").read_bytes()


def test_a_chart_as_png_is_a_picture_of_a_page(tmp_path: Path) -> None:
    pytest.importorskip("matplotlib")
    (told,) = droner_in(tmp_path, "beats", "C6", "--chart", "c.png", "--json").data
    assert (told["path"], told["form"]) == ("c.png", "png")
    head = (tmp_path / "c.png").read_bytes()[:24]
    assert head[:8] == b"\x89PNG\r\n\x1a\n"
    wide, high = struct.unpack(">II", head[16:24])
    assert (wide, high) == (1500, 1020)


@pytest.mark.parametrize("name", ["c.pdf", "c", "c.svgz"])
def test_a_chart_of_another_form_is_refused(tmp_path: Path, name: str) -> None:
    told = droner_in(tmp_path, "beats", "D3", "--chart", name, "--demo", "d")
    assert (told.code, told.out) == (2, "")
    assert ".svg or .png" in told.err
    assert files_in(tmp_path) == set()


def test_a_chart_without_its_folder_is_refused_before_any_sound_is_made(tmp_path: Path) -> None:
    told = droner_in(tmp_path, "beats", "D3", "A3", "--chart", "none/c.svg", "--demo", "d")
    assert (told.code, told.out) == (3, "")
    assert files_in(tmp_path) == set()


def test_without_matplotlib_a_chart_says_how_to_get_it(tmp_path: Path) -> None:
    (tmp_path / "hides").mkdir()
    (tmp_path / "hides" / "matplotlib.py").write_text("raise ImportError", encoding="utf-8")
    hidden = {"PYTHONPATH": f"{tmp_path / 'hides'}:{SOURCE}"}
    told = droner_in(tmp_path, "beats", "D3", "--chart", "c.svg", environment=hidden)
    assert (told.code, told.out, len(told.err.splitlines())) == (3, "", 1)
    assert "pip install 'droner[charts]'" in told.err
    assert not (tmp_path / "c.svg").exists()
    assert droner_in(tmp_path, "beats", "D3", environment=hidden).code == 0


def test_labels_side_by_side_never_overlap() -> None:
    from droner.cli.beats_lines import spread

    sizes = [2.0, 1.0, 3.0, 1.0]
    places = spread([0.0, 0.1, 0.2, 9.0], sizes, -1, 10)
    for (before, size), (after, next_size) in pairwise(zip(places, sizes, strict=True)):
        assert after - before >= (size + next_size) / 2 - CENTS_ALIKE
    assert spread([1.0, 5.0], [1.0, 1.0], 0, 10) == [1.0, 5.0], "labels with room stay where they are wanted"
    assert spread([9.9, 10.0], [1.0, 1.0], 0, 10) == [8.5, 9.5], "none passes the edge"


def test_timbres_are_listed_with_their_purpose(tmp_path: Path) -> None:
    told = droner_in(tmp_path, "patterns", "timbres", "--json").data["timbres"]
    page = droner_in(tmp_path, "patterns", "timbres").out
    assert [row["name"] for row in told] == ["carrying", "bright", "medium", "pure", "bare"]
    for row in told:
        assert re.search(rf"^  {row['name']} +{re.escape(row['about'][:60])}", page, re.MULTILINE)
        assert len(row["partials_db"]) >= 1
