"""A real synthesiser that receives the live drone sounds it pure, and falls silent when the player ends.

Referees  FluidSynth, listened to at its JACK outputs; scipy's window and peaks, the definitions of the just ratios and
          of equal temperament, A4 being key 69 (ISO 16; MIDI Tuning Standard).

The intervals are taken as they are heard, nothing deducted. That is honest only where the bank is in tune with itself.
In FluidR3_GM it is not everywhere. Unbent keys of the reed organ, what droner asks for, were measured 5.0 cents
low from G3 to C4, 3.4 high from C#4 to F#4, 1.2 to 2.1 low from G4 to B5; but 0.5 high all the way from F2 to F#3. So
the drone stands on A2 and reaches F#3; and those keys are first struck unbent through FluidSynth's own shell, without
droner, to show that there the instrument itself has the half-steps of equal temperament. Before droner plays, every
channel of the instrument is left bent, with the bend range of an octave: droner has to put it to rights.
"""

from __future__ import annotations

import time
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import log2
from queue import SimpleQueue
from threading import Timer

import numpy as np
import pytest
from scipy.signal import find_peaks
from scipy.signal.windows import gaussian

from droner.live.words import Act, Asked
from droner.midi.live.moments import piece
from droner.midi.live.player import Player
from droner.midi.live.port import OutputPort
from droner.score.plain import drone_score
from droner.theory.pitch import note_name, pitch
from droner.theory.tuning import tuning
from tests.midi.live.fluid import CHANNELS, NAME, Fluid, Recording, fluid_on_jack
from tests.midi.synthesiser import RATE_HZ, Samples

TONIC, TONIC_KEY = "A2", 45


@dataclass(frozen=True, slots=True)
class Above:
    """A tone above the tonic: its pure ratio, and how many half-steps its key lies higher."""

    name: str
    ratio: Fraction
    half_steps: int

    @property
    def pure_cents(self) -> float:
        return 1200 * log2(self.ratio)


TONES = (
    Above("C3", Fraction(6, 5), 3),  # minor third, 315.641 cents
    Above("C#3", Fraction(5, 4), 4),  # major third, 386.314
    Above("D3", Fraction(4, 3), 5),  # fourth, 498.045
    Above("E3", Fraction(3, 2), 7),  # fifth, 701.955
    Above("F#3", Fraction(5, 3), 9),  # major sixth, 884.359
)
NAMES = (TONIC, *(tone.name for tone in TONES))
KEYS = (TONIC_KEY, *(TONIC_KEY + tone.half_steps for tone in TONES))
A4_HZ = 442.0
REED_ORGAN = 20

IN_TUNE_CENTS = 1.1
"""FluidSynth cuts what it sounds to whole cents, so an interval misses by less than one; the rest is for the bank and
the measurement. An equal fifth or fourth, 1.955 cents from pure, is told from a pure one."""
OWN_TUNE_CENTS = 0.6
"""The bank on these keys, unbent: its one sample stands 0.5 cents high."""
SILENT_DB = -90.0
"""Below the drone's own peak: under the last bit of 16 (-96 dB) of a drone as loud as here."""

ATTACK_S = 0.4
WINDOW_S = 1.2
HELD_S = Fraction(9, 5)
SILENCE_S = 0.1
LOWEST_HZ, HIGHEST_HZ = 100.0, 200.0
"""Between them lie the fundamentals of all six tones, and no other partial of any: the second of A2 is at 220 Hz."""


def tones_hz(samples: Samples) -> list[float]:
    """The six strongest peaks of the spectrum, lowest first.

    Of a Gaussian window the logarithm is a parabola, so three points give the exact place of its peak.
    """
    window = gaussian(len(samples), len(samples) / 8)
    spectrum = np.abs(np.fft.rfft(samples * window, 4 * len(samples)))
    step_hz = RATE_HZ / (4 * len(samples))
    places, _ = find_peaks(spectrum[: int(HIGHEST_HZ / step_hz)])
    places = places[places * step_hz > LOWEST_HZ]
    found = []
    for place in np.sort(places[np.argsort(spectrum[places])[-len(NAMES) :]]):
        before, top, after = np.log(spectrum[place - 1 : place + 2])
        found.append(float(place + (before - after) / 2 / (before - 2 * top + after)) * step_hz)
    return found


@dataclass(frozen=True, slots=True)
class Heard:
    """A recording, and its six tones: the tonic's cents from 440 Hz tuning, the others' cents above the tonic."""

    recording: Recording
    tonic_cents: float
    above_cents: dict[str, float]


def heard(recording: Recording) -> Heard:
    start = int(ATTACK_S * RATE_HZ)
    tonic_hz, *others_hz = tones_hz(recording.held[start : start + int(WINDOW_S * RATE_HZ)])
    plain_hz = 440.0 * 2 ** ((TONIC_KEY - 69) / 12)
    above = {tone.name: 1200 * log2(hz / tonic_hz) for tone, hz in zip(TONES, others_hz, strict=True)}
    made = Heard(recording, 1200 * log2(tonic_hz / plain_hz), above)
    print(f"tonic {made.tonic_cents:+.3f} cents; " + ", ".join(f"{name} {cents:.3f}" for name, cents in above.items()))
    return made


def strike_unbent(fluid: Fluid) -> None:
    """The six keys, by the synthesiser's own shell."""
    fluid.tell(*(f"prog {channel} {REED_ORGAN}" for channel in range(len(KEYS))))
    fluid.tell(*(f"noteon {channel} {key} 80" for channel, key in enumerate(KEYS)))
    time.sleep(float(HELD_S))
    fluid.tell(*(f"noteoff {channel} {key}" for channel, key in enumerate(KEYS)))


def leave_in_disorder(fluid: Fluid) -> None:
    fluid.tell(*(f"pitch_bend_range {channel} 12" for channel in range(CHANNELS)))
    fluid.tell(*(f"pitch_bend {channel} 3000" for channel in range(CHANNELS)))


def play_live(fluid: Fluid, player: Player, temperament: str, *, stopped: bool) -> None:
    """The drone through droner: to its own end, or stopped in the middle of a long one."""
    leave_in_disorder(fluid)
    length = HELD_S * 30 if stopped else HELD_S
    made = drone_score(tuple(map(pitch, NAMES)), tuning(A4_HZ, temperament, note_name("A")), length)
    asked: Asked = SimpleQueue()
    stop = Timer(float(HELD_S), asked.put, [Act.STOP])
    if stopped:
        stop.start()
    assert player.play(piece(made), asked).finished is not stopped


@pytest.fixture(scope="module")
def sounds(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, Heard]]:
    """The six tones unbent, just and equal. The player stays open: what falls silent does so without its last hush."""
    with fluid_on_jack(tmp_path_factory.mktemp("fluid")) as fluid:
        made = {"unbent": heard(fluid.recorded(lambda: strike_unbent(fluid)))}
        with OutputPort.called(NAME) as port, Player(port.send, look=port.look) as player:
            for name, stopped in (("just", False), ("equal", True)):
                recording = fluid.recorded(lambda: play_live(fluid, player, name, stopped=stopped))  # noqa: B023 - called at once
                made[name] = heard(recording)
        yield made


@pytest.mark.parametrize("tone", TONES, ids=lambda tone: tone.name)
def test_the_instrument_itself_has_equal_half_steps_here(sounds: dict[str, Heard], tone: Above) -> None:
    assert abs(sounds["unbent"].tonic_cents) < OWN_TUNE_CENTS
    assert abs(sounds["unbent"].above_cents[tone.name] - 100 * tone.half_steps) < OWN_TUNE_CENTS


@pytest.mark.parametrize("tone", TONES, ids=lambda tone: tone.name)
def test_a_just_drone_sounds_pure(sounds: dict[str, Heard], tone: Above) -> None:
    off = sounds["just"].above_cents[tone.name] - tone.pure_cents
    assert abs(off) < IN_TUNE_CENTS, f"{tone.name} over {TONIC} sounds {off:+.2f} cents from {tone.ratio}"


@pytest.mark.parametrize("tone", TONES, ids=lambda tone: tone.name)
def test_an_equal_drone_sounds_equal_and_not_pure(sounds: dict[str, Heard], tone: Above) -> None:
    found = sounds["equal"].above_cents[tone.name]
    assert abs(found - 100 * tone.half_steps) < IN_TUNE_CENTS
    assert abs(found - tone.pure_cents) > IN_TUNE_CENTS


@pytest.mark.parametrize("temperament", ["just", "equal"])
def test_the_tonic_stands_where_equal_temperament_at_442_puts_it(sounds: dict[str, Heard], temperament: str) -> None:
    found, at_442_cents = sounds[temperament].tonic_cents, 1200 * log2(A4_HZ / 440)
    assert abs(found - at_442_cents) < IN_TUNE_CENTS
    assert abs(found) > IN_TUNE_CENTS, "it is in tune at 440 Hz"


@pytest.mark.parametrize("played", ["just", "equal"], ids=["played to its end", "stopped in the middle"])
def test_nothing_sounds_after_the_player(sounds: dict[str, Heard], played: str) -> None:
    recording = sounds[played].recording
    loudest = float(np.max(np.abs(recording.held)))
    assert 0.01 < loudest < 1, "the drone was not heard, or clips"
    last = float(np.max(np.abs(recording.afterwards[-int(SILENCE_S * RATE_HZ) :])))
    assert last <= loudest * 10 ** (SILENT_DB / 20)
    assert recording.voices == 0, "the synthesiser still counts voices at work"
