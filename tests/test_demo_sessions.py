"""Every demo session does what it promises. The sessions are invented for this project and say so.

Referee  the session's own minutes; soundfile and mido reading back one track of each.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import mido
import pytest
import soundfile

from droner.practice.plan import Plan, Planner
from droner.practice.reading.files import load_patterns, load_session, own_patterns_folder
from droner.score.compose import compose

FOLDER = Path(__file__).parent.parent / "demo_sessions"
SESSIONS = sorted([*FOLDER.glob("*.toml"), *FOLDER.glob("*/practice.toml")])
DAYS = (date(2026, 11, 25), date(2026, 11, 26), date(2027, 2, 28))
LEAST_FILLED = 0.6
"""A day's plan uses at least this share of its minutes, or the demo is badly made. Our own measure."""


def planner(path: Path) -> Planner:
    patterns = load_patterns(own_patterns_folder(path))
    return Planner(load_session(path, patterns), patterns)


def plans(path: Path) -> list[Plan]:
    made = planner(path)
    return [made.day(day) for day in DAYS]


def test_there_are_at_least_five_demo_sessions() -> None:
    assert len(SESSIONS) >= 5


@pytest.mark.parametrize("path", SESSIONS, ids=lambda path: path.stem)
def test_a_demo_says_what_it_is_and_that_it_is_invented(path: Path) -> None:
    head = path.read_text(encoding="utf-8").split("title")[0]
    assert "Invented" in head
    assert "Try:  droner" in head


@pytest.mark.parametrize("path", SESSIONS, ids=lambda path: path.stem)
def test_a_demo_fills_its_minutes_and_never_overruns_them(path: Path) -> None:
    for plan in plans(path):
        assert plan.seconds <= plan.budget
        assert float(plan.seconds) >= LEAST_FILLED * float(plan.budget)


@pytest.mark.parametrize("path", SESSIONS, ids=lambda path: path.stem)
def test_a_demo_leaves_nothing_out_and_sounds_inside_its_compass(path: Path) -> None:
    made = planner(path)
    compass = made.session.compass.transposed(made.session.instrument.sounding)
    for day in DAYS:
        plan = made.day(day)
        assert not plan.left_out
        for planned in plan.items:
            assert all(note.pitch in compass for note in compose(planned.item, made.session).solo)


@pytest.mark.parametrize("path", SESSIONS, ids=lambda path: path.stem)
def test_a_demo_renders_to_tracks_that_others_can_read(path: Path, tmp_path: Path) -> None:
    from droner.cli.day import open_day
    from droner.cli.mixing import mix_of
    from droner.cli.tracks import tracks
    from droner.midi.smf_file import write_smf
    from droner.sound.audio_file import write_audio

    day = open_day(path, day=DAYS[0])
    shortest = min(tracks(day, tmp_path, ["flac"]), key=lambda track: float(track.score.duration))
    write_audio(shortest.path, shortest.heard, mix_of(day.session.sound), shortest.form)
    heard = soundfile.info(shortest.path)
    assert heard.frames / heard.samplerate == pytest.approx(float(shortest.score.duration), abs=1 / heard.samplerate)
    write_smf(tmp_path / "track.mid", shortest.score)
    assert any(message.type == "note_on" for message in mido.MidiFile(tmp_path / "track.mid"))
