"""A live drone on the loudspeaker: every sample that arrives is looked at.

Referees  a JACK client in another process; scipy for the demodulation; the definitions: equal temperament is 2^(1/12) a
          half-step, a just fifth 3/2 (701.955 cents); the theorem of a cross-fade's step: at most the steps of both
          waves, and the height of both times the fade's own step.
"""

from __future__ import annotations

import time
from math import log2, pi
from pathlib import Path

import numpy as np
import pytest

from tests.cli.play.foot import Foot
from tests.cli.play.stand import Stand
from tests.cli.programs import DRONER
from tests.cli.standing.heard import LEVEL_WINDOW, RATE_HZ, Wave, greatest_step, hertz_near, levels, pointer
from tests.sound.live.listening import Listener

TRIES = 4
EACH_S = 0.9
"""From one key to the next."""
SETTLED = RATE_HZ // 4
"""Frames after a key until its change is over: a key's way, 25 to 100 ms ahead, 60 ms of fade."""
FADE_FRAMES = 60 * RATE_HZ // 1000
HERTZ_ALIKE = 0.02
CENTS_ALIKE = 0.15
STILL_TURNS = 0.005
LOWEST_DIP = 0.5
"""Half the usual level is -6 dB. Two tones of different hertz that give way to one another beat within the window; a
gap of the 40 ms that are looked at, or of half of it, would be far below."""


def equal(half_steps_from_a4: int, a4_hz: float = 440.0) -> float:
    return a4_hz * 2 ** (half_steps_from_a4 / 12)


def pressed(folder: Path, jack: dict[str, str], phone: Listener, keys: str, *words: str) -> tuple[Wave, list[int]]:
    """What was heard while keys were pressed one after another, and the frame of each, and of the end."""
    for _ in range(TRIES):
        phone.ask("again")
        moments, is_whole = once(folder, jack, phone, keys, words)
        if is_whole:
            return phone.heard(folder)[:, 0].astype(np.float64), moments
    pytest.skip("the JACK server loses periods by itself: this machine is too busy to listen")


def once(
    folder: Path, jack: dict[str, str], phone: Listener, keys: str, words: tuple[str, ...]
) -> tuple[list[int], bool]:
    """The frames of the keys, and whether the server itself lost nothing meanwhile."""
    moments = []
    with Stand(folder, [*DRONER, *words, "--speaker=phone"], jack) as stand:
        stand.until("q end")
        stand.until(lambda: phone.ask("first") is not None)
        lost = phone.ask("lost")
        time.sleep(EACH_S)
        for key in keys:
            moments.append(int(phone.ask("count")))
            stand.press(key)
            time.sleep(EACH_S)
        moments.append(int(phone.ask("count")))
        is_whole = phone.ask("lost") == lost
        stand.press("q")
        assert stand.end() == 0
        assert stand.modes == stand.modes_before
        assert "the sound never broke" in stand.text or "the sound broke 0 times" in stand.text
    return moments, is_whole


def test_changes_of_a_drone_have_no_break(tmp_path: Path, jack: dict[str, str], phone: Listener) -> None:
    keys = "es+h-t"  # equal, A4 = 441, E, an octave higher, D again, another timbre
    wave, moments = pressed(tmp_path, jack, phone, keys, "drone", "D3", "A3")
    starts = [0, *moments[:-1]]
    steady = [wave[start + SETTLED : stop] for start, stop in zip(starts, moments, strict=True)]
    d3, d3_sharper = equal(-19), equal(-19, 441)

    wanted = (
        (d3, d3 * 3 / 2),
        (d3, equal(-12)),
        (d3_sharper, equal(-12, 441)),
        (equal(-17, 441), equal(-10, 441)),
        (equal(-5, 441), equal(2, 441)),
        (equal(-7, 441), equal(0, 441)),
        (equal(-7, 441), equal(0, 441)),
    )
    measured = [tuple(hertz_near(part, hz) for hz in pair) for part, pair in zip(steady, wanted, strict=True)]
    for found, pair in zip(measured, wanted, strict=True):
        assert found == pytest.approx(pair, abs=HERTZ_ALIKE)
    fifths = [1200 * log2(upper / lower) for lower, upper in measured]
    assert fifths[0] == pytest.approx(701.955, abs=CENTS_ALIKE)
    assert fifths[1:] == pytest.approx([700] * 6, abs=CENTS_ALIKE)

    # the tonic did not move when the fifth was tuned anew: one line, in one phase, through the change
    whole = pointer(wave[SETTLED : moments[1]], d3)
    turns = np.unwrap(np.angle(whole)) / (2 * np.pi)
    assert np.ptp(turns) < STILL_TURNS
    through = np.abs(whole)
    assert through.min() > 0.8 * through.max(), "a decibel softer or louder, as the whole is brought to its loudness"

    heard = levels(wave[SETTLED : moments[-1]])
    assert heard.min() > LOWEST_DIP * np.median(heard), "the envelope never dips"
    steps, heights = [greatest_step(part) for part in steady], [float(np.abs(part).max()) for part in steady]
    for place, moment in enumerate(moments[:-1]):
        change = wave[moment : moment + SETTLED]
        fade = (heights[place] + heights[place + 1]) * pi / 2 / FADE_FRAMES
        assert greatest_step(change) < steps[place] + steps[place + 1] + fade

    before, after = (abs(pointer(part, 3 * equal(-7, 441))).mean() for part in steady[-2:])
    fundamental = [abs(pointer(part, equal(-7, 441))).mean() for part in steady[-2:]]
    assert after / fundamental[1] < 0.8 * before / fundamental[0], "pure has a weaker third partial than medium"


def test_a_pause_fades_and_the_drone_comes_back(tmp_path: Path, jack: dict[str, str], phone: Listener) -> None:
    wave, moments = pressed(tmp_path, jack, phone, " . ", "drone", "A3", "--temperament=equal")
    silence = wave[moments[0] + SETTLED : moments[2]]
    assert not silence.any(), "and what is wished meanwhile is kept"
    assert hertz_near(wave[moments[2] + SETTLED : moments[3]], equal(-11)) == pytest.approx(equal(-11), abs=HERTZ_ALIKE)
    steady = wave[LEVEL_WINDOW * 4 : moments[0]]
    fade = np.abs(steady).max() * pi / 2 / (30 * RATE_HZ / 1000)
    assert greatest_step(wave) < 1.1 * greatest_step(steady) + fade


def test_without_a_pitch_it_is_silent_until_keys_are_held(
    tmp_path: Path, jack: dict[str, str], phone: Listener, keyboard: Foot
) -> None:
    with Stand(tmp_path, [*DRONER, "drone", "--keyboard=foot", "--speaker=phone", "--a4=442"], jack) as stand:
        stand.until("hold keys on the keyboard")
        stand.press("+")
        stand.until("no key is held yet")
        assert phone.ask("first") is None
        keyboard.send("90 39 40")  # A3
        stand.until("A 3")
        stand.until(lambda: phone.ask("first") is not None)
        keyboard.send("80 39 40")
        time.sleep(EACH_S)
        stand.press("q")
        assert stand.end() == 0
    heard = phone.heard(tmp_path)[SETTLED : RATE_HZ * 3 // 4, 0].astype(np.float64)
    assert hertz_near(heard, 221) == pytest.approx(221, abs=HERTZ_ALIKE)
