"""Referee: the meta events of SMF 1.0, read by the letter of its text."""

from __future__ import annotations

from fractions import Fraction

from droner.midi.smf_file import smf_bytes
from droner.midi.ticks import PPQ
from droner.score.score import Breath, Cue, KeyMark, Marker
from droner.theory.key import key
from droner.units import Beats
from tests.midi.scores import bars, key_mark, score
from tests.midi.smf_text import SmfFile, read

TEXT, MARKER, CUE = 0x01, 0x06, 0x07
TEMPO, METER, KEY = 0x51, 0x58, 0x59


def day() -> SmfFile:
    """Four bars that change meter and key, with words."""
    return read(
        smf_bytes(
            score(
                15,
                title="Monday",
                tempos=[(Fraction(0), 1_000_000), (Fraction(4), 900_000), (Fraction(17, 2), 500_000)],
                bars=bars("4/4", "4/4", "6/8", "4/4"),
                keys=(key_mark(0, "C major"), key_mark(4, "C major"), key_mark(8, "Bb minor")),
                markers=(Marker(Beats(0), "slow chromatic"), Marker(Beats(8), "turning scale")),
                cues=(Cue(Beats(4), "next: E♭ major – soft", "next: E flat major, soft"),),
                breaths=(Breath(Beats(7), Beats(1)),),
            )
        )
    )


def test_the_tracks_are_named() -> None:
    assert day().names() == ["Monday", "Solo", "Drone", "Changes", "Click"]


def test_tempos_are_those_of_the_map_at_their_beats() -> None:
    tempos = [(tick, int.from_bytes(data, "big")) for tick, data in day().metas(TEMPO)]
    assert tempos == [(0, 1_000_000), (4 * PPQ, 900_000), (17 * PPQ // 2, 500_000)]


def test_a_meter_is_written_where_it_changes() -> None:
    assert [(tick // PPQ, data[0], data[1]) for tick, data in day().metas(METER)] == [(0, 4, 2), (8, 6, 3), (11, 4, 2)]


def test_a_key_is_written_where_it_changes() -> None:
    # B flat minor: five flats (FB), minor (01)
    assert day().metas(KEY) == [(0, b"\x00\x00"), (8 * PPQ, b"\xfb\x01")]


def test_the_key_is_that_which_sounds() -> None:
    # a B flat clarinet reads D major (two sharps) where C major sounds
    marks = (KeyMark(Beats(0), written=key("D major"), sounding=key("C major")),)
    assert read(smf_bytes(score(4, keys=marks))).metas(KEY) == [(0, b"\x00\x00")]


def test_markers_cues_and_breaths_stand_at_their_beats() -> None:
    assert day().metas(MARKER) == [(0, b"slow chromatic"), (8 * PPQ, b"turning scale")]
    assert day().metas(CUE) == [(4 * PPQ, b"next: Eb major - soft")]
    assert day().metas(TEXT) == [(7 * PPQ, b"breath")]


def test_the_signs_of_the_trade_are_ascii_and_other_alphabets_utf_8() -> None:
    words = "F♯ → C𝄪,\nnon\N{NO-BREAK SPACE}legato, 練習 é"
    file = read(smf_bytes(score(4, title=words, cues=(Cue(Beats(0), words, ""),))))
    expected = "F# -> Cx, non legato, 練習 é"
    assert file.names()[0] == expected
    assert file.metas(CUE) == [(0, expected.encode("utf-8"))]
