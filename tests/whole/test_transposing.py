"""A transposing player reads one key and everything that sounds is in another, in the MIDI file and in the audio.

Referee  transpositions: music21 instrument table, orchestralibrary.com range tables. Key signature FF 59: SMF 1.0. The
         audio is measured by a Fourier transform here.
"""

from __future__ import annotations

from pathlib import Path

import mido
import numpy as np
import numpy.typing as npt
import pytest

from droner.midi.smf_file import write_smf
from droner.score.score import Score
from droner.sound.mix import EachPart, Mix
from droner.sound.render import render_blocks
from tests.score.composed import composed, manner

PLAYERS = [
    # instrument, half-steps from written to sounding, sounding key for written G major, its sharps
    ("flute", 0, "G", 1),
    ("clarinet", -2, "F", -1),
    ("alto saxophone", -9, "Bb", -2),
    ("horn", -7, "C", 0),
    ("trumpet", -2, "F", -1),
]
OFF = float("-inf")
DRONE_ALONE = Mix(gain_db=EachPart(changes=OFF, click=OFF, guide=OFF))
RATE_HZ = 48_000
SECONDS = 4
AUDIBLE = 1_000
"""60 dB under the strongest line: what is weaker is no tone."""
HZ_SLACK = 0.05
"""A bin of four seconds is a quarter of a hertz; interpolated, a fifth of one is sure."""


def score_for(instrument: str) -> Score:
    block = 'drill = "octave scale"\ndrone = "tonic"\nchanges = "one four five"\ntempo = 60'
    top = f'instrument = "{instrument}"\n[tuning]\ntemperament = "equal"'
    return composed(block, key="G major", played=manner("one a beat"), top=top).score


@pytest.mark.parametrize(("instrument", "half_steps", "tonic", "sharps"), PLAYERS)
def test_the_midi_file_is_at_concert_pitch_and_its_cue_in_the_players_key(
    instrument: str, half_steps: int, tonic: str, sharps: int, tmp_path: Path
) -> None:
    score = score_for(instrument)
    write_smf(tmp_path / "scale.mid", score)
    file = mido.MidiFile(tmp_path / "scale.mid")
    solo = next(track for track in file.tracks if track.name == "Solo")
    keys = [message.note for message in solo if message.type == "note_on"]
    assert keys == [note.written.midi + half_steps for note in score.solo]
    metas = {message.type: message for message in file.tracks[0] if message.is_meta}
    assert metas["key_signature"].key == tonic
    assert score.keys[0].sounding.signature == sharps
    assert "G major" in metas["cue_marker"].text


def measured_hz(wave: npt.NDArray[np.float32], near_hz: float) -> float:
    """The frequency of the highest line within three hertz, by a parabola through its logarithms."""
    spectrum = np.abs(np.fft.rfft(wave * np.hanning(len(wave))))
    low = int((near_hz - 3) * SECONDS)
    peak = low + int(spectrum[low : int((near_hz + 3) * SECONDS)].argmax())
    assert spectrum[peak] > spectrum.max() / AUDIBLE, "there is no such tone"
    before, at, after = np.log(spectrum[peak - 1 : peak + 2])
    return float((peak + (before - after) / (2 * (before - 2 * at + after))) / SECONDS)


@pytest.mark.parametrize(("instrument", "half_steps"), [(row[0], row[1]) for row in PLAYERS])
def test_the_drone_in_the_audio_is_the_sounding_tonic(instrument: str, half_steps: int) -> None:
    """Written G4 is MIDI 67; the drone's octave is the score's, its pitch class and its hertz are reckoned here."""
    score = score_for(instrument)
    (tone,) = score.drone
    assert tone.pitch.midi % 12 == (67 + half_steps) % 12
    start, stop = RATE_HZ, (SECONDS + 1) * RATE_HZ
    wave = np.concatenate(list(render_blocks(score, DRONE_ALONE, RATE_HZ, start=start, stop=stop)))[:, 0]
    hz = 440 * 2 ** ((tone.pitch.midi - 69) / 12)
    assert abs(measured_hz(wave, hz) - hz) < HZ_SLACK


@pytest.mark.parametrize("instrument", ["clarinet", "alto saxophone", "horn", "tenor saxophone", "alto flute"])
def test_two_players_who_read_and_who_hear_a_key_get_the_same_sound(instrument: str) -> None:
    """Keys named as they sound: the concert D major of the flute and of any other are in one key and tuning."""
    block = 'drill = "octave scale"\ndrone = "tonic and fifth"\ndrone_octave = 3\nchanges = "one four five"'
    flute = composed(block, key="D major", played=manner("one a beat")).score
    top = f'instrument = "{instrument}"\nconcert_keys = true'
    other = composed(block, key="D major", played=manner("one a beat"), top=top).score
    assert [tone.hz for tone in flute.drone] == pytest.approx([tone.hz for tone in other.drone], rel=1e-12)
    assert [chord.symbol for chord in flute.changes] == [chord.symbol for chord in other.changes]
    assert [str(note.pitch.name) for note in flute.solo] == [str(note.pitch.name) for note in other.solo]
    assert str(flute.keys[0].sounding) == str(other.keys[0].sounding) == "D major"
