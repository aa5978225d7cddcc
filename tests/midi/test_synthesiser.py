"""Referee: FluidSynth, an independent synthesiser, whose own equal temperament is the yardstick for its bends.

The bank's samples are themselves a few cents off, so each tone is compared with the same key unbent.
"""

from __future__ import annotations

from fractions import Fraction
from math import log2
from pathlib import Path

import numpy as np
import pytest

from droner.score.score import Score
from tests.midi.scores import chord, click, equal_hz, note, score, tone
from tests.midi.synthesiser import RATE_HZ, Samples, between, measured_hz, partial, played

BEND_CENTS = 2.0
"""FluidSynth cuts bends to whole cents; the rest is what the measurement may miss."""
STILL_CENTS = 0.1
STILL_DB = 0.5
"""A drone that moves less makes no beat of its own: 0.1 cents at 440 Hz is one beat in 39 s."""
BLOCK_S = 3 * 64 / 48_000
"""FluidSynth begins a note on a block of 64 samples; one block either way, and one for the measurement."""
EXPRESSION_DB = 1.5
"""Half the smallest step of loudness marks, mp to mf being 3 dB or more (from memory)."""

# Just ratios over the tonic: octave, fifth, fourth, thirds, sixths, sevenths, seconds (definition of just intonation).
JUST = {
    "D3": Fraction(1),
    "E3": Fraction(9, 8),
    "F3": Fraction(6, 5),
    "F#3": Fraction(5, 4),
    "G3": Fraction(4, 3),
    "A3": Fraction(3, 2),
    "Bb3": Fraction(8, 5),
    "B3": Fraction(5, 3),
    "C4": Fraction(7, 4),
    "C#4": Fraction(15, 8),
    "D4": Fraction(2),
}


def just_hz(name: str) -> float:
    return equal_hz("D3") * float(JUST[name])


def cents(hz: float, other_hz: float) -> float:
    return 1200 * log2(hz / other_hz)


def one_after_another(tuned: dict[str, float]) -> Score:
    """Two seconds each."""
    drone = [tone(2 * place, 2, name, hz) for place, (name, hz) in enumerate(tuned.items())]
    return score(2 * len(tuned), drone=drone)


def heard_hz(samples: Samples, names: list[str]) -> list[float]:
    """The pitch of each two seconds, without attack and release."""
    return [
        measured_hz(between(samples, 2 * place + 0.5, 2 * place + 1.9), equal_hz(name))
        for place, name in enumerate(names)
    ]


def assert_bent(found: list[float], unbent: list[float], tuned: dict[str, float]) -> None:
    worst = 0.0
    for name, hz, plain_hz in zip(tuned, found, unbent, strict=True):
        off = cents(hz, plain_hz) - cents(tuned[name], equal_hz(name))
        worst = max(worst, abs(off))
        assert abs(off) < BEND_CENTS, f"{name} sounds {off:+.2f} cents off"
    print(f"worst of {len(tuned)} tones: {worst:.2f} cents off, bends cut to whole cents by the synthesiser")


def test_a_just_scale_over_the_drone_sounds_just(tmp_path: Path) -> None:
    names = list(JUST)
    just = {name: just_hz(name) for name in names}
    unbent = heard_hz(played(one_after_another({name: equal_hz(name) for name in names}), tmp_path), names)
    assert_bent(heard_hz(played(one_after_another(just), tmp_path), names), unbent, just)


def test_a4_at_442_sounds_7_85_cents_higher(tmp_path: Path) -> None:
    names = ["D3", "A3", "D4", "A4"]
    higher = {name: equal_hz(name, 442.0) for name in names}
    unbent = heard_hz(played(one_after_another({name: equal_hz(name) for name in names}), tmp_path), names)
    assert_bent(heard_hz(played(one_after_another(higher), tmp_path), names), unbent, higher)


@pytest.mark.parametrize("part", ["drone", "changes"])
def test_three_tones_at_once_are_each_in_tune(part: str, tmp_path: Path) -> None:
    names = ["D3", "F#3", "A3"]
    found = []
    for tuned in ({name: equal_hz(name) for name in names}, {name: just_hz(name) for name in names}):
        tones = [tone(0, 4, name, hz) for name, hz in tuned.items()]
        made = score(4, drone=tones) if part == "drone" else score(4, changes=[chord(0, 4, tuned)])
        held = between(played(made, tmp_path), 1.0, 3.9)
        found.append([measured_hz(held, hz) for hz in tuned.values()])
    assert_bent(found[1], found[0], {name: just_hz(name) for name in names})


@pytest.mark.parametrize("name", ["D3", "A3", "D4", "A4"])
def test_a_drone_stands_still(name: str, tmp_path: Path) -> None:
    held = between(played(score(8, drone=[tone(0, 8, name)]), tmp_path), 2.0, 7.9)
    fundamental = partial(held, measured_hz(held, equal_hz(name)))
    wander_hz = np.diff(np.unwrap(np.angle(fundamental))) / (2 * np.pi) / 0.02
    levels_db = 20 * np.log10(np.abs(fundamental))
    assert cents(equal_hz(name) + float(np.std(wander_hz)), equal_hz(name)) < STILL_CENTS
    assert float(np.ptp(levels_db)) < STILL_DB


def onsets_s(samples: Samples, count: int) -> list[float]:
    """Where each click first reaches a tenth of the loudest sample, clicks being a fifth of a second apart or more."""
    found: list[int] = []
    for place in np.flatnonzero(np.abs(samples) > np.max(np.abs(samples)) / 10):
        if not found or place - found[-1] > RATE_HZ / 6:
            found.append(int(place))
    assert len(found) == count
    return [place / RATE_HZ for place in found]


def test_clicks_under_a_ramp_sound_in_time(tmp_path: Path) -> None:
    quarters_us = [1_000_000 - 25_000 * beat for beat in range(28)]
    tempos = [(Fraction(beat), quarter_us) for beat, quarter_us in enumerate(quarters_us)]
    samples = played(score(28, tempos=tempos, clicks=[click(beat) for beat in range(28)]), tmp_path)
    found = onsets_s(samples, 28)
    exact = [float(Fraction(sum(quarters_us[:beat]), 1_000_000)) for beat in range(28)]
    worst = max(abs(here - found[0] - there) for here, there in zip(found, exact, strict=True))
    print(f"worst click {worst * 1000:.2f} ms off under a ramp from 60 to 185")
    assert worst < BLOCK_S


def level_db(samples: Samples) -> float:
    return float(10 * np.log10(np.mean(samples**2)))


def test_a_swell_is_as_loud_at_its_end_as_a_note_struck_so(tmp_path: Path) -> None:
    to_half = ((Fraction(0), 100), (Fraction(1, 4), 60), (Fraction(1), 60))
    swell = played(score(4, solo=[note(0, 4, "D5", velocity=100, shape=to_half)]), tmp_path)
    struck = played(score(4, solo=[note(0, 4, "D5", velocity=60)]), tmp_path)
    difference = level_db(between(swell, 2, 3.8)) - level_db(between(struck, 2, 3.8))
    print(f"swell ends {difference:+.2f} dB from the note struck at its last velocity")
    assert abs(difference) < EXPRESSION_DB
