"""What is written beside a partner's track is what its track does, from the session file to the samples.

Referee  libsndfile reads the track, scipy's analytic signal tells the hertz of its first partial at every moment, and
         Python's csv and json read the side files. Linear interpolation between rows must meet the sound.
"""

from __future__ import annotations

import csv
import json
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
import soundfile
from scipy.signal import hilbert

from droner.cli.side_files import _answers
from droner.score.score import Answer
from droner.units import Beats
from tests.cli.programs import droner_in
from tests.score.composed import composed

IN_TUNE_CENTS = 0.1
CURVE_CENTS = 0.01
"""How exactly the rows must give the curve."""
WINDOW_S = 0.03
EDGE_S = 0.25
"""Where the transform of a whole track is not to be trusted: at its ends."""
D3_HZ = 440 * 2 ** (-19 / 12)
DAY = "2026-03-02"
SESSION = """title = "Two partners"
minutes = 5
[rotation]
keys = ["D major"]
[sound.click]
on = false
[[block]]
drill = "octave scale"
drone = "tonic"
changes = "none"
partner = { kind = "reed-like", cents = 8, role = "meet half-way" }
[[block]]
drill = "octave scale"
drone = "tonic"
partner = { kind = "warming room", cents = 20, role = "hold" }
[[block]]
drill = "octave scale"
drone = "tonic"
"""
FLAC, CSV, JSON = ("0{} octave scale, D major.flac", "0{} octave scale, D major.csv", "0{} octave scale, D major.json")

Wave = npt.NDArray[np.float64]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    room = tmp_path_factory.mktemp("room")
    (room / "practice.toml").write_text(SESSION, encoding="utf-8")
    ran = droner_in(room, "render", "--as", "flac,mid", "--date", DAY, "--out", "out", "--json")
    assert ran.code == 0, ran.err
    told = {Path(row["path"]).name for row in ran.data}
    assert told == {path.name for path in (room / "out").iterdir()}
    return room / "out"


def rows(folder: Path, item: int) -> dict[str, Wave]:
    with (folder / CSV.format(item)).open(encoding="utf-8", newline="") as file:
        read = list(csv.DictReader(file))
    return {name: np.array([float(row[name]) for row in read]) for name in read[0]}


def first_partial_hz(path: Path) -> tuple[Wave, Wave]:
    """Seconds and hertz of the line near D3, the mean of a window about each moment."""
    samples, rate_hz = soundfile.read(path, dtype="float64")
    spectrum = np.fft.rfft(samples)
    hertz = np.fft.rfftfreq(len(samples), 1 / rate_hz)
    spectrum[(hertz < 0.6 * D3_HZ) | (hertz > 1.4 * D3_HZ)] = 0
    turns = np.unwrap(np.angle(hilbert(np.fft.irfft(spectrum, len(samples))))) / (2 * np.pi)
    window = int(WINDOW_S * rate_hz)
    found = (turns[window:] - turns[:-window]) * rate_hz / window
    return (np.arange(len(found)) + window / 2) / rate_hz, found


@pytest.mark.parametrize("item", [1, 2])
def test_the_track_goes_where_the_rows_say(made: Path, item: int) -> None:
    curve = rows(made, item)
    seconds, hertz = first_partial_hz(made / FLAC.format(item))
    fades = json.loads((made / JSON.format(item)).read_text("utf-8"))["fades"]
    kept = (seconds > fades[0][1] + EDGE_S) & (seconds < fades[-1][0] - EDGE_S)
    wanted = np.interp(seconds, curve["seconds"], curve["partner_cents"])
    assert np.ptp(wanted[kept]) > 12
    assert np.max(np.abs(1200 * np.log2(hertz / D3_HZ) - wanted)[kept]) < IN_TUNE_CENTS


@pytest.mark.parametrize(("item", "share", "size"), [(1, 0.5, 8), (2, 0.0, 20)])
def test_the_player_is_sent_by_the_share_of_the_task(made: Path, item: int, share: float, size: int) -> None:
    curve = rows(made, item)
    assert curve["player_cents"] == pytest.approx(share * curve["partner_cents"], abs=CURVE_CENTS)
    assert np.max(np.abs(curve["partner_cents"])) == size


@pytest.mark.parametrize("item", [1, 2])
def test_both_side_files_say_the_same_from_end_to_end(made: Path, item: int) -> None:
    curve, told = rows(made, item), json.loads((made / JSON.format(item)).read_text("utf-8"))
    assert {name: [row[name] for row in told["curve"]] for name in curve} == {
        name: list(column) for name, column in curve.items()
    }
    length = soundfile.info(str(made / FLAC.format(item))).duration
    assert curve["seconds"][0] == 0
    assert curve["seconds"][-1] == pytest.approx(length, abs=1e-4)
    assert np.all(np.diff(curve["seconds"]) > 0)
    for fade in told["fades"]:
        assert set(fade) <= set(curve["seconds"])


def test_the_track_is_silent_outside_its_fades_and_full_between(made: Path) -> None:
    """The warming room does not swell: its level is even from the end of the first fade to the start of the last."""
    samples, rate_hz = soundfile.read(made / FLAC.format(2), dtype="float64")
    (_, full), (falls, silent) = json.loads((made / JSON.format(2)).read_text("utf-8"))["fades"]
    windows = samples[int(full * rate_hz) : int(falls * rate_hz)]
    windows = windows[: len(windows) // 4800 * 4800].reshape(-1, 4800)
    levels = np.sqrt(np.mean(windows**2, axis=1))
    assert np.ptp(levels) < 0.05 * np.mean(levels)
    last = samples[int((silent - 0.005) * rate_hz) :]
    assert np.max(np.abs(last), initial=0.0) < 0.1 * np.mean(levels)


def test_an_item_without_a_partner_has_no_side_files(made: Path) -> None:
    assert {path.suffix for path in made.iterdir() if path.name.startswith("03")} == {".flac", ".mid"}


def test_the_session_is_refused_with_every_mistake(tmp_path: Path) -> None:
    wrong = SESSION.replace("reed-like", "reedlike").replace("cents = 20", "cents = 51")
    (tmp_path / "practice.toml").write_text(wrong, encoding="utf-8")
    ran = droner_in(tmp_path, "render", "--out", "out")
    assert ran.code == 1
    assert "did you mean: reed-like" in ran.err
    assert "a whole number from 0 to 50" in ran.err
    assert not (tmp_path / "out").exists()


def test_answers_are_said_in_seconds_cents_and_words() -> None:
    """At 60 a minute a beat is a second."""
    score = composed('drill = "octave scale"\ntempo = 60').score
    answered = replace(score, answers=(Answer(Beats(Fraction(157, 2)), -4.0), Answer(Beats(160), 0.0)))
    assert _answers(answered).splitlines()[1:] == ["1:18.500  -4  4 cents flat", "2:40.000  +0  in tune"]
