"""Referee: the byte values printed in the text of SMF 1.0."""

from __future__ import annotations

from fractions import Fraction

import pytest

from droner.midi.channel_table import Part
from droner.midi.message import TimedMessage, Voice
from droner.midi.smf_file import smf_bytes
from droner.midi.ticks import PPQ
from droner.units import Beats
from tests.midi.scores import bars, key_mark, score
from tests.midi.smf_text import read

END_OF_TRACK = "FF 2F 00"

# SMF 1.0, "variable-length quantities": the number and its bytes, as printed.
QUANTITIES = [
    (0x00, "00"),
    (0x40, "40"),
    (0x7F, "7F"),
    (0x80, "81 00"),
    (0x2000, "C0 00"),
    (0x3FFF, "FF 7F"),
    (0x4000, "81 80 00"),
    (0x100000, "C0 80 00"),
    (0x1FFFFF, "FF FF 7F"),
    (0x200000, "81 80 80 00"),
    (0x8000000, "C0 80 80 00"),
    (0xFFFFFFF, "FF FF FF 7F"),
]

# 60 000 000 / bpm, whole microseconds; FF 51 03 and 24 bits, high byte first. 120 is SMF 1.0's own example.
TEMPOS = [
    (1_500_000, "16 E3 60"),  # 40
    (1_000_000, "0F 42 40"),  # 60
    (952_381, "0E 88 3D"),  # 63
    (833_333, "0C B7 35"),  # 72
    (600_000, "09 27 C0"),  # 100
    (500_000, "07 A1 20"),  # 120
    (434_783, "06 A2 5F"),  # 138
    (288_462, "04 66 CE"),  # 208
]

# SMF 1.0, time signature: numerator, power of two, clocks a click, 32nds a quarter. 4/4 and 6/8 are printed;
# the text's words call hex 24 "32 clocks", which is 36. The others follow from its rule of 24 clocks a quarter.
METERS = [
    ("4/4", "04 02 18 08"),
    ("6/8", "06 03 24 08"),
    ("9/8", "09 03 24 08"),
    ("3/4", "03 02 18 08"),
    ("2/2", "02 01 30 08"),
    ("2+2+3/8", "07 03 0C 08"),  # as its sum, clicking eighths
    ("3+2/4", "05 02 18 08"),
]

# SMF 1.0, key signature: -7 is seven flats, 0 the key of C, 7 seven sharps; 0 major, 1 minor.
KEYS = [
    ("C major", "00 00"),
    ("A minor", "00 01"),
    ("C minor", "FD 01"),
    ("Cb major", "F9 00"),
    ("C# major", "07 00"),
    ("Eb minor", "FA 01"),
    ("E major", "04 00"),
    ("F# minor", "03 01"),
]

# SMF 1.0, the events of the example piece.
WIRES = [
    (Voice(Part.SOLO, 1).program(Beats(0), 5), "C0 05"),
    (Voice(Part.SOLO, 2).program(Beats(0), 46), "C1 2E"),
    (Voice(Part.SOLO, 3).note(Beats(0), Beats(1), 0x30, 0x60)[0], "92 30 60"),
    (Voice(Part.SOLO, 2).note(Beats(0), Beats(1), 0x43, 0x40)[0], "91 43 40"),
    (Voice(Part.SOLO, 2).note(Beats(0), Beats(1), 0x43, 0x40)[1], "81 43 40"),
]


def test_the_header_says_format_1_with_five_tracks() -> None:
    # MThd, length 6, format 1, 5 tracks, 0x2760 = 10080 ticks a quarter
    assert smf_bytes(score(4))[:14] == bytes.fromhex("4D546864 00000006 0001 0005 2760")


@pytest.mark.parametrize(("ticks", "written"), QUANTITIES)
def test_a_wait_is_written_as_the_text_prints_it(ticks: int, written: str) -> None:
    whole = smf_bytes(score(Fraction(ticks, PPQ)))
    first_track = whole[22 : 22 + int.from_bytes(whole[18:22], "big")]
    # 00 FF 03 08 "invented", 00 FF 51 03 0F4240, then the wait to the end
    start = bytes.fromhex("00 FF 03 08") + b"invented" + bytes.fromhex("00 FF 51 03 0F 42 40")
    assert first_track == start + bytes.fromhex(written + END_OF_TRACK)


def test_a_wait_longer_than_28_bits_is_broken_by_an_empty_text() -> None:
    ticks = 0xFFFFFFF + 0x40
    whole = smf_bytes(score(Fraction(ticks, PPQ)))
    assert whole.endswith(bytes.fromhex("FF FF FF 7F FF 01 00  40 FF 2F 00"))
    assert [track[-1].tick for track in read(whole).tracks] == [ticks] * 5


@pytest.mark.parametrize(("quarter_us", "written"), TEMPOS)
def test_a_tempo_is_24_bits_of_microseconds(quarter_us: int, written: str) -> None:
    whole = smf_bytes(score(4, tempos=[(Fraction(0), quarter_us)]))
    assert bytes.fromhex("FF 51 03" + written) in whole


@pytest.mark.parametrize(("meter", "written"), METERS)
def test_a_meter_has_the_clocks_of_its_beat(meter: str, written: str) -> None:
    assert bytes.fromhex("00 FF 58 04" + written) in smf_bytes(score(8, bars=bars(meter)))


@pytest.mark.parametrize(("key", "written"), KEYS)
def test_a_key_counts_its_flats_below_zero(key: str, written: str) -> None:
    assert bytes.fromhex("00 FF 59 02" + written) in smf_bytes(score(4, keys=(key_mark(0, key),)))


@pytest.mark.parametrize(("message", "written"), WIRES)
def test_a_channel_message_has_the_bytes_of_the_example(message: TimedMessage, written: str) -> None:
    assert message.wire == bytes.fromhex(written)


def test_every_track_ends_with_the_score() -> None:
    file = read(smf_bytes(score(Fraction(7, 2))))
    assert (file.form, file.division) == (1, PPQ)
    assert [(track[-1].meta, track[-1].tick) for track in file.tracks] == [(0x2F, PPQ * 7 // 2)] * 5
