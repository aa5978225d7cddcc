"""A drone without end, and its changes. Referees: the audio file's samples; phases measured from the samples alone."""

from __future__ import annotations

import numpy as np
import pytest

from droner.live.words import Act, ChangeTo
from droner.sound.live.endless import StandingDrone, standing_drone
from droner.sound.live.piece import piece
from droner.sound.live.source import Reader
from droner.sound.mix import EachPart, Mix
from droner.sound.render import render_blocks
from droner.sound.voice import Samples
from tests.sound.live.fakes import RATE_HZ
from tests.sound.live.room import Room
from tests.sound.live.sounding import drone
from tests.sound.measure import short_levels, vector
from tests.sound.scores import hertz

SAME = 1e-6
"""Single precision at full scale is about 1e-7, a few times over."""
FADE = 60 * RATE_HZ // 1000
AT = 2 * RATE_HZ
STILL_TURNS = 1e-4
"""Of a turn: a tenth of a millionth of a semitone over a second."""
UNLEVELLED = Mix(levelled=False)


def standing(*names: str, mix: Mix = UNLEVELLED) -> StandingDrone:
    return standing_drone(drone(names), mix)


def changed(new: StandingDrone, old: StandingDrone, at: int = AT) -> StandingDrone:
    made = new.after(old, at)
    assert made is not None
    return made


def samples(source: StandingDrone, start: int, stop: int) -> Samples:
    return source.block(start, stop - start)[:, 0]


def step(wave: Samples) -> float:
    return float(np.max(np.abs(np.diff(wave))))


@pytest.mark.parametrize("mix", [Mix(), Mix(timbre="bright"), Mix(channels="stereo", pan=EachPart(drone=-0.5))])
def test_until_the_score_would_end_it_is_the_file(mix: Mix) -> None:
    made = np.concatenate(list(render_blocks(drone(), mix)))[:-FADE]
    source = standing_drone(drone(), mix)
    heard = Reader(source, mix.channel_count).read_all(0, len(made))
    assert np.max(np.abs(heard - made)) < SAME


def test_after_a_day_it_still_stands_on_its_hertz() -> None:
    day = 24 * 3600 * RATE_HZ
    source, hz = standing("D3"), hertz("D3")
    early, late = (vector(samples(source, at, at + RATE_HZ).astype(np.float64), hz, at) for at in (RATE_HZ, day))
    assert abs(np.angle(late / early)) / (2 * np.pi) < STILL_TURNS
    assert abs(late) == pytest.approx(abs(early), rel=1e-4)


def test_before_the_change_nothing_is_changed_and_afterwards_it_is_the_new() -> None:
    old, new = standing("D3", "A3"), standing("D3", "F#3")
    made = changed(new, old)
    assert made.since == AT
    assert np.array_equal(samples(made, AT - RATE_HZ, AT), samples(old, AT - RATE_HZ, AT))
    assert np.max(np.abs(samples(made, AT + FADE, AT + RATE_HZ) - samples(new, AT + FADE, AT + RATE_HZ))) < SAME


def test_a_tone_that_stays_does_not_move() -> None:
    """D3 alone, taken out of a drone that loses A3 and gains F#3: what is left has no D3 in it."""
    made, alone = changed(standing("D3", "F#3"), standing("D3", "A3")), standing("D3")
    others = changed(standing("F#3"), standing("A3"))
    whole, parts = (samples(made, AT - FADE, AT + 2 * FADE), samples(alone, AT - FADE, AT + 2 * FADE))
    assert np.max(np.abs(whole - parts - samples(others, AT - FADE, AT + 2 * FADE))) < SAME


def test_tones_that_give_way_keep_the_loudness() -> None:
    wave = samples(changed(standing("G#3"), standing("D3")), AT - RATE_HZ, AT + RATE_HZ)
    levels = short_levels(wave.astype(np.float64), RATE_HZ // 25)
    # within 2 dB (times 1.26) of each other: the two tones beat within the window
    assert levels.max() / levels.min() < 1.26


@pytest.mark.parametrize("timbres", [("medium", "bright"), ("bright", "carrying")])
def test_another_timbre_is_gone_over_to_in_step(timbres: tuple[str, str]) -> None:
    """Every partial goes from one amplitude to the other without a swell: partials in phase add as amplitudes."""
    old, new = (standing("D3", mix=Mix(levelled=False, timbre=timbre)) for timbre in timbres)
    made, hz = changed(new, old), hertz("D3")
    # pieces of 16 periods, short against the fade, whole against the lines
    piece_frames = round(4 * RATE_HZ / hz)
    starts = range(AT - 4 * piece_frames, AT + FADE + 4 * piece_frames, piece_frames // 4)
    for partial in (1, 2, 3):
        levels = [
            abs(vector(samples(made, start, start + piece_frames).astype(np.float64), partial * hz, start))
            for start in starts
        ]
        rises = np.diff(levels)
        slack = 0.01 * max(levels)
        assert np.all(rises > -slack) or np.all(rises < slack)


def test_louder_or_softer_has_no_step() -> None:
    wave = samples(
        changed(standing("D3", mix=Mix(gain_db=EachPart(drone=-12))), standing("D3", mix=Mix())), AT - 4800, AT + 9600
    )
    assert step(wave) <= step(samples(standing("D3", mix=Mix()), AT, AT + 9600)) * 1.02


def test_a_change_waits_for_the_one_before_and_leaves_out_what_has_not_begun() -> None:
    first, second, third = (standing(name) for name in ("D3", "E3", "F#3"))
    fading = changed(second, first)
    waiting = changed(third, fading, AT + FADE // 2)
    assert waiting.since == AT + FADE
    again = changed(standing("G3"), waiting, AT + FADE // 2 + 100)
    assert again.since == AT + FADE
    assert {tone.soundings[0].hz for tone in again.tones} == {hertz(name) for name in ("D3", "E3", "G3")}
    assert step(samples(again, AT - FADE, AT + 4 * FADE)) < 3 * step(samples(standing("G3"), AT, AT + RATE_HZ))


def test_tones_that_are_gone_are_let_go() -> None:
    made = standing("D3")
    for turn in range(50):
        made = changed(standing("E3" if turn % 2 else "F3"), made, AT + turn * RATE_HZ)
    assert len(made.tones) == 2
    assert made.before is not None
    assert made.before.before is None


def test_another_place_or_another_kind_is_not_taken_up() -> None:
    stereo = Mix(channels="stereo")
    assert standing("D3", mix=stereo).after(standing("D3"), AT) is None
    assert standing("D3").after(piece(drone(), Mix()), AT) is None


def test_a_player_goes_over_without_a_break() -> None:
    room = Room()
    names = (("D3", "A3"), ("D4", "A4"), ("D3", "F#3", "A3"), ("E3",))
    first, *others = (standing(*each) for each in names)
    for turn, other in enumerate(others, 1):
        room.ask(turn * RATE_HZ, ChangeTo(other))
    room.ask(5 * RATE_HZ, Act.STOP)
    ended = room.play(first)
    heard = room.heard[:, 0].astype(np.float64)
    levels = short_levels(heard[RATE_HZ // 4 : -RATE_HZ // 4], RATE_HZ // 50)
    assert levels.min() > levels.max() / 4, "no gap"
    highest = max(step(samples(standing(*each), AT, AT + RATE_HZ)) for each in names)
    assert step(heard.astype(np.float32)) < 2 * highest
    assert ended.under_runs.late == 0
    last = heard[-RATE_HZ // 2 : -RATE_HZ // 10]
    lines = {name: abs(vector(last, hertz(name), 0)) for name in ("D3", "F#3", "A3", "E3")}
    assert max(lines, key=lambda name: lines[name]) == "E3"


def test_many_changes_at_once_end_with_the_last() -> None:
    room = Room()
    for turn, name in enumerate(("E3", "F3", "F#3", "G3", "A3")):
        room.ask(RATE_HZ + turn, ChangeTo(standing(name)))
    room.ask(4 * RATE_HZ, Act.STOP)
    room.play(standing("D3"))
    heard = room.heard[:, 0].astype(np.float64)
    piece_of_it = heard[3 * RATE_HZ : 3 * RATE_HZ + RATE_HZ // 2]
    lines = {name: abs(vector(piece_of_it, hertz(name), 0)) for name in ("D3", "E3", "F3", "F#3", "G3", "A3")}
    assert max(lines, key=lambda name: lines[name]) == "A3"
    assert sorted(lines.values())[-2] < lines["A3"] / 100
