"""A live click: the beat goes on in phase when the tempo changes, and no click is lost or doubled.

Referees  a JACK client in another process, sample by sample; an instrument behind JACK 2; the arithmetic of beats: at
          60 a minute a beat is a second; the traditional metronome (`metronome_table` names its source): 116, 120, 126,
          132.
"""

from __future__ import annotations

import time
from itertools import cycle, islice
from pathlib import Path

import numpy as np

from tests.cli.play.stand import Stand
from tests.cli.programs import DRONER
from tests.cli.standing.heard import RATE_HZ, strokes
from tests.cli.standing.test_drone_on_a_loudspeaker import pressed
from tests.midi.live.jack import Ear
from tests.sound.live.listening import Listener

LOUD = 0.02
A_FRAME = 1
ACCENT, BEAT = 76, 77
"""High and low wood block (General MIDI level 1)."""
PERIODS_S = 2 * 1024 / 48_000
"""An instrument on JACK is told of a message at the next period, and of the one after it."""


def test_the_beat_goes_on_in_phase_on_the_loudspeaker(tmp_path: Path, jack: dict[str, str], phone: Listener) -> None:
    wave, moments = pressed(tmp_path, jack, phone, "++-", "click", "4/4", "--tempo=120")
    onsets = [frame for frame in strokes(wave, LOUD) if frame < moments[-1]]
    gaps = np.diff(onsets)
    beats = [round(60 * RATE_HZ / bpm) for bpm in (120, 126, 132)]
    kinds = ["".join(str(place) for place, beat in enumerate(beats) if abs(gap - beat) <= A_FRAME) for gap in gaps]
    assert gaps.min() >= beats[2] - A_FRAME, "no click is doubled"
    assert gaps.max() <= beats[0] + A_FRAME, "none is lost"
    assert [each for each in dict.fromkeys(kinds) if each] == ["0", "1", "2"]
    assert kinds[-1] == "1", "slower again"
    assert kinds.count("") <= 3, "a beat in which the tempo changed lies between both; all others are whole"


def test_the_beat_goes_on_in_phase_on_a_port(tmp_path: Path, jack: dict[str, str], ear: Ear) -> None:
    with Stand(tmp_path, [*DRONER, "click", "3/4", "--tempo=120", "--port=ear0"], jack) as stand:
        stand.until("q end")
        for key in "++--+-+":
            stand.press(key)
            time.sleep(0.37)
        stand.until("126 quarters a minute")
        stand.press("q")
        assert stand.end() == 0
    struck = [(second, wire[1]) for second, wire in ear.taken() if wire[0] == 0x99 and wire[2]]
    assert [key for _, key in struck] == list(islice(cycle((ACCENT, BEAT, BEAT)), len(struck)))
    gaps = np.diff([second for second, _ in struck])
    assert gaps.min() > 60 / 132 - PERIODS_S
    assert gaps.max() < 60 / 116 + PERIODS_S
    assert ear.standing == []


def test_pattern_meter_and_a_pause(tmp_path: Path, jack: dict[str, str], ear: Ear) -> None:
    with Stand(tmp_path, [*DRONER, "click", "2/4", "--tempo=208", "--port=ear0"], jack) as stand:
        stand.until("click: every beat")
        stand.until(lambda: ear.begun > 2)
        stand.press("+")
        stand.until("216 quarters a minute")
        stand.press("p")
        stand.until("click: subdivisions")
        stand.press("m")
        stand.until("3/4; click: subdivisions")
        stand.press(" ")
        stand.until("PAUSED")
        begun = ear.begun
        time.sleep(1)
        assert ear.begun == begun
        ear.taken()
        stand.press(" ")
        stand.until(lambda: ear.begun > begun)
        first = next(wire for _, wire in ear.taken() if wire[0] == 0x99)
        assert first[1] == ACCENT, "it begins anew, with a bar"
        stand.press("q")
        assert stand.end() == 0
    assert ear.standing == []
