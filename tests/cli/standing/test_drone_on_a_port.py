"""A live drone on a MIDI port, by the keys of the computer and of a MIDI keyboard.

Referees  an instrument behind JACK 2, followed message by message by MIDI 1.0; the definitions: equal temperament is
          2^(1/12) a half-step, a just fifth 3/2, a just major third 5/4; pyte for the screen.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from math import log2
from pathlib import Path

import pytest

from tests.cli.play.foot import Foot
from tests.cli.play.stand import Stand
from tests.cli.programs import DRONER
from tests.cli.standing.sent import HERTZ_ALIKE, Followed, Moment
from tests.midi.live.jack import Ear

SETTLED_S = 0.6
"""Longer than a hand takes to settle on a keyboard, a period of the server and a screen."""
FIFTH, THIRD = 3 / 2, 5 / 4


def drone(folder: Path, jack: dict[str, str], *words: str) -> Stand:
    return Stand(folder, [*DRONER, "drone", *words], jack)


def equal(half_steps_from_a4: int, a4_hz: float = 440.0) -> float:
    return a4_hz * 2 ** (half_steps_from_a4 / 12)


def hertz(moments: list[Moment]) -> list[float]:
    """What sounds at the end."""
    return sorted(moments[-1].hertz.values())


def near(*wanted: float) -> object:
    return pytest.approx(sorted(wanted), abs=HERTZ_ALIKE * max(wanted) / 147)


def test_every_change_is_heard_before_what_was_ends(tmp_path: Path, jack: dict[str, str], ear: Ear) -> None:
    followed = Followed()
    d3, e3 = equal(-19), equal(-17)
    with drone(tmp_path, jack, "D3", "A3", "--port=ear0") as stand:
        stand.until("D 3, A 3")
        stand.until(lambda: len(ear.standing) == 2)
        assert hertz(followed.follow(ear.taken())) == near(d3, d3 * FIFTH)

        def after(key: str) -> list[Moment]:
            stand.press(key)
            time.sleep(SETTLED_S)
            moments = followed.follow(ear.taken())
            assert all(moment.hertz for moment in moments), "at every moment something sounds"
            return moments

        moments = after("+")
        begun = [place for place, moment in enumerate(moments) if moment.begins]
        ended = [place for place, moment in enumerate(moments) if moment.ends]
        assert len(begun) == len(ended) == 2
        assert max(begun) < min(ended), "the new tones are struck before the old ones end"
        assert hertz(moments) == near(e3, e3 * FIFTH)
        for arrow in ("\x1b[B", "\x1b[C", "\x1b[D"):  # down a degree, up and down a half-step
            moments = after(arrow)
        assert hertz(moments) == near(d3, d3 * FIFTH)
        moments = after("s")
        assert not any(moment.begins or moment.ends for moment in moments), "what stays on its key is not struck again"
        assert hertz(moments) == near(equal(-19, 441), equal(-19, 441) * FIFTH)
        assert hertz(after("f")) == near(d3, d3 * FIFTH)
        moments = after("e")
        assert hertz(moments) == near(d3, equal(-12))
        assert 1200 * log2(hertz(moments)[1] / hertz(moments)[0]) == pytest.approx(700, abs=0.02)
        assert hertz(after("h")) == near(2 * d3, equal(0))
        stand.until("D 4, A 4")
        stand.press("t")
        stand.until("a timbre of its own")
        stand.press("q")
        assert stand.end() == 0
        assert stand.is_on_own_screen
        assert stand.modes == stand.modes_before
    assert ear.standing == []


def test_a_pause_is_silent_and_keeps_what_is_wished(tmp_path: Path, jack: dict[str, str], ear: Ear) -> None:
    with drone(tmp_path, jack, "D3", "--port=ear0", "--temperament=equal") as stand:
        stand.until(lambda: ear.standing == [[2, 50]])
        stand.press(" ")
        stand.until("PAUSED")
        stand.until(lambda: ear.standing == [])
        stand.press(".")
        stand.until("E flat 3")
        time.sleep(SETTLED_S)
        assert ear.standing == []
        stand.press(" ")
        stand.until(lambda: [key for _, key in ear.standing] == [51])
        stand.press("q")
        assert stand.end() == 0
    assert ear.standing == []


def test_the_keys_held_are_the_drone(tmp_path: Path, jack: dict[str, str], ear: Ear, keyboard: Foot) -> None:
    followed = Followed()

    def sounding(wanted: object) -> Callable[[], bool]:
        return lambda: sorted(key for _, key in ear.standing) == wanted

    with drone(tmp_path, jack, "--keyboard=foot", "--port=ear0") as stand:
        stand.until("hold keys on the keyboard")
        keyboard.send("90 3a 50", "90 41 50")  # B flat 3 and F4
        stand.until(sounding([58, 65]))
        b_flat = equal(-11)
        assert hertz(followed.follow(ear.taken())) == near(b_flat, b_flat * FIFTH)
        stand.until("B flat 3, F 4")
        keyboard.send("90 3e 50")  # and D4: a just third above the lowest
        stand.until(sounding([58, 62, 65]))
        moments = followed.follow(ear.taken())
        assert sum(moment.begins for moment in moments) == 1, "those that stay are not struck again"
        assert not any(moment.ends for moment in moments)
        assert hertz(moments) == near(b_flat, b_flat * THIRD, b_flat * FIFTH)
        keyboard.send("80 41 40")  # F4 let go, the others held
        stand.until(sounding([58, 62]))
        keyboard.send("80 3e 40", "90 3a 00")  # all let go
        time.sleep(SETTLED_S)
        assert sounding([58, 62])(), "the hand is free, the drone stays"
        keyboard.send("90 42 50", "90 46 50", "90 49 50")  # spelled on F sharp, not on G flat
        stand.until(sounding([66, 70, 73]))
        stand.until("F sharp 4, A sharp 4, C sharp 5")
        assert all(moment.hertz for moment in followed.follow(ear.taken()))
        stand.press("-")
        stand.until(sounding([65, 69, 72]))
        stand.until("F 4, A 4, C 5")
        stand.press("q")
        assert stand.end() == 0
    assert ear.standing == []


def test_a_keyboard_that_goes_leaves_the_drone_and_is_heard_again(
    tmp_path: Path, jack: dict[str, str], ear: Ear, keyboard: Foot
) -> None:
    with drone(tmp_path, jack, "D3", "--keyboard=foot", "--port=ear0") as stand:
        stand.until(lambda: ear.standing == [[2, 50]])
        keyboard.send("90 34 50")
        stand.until(lambda: [key for _, key in ear.standing] == [52])
        keyboard.close()
        stand.until("the keyboard has gone")
        assert [key for _, key in ear.standing] == [52]
        other = Foot(jack)
        try:
            stand.until(lambda: "has gone" not in stand.text)
            other.send("90 35 50")
            stand.until(lambda: [key for _, key in ear.standing] == [53])
        finally:
            other.close()
        stand.press("q")
        assert stand.end() == 0


def test_a_port_that_goes_and_comes_back_sounds_again(tmp_path: Path, jack: dict[str, str], ear: Ear) -> None:
    with drone(tmp_path, jack, "D3", "A3", "--port=ear0") as stand:
        stand.until(lambda: len(ear.standing) == 2)
        with ear.away():
            stand.until("the MIDI port has gone")
            stand.press("+")
            stand.until("E 3, B 3")
        stand.until(lambda: sorted(key for _, key in ear.standing) == [52, 59])
        stand.press("q")
        assert stand.end() == 0
    assert ear.standing == []
