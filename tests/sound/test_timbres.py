"""Each timbre does what its purpose says, and is offered everywhere by one name.

Referee  the spectrum of finished files, read by libsndfile; the decibel. That a phone gives little below some 300
         hertz: common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest

from droner.cli.drone_command import command as drone_command
from droner.practice.reading.session_table import TIMBRES as ORDERED
from droner.practice.session import SoundOrder
from droner.score.plain import drone_score
from droner.sound.audio_file import write_audio
from droner.sound.mix import Mix
from droner.sound.timbre_table import TIMBRES, USUAL_TIMBRE
from droner.theory.pitch import pitch
from droner.theory.tuning import tuning
from tests.sound.measure import RATE_HZ, vector
from tests.sound.readers import by_soundfile

PHONE_FROM_HZ = 300.0
MOST_OF_IT = 0.5
"""Half the energy: what is lost below is less than 3 dB."""
NEARLY_ALL = 0.9
ALONE_DB = -20.0
"""A tenth of the first partial's amplitude."""
AS_TOLD_DB = 0.05
"""Sixteen bits round a partial of -38 dB by less."""


def partials_of(timbre: str, name: str, folder: Path) -> list[float]:
    """The amplitudes of the first sixteen partials in a file of a lone drone."""
    path = folder / "d.wav"
    write_audio(path, drone_score((pitch(name),), tuning(440, "equal"), Fraction(3)), Mix(timbre=timbre))
    wave, hz = by_soundfile(path)[RATE_HZ : 2 * RATE_HZ], 440 * 2 ** ((pitch(name).midi - 69) / 12)
    return [abs(vector(wave, hz * number, RATE_HZ)) for number in range(1, 17)]


def share_on_a_phone(timbre: str, name: str, folder: Path) -> float:
    """How much of the energy lies in partials 3 to 10, and where a phone sounds."""
    amplitudes, hz = partials_of(timbre, name, folder), 440 * 2 ** ((pitch(name).midi - 69) / 12)
    heard = [each for number, each in enumerate(amplitudes, 1) if 3 <= number <= 10 and number * hz > PHONE_FROM_HZ]
    return float(np.sum(np.square(heard)) / np.sum(np.square(amplitudes)))


def test_timbres_for_a_low_drone_carry_on_a_phone(tmp_path: Path) -> None:
    shares = {timbre: share_on_a_phone(timbre, "D3", tmp_path) for timbre in TIMBRES}
    assert shares["carrying"] > NEARLY_ALL
    assert shares["bright"] > MOST_OF_IT
    assert list(shares.values()) == sorted(shares.values(), reverse=True), "they are listed by how far they carry"


def test_the_carrying_timbre_carries_an_octave_lower_too(tmp_path: Path) -> None:
    assert share_on_a_phone("carrying", "D2", tmp_path) > MOST_OF_IT > share_on_a_phone("bright", "D2", tmp_path)


def test_a_bare_tone_is_nearly_its_first_partial_alone(tmp_path: Path) -> None:
    first, *others = partials_of("bare", "D5", tmp_path)
    assert 20 * np.log10(np.sqrt(np.sum(np.square(others))) / first) < ALONE_DB


@pytest.mark.parametrize("timbre", TIMBRES)
def test_a_drone_has_the_partials_that_its_timbre_is_said_to_have(timbre: str, tmp_path: Path) -> None:
    told = TIMBRES[timbre].partials_db
    heard = 20 * np.log10(np.array(partials_of(timbre, "D3", tmp_path)[: len(told)]))
    assert heard - heard[0] == pytest.approx(told, abs=AS_TOLD_DB)


def test_session_and_command_offer_the_timbres_that_there_are() -> None:
    (option,) = [each for each in drone_command.params if each.name == "timbre"]
    assert list(getattr(option.type, "choices", ())) == list(ORDERED) == list(TIMBRES)
    assert USUAL_TIMBRE == SoundOrder().timbre == Mix().timbre
    assert f"Default: {USUAL_TIMBRE}." in str(getattr(option, "help", ""))


def test_every_timbre_says_what_it_is_for_in_words_of_its_own() -> None:
    purposes = [timbre.about for timbre in TIMBRES.values()]
    assert all(purpose.startswith("for ") for purpose in purposes)
    assert len(set(purposes)) == len(purposes)
