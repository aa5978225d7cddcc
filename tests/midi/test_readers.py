"""Referees: mido, symusic and music21, each reading the file by itself; seconds from exact fractions made here."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
import symusic

from droner.midi.smf_file import write_smf
from droner.score.score import Score
from droner.units import Beats
from tests.midi.readers import PARTS, Onsets, mido_onsets, music21_counts, symusic_onsets
from tests.midi.scores import Tempos, bars, chord, click, key_mark, note, score, tone

AUDIBLE_S = 0.001
"""A millisecond: no two attacks so close are heard apart."""
LEG = 250
"""Beats of one ramp. Twenty-six of them, up and down between crotchet 50 and 200, take an hour."""
LEGS = 26
HOUR_S = 3600


def hour_of_ramps() -> Tempos:
    """A new tempo each beat, up from 50 to 200 and down again."""
    stairs = [50 + Fraction(150 * step, LEG) for step in range(LEG)]
    bpm = [tempo for leg in range(LEGS) for tempo in (stairs if leg % 2 == 0 else stairs[::-1])]
    tempos = [(Fraction(beat), round(60_000_000 / tempo)) for beat, tempo in enumerate(bpm)]
    return [first for first, second in zip(tempos, [(Fraction(-1), 0), *tempos], strict=False) if first[1] != second[1]]


def exact_seconds(tempos: Tempos, moments: list[Fraction]) -> list[Fraction]:
    """Seconds of rising moments: microseconds a quarter, added up beat by beat (SMF 1.0, set tempo)."""
    starts = [Fraction(0)]
    for (onset, quarter_us), (end, _) in pairwise(tempos):
        starts.append(starts[-1] + (end - onset) * Fraction(quarter_us, 1_000_000))
    found, place = [], 0
    for moment in moments:
        while place + 1 < len(tempos) and tempos[place + 1][0] <= moment:
            place += 1
        onset, quarter_us = tempos[place]
        found.append(starts[place] + (moment - onset) * Fraction(quarter_us, 1_000_000))
    return found


def solo_moments(beats: int) -> list[Fraction]:
    """A note a beat, on the parts of it that 2, 3, 5, 7, 9 and, off every tick, 11 and 13 make."""
    divisions = (2, 3, 5, 7, 9, 11, 13)
    return [beat + Fraction(beat % divisions[beat % 7], divisions[beat % 7]) for beat in range(beats)]


def hour_score() -> tuple[Score, dict[str, list[Fraction]]]:
    """The score of an hour, and where every note begins."""
    beats = LEG * LEGS
    solo = solo_moments(beats)
    moments = {
        "Solo": solo,
        "Drone": [Fraction(onset) for onset in range(0, beats, 100) for _ in "DA"],
        "Changes": [Fraction(onset) for onset in range(0, beats, 4) for _ in "CEG"],
        "Click": [Fraction(beat) for beat in range(beats)],
    }
    made = score(
        beats,
        tempos=hour_of_ramps(),
        solo=[note(onset, Fraction(1, 20)) for onset in solo],
        drone=[tone(onset, 100, name) for onset in range(0, beats, 100) for name in ("D3", "A3")],
        changes=[chord(onset, 4, {"C4": 261.0, "E4": 327.0, "G4": 392.5}) for onset in range(0, beats, 4)],
        clicks=[click(beat) for beat in range(beats)],
    )
    return made, moments


def worst_error_s(found: Onsets, expected: dict[str, list[Fraction]]) -> float:
    tempos = hour_of_ramps()
    worst = 0.0
    for part, moments in expected.items():
        assert len(found[part]) == len(moments), part
        exact = exact_seconds(tempos, moments)
        worst = max(worst, *(abs(float(right) - read) for right, read in zip(exact, found[part], strict=True)))
    return worst


def test_an_hour_of_ramps_is_read_within_a_millisecond(tmp_path: Path) -> None:
    made, expected = hour_score()
    assert exact_seconds(hour_of_ramps(), [Fraction(LEG * LEGS)])[0] > HOUR_S
    path = tmp_path / "hour.mid"
    write_smf(path, made)
    worst = {reader.__name__: worst_error_s(reader(path), expected) for reader in (mido_onsets, symusic_onsets)}
    for name, seconds in worst.items():
        print(f"{name}: worst onset {seconds * 1e6:.1f} microseconds off in an hour of ramps")
    assert max(worst.values()) < AUDIBLE_S


def test_the_slowest_tempo_of_a_file_is_read_within_a_millisecond(tmp_path: Path) -> None:
    quarter_us = 0xFFFFFF
    moments = [Fraction(place, 11) for place in range(44)]
    made = score(4, tempos=[(Fraction(0), quarter_us)], solo=[note(onset, Fraction(1, 12)) for onset in moments])
    path = tmp_path / "slow.mid"
    write_smf(path, made)
    for reader in (mido_onsets, symusic_onsets):
        exact = [float(moment * quarter_us / 1_000_000) for moment in moments]
        assert reader(path)["Solo"] == pytest.approx(exact, abs=AUDIBLE_S)


def test_three_readers_count_the_same_notes_and_read_the_same_names(tmp_path: Path) -> None:
    made = score(
        16,
        title="Übung in Fis, 練習",
        solo=[note(Fraction(place, 3), Fraction(1, 3)) for place in range(30)],
        drone=[tone(0, 16, "D3", 146.5), tone(0, 16, "A3", 219.75)],
        changes=[chord(4 * bar, 4, {"D4": 293.0, "F#4": 366.25, "A4": 439.5}) for bar in range(4)],
        clicks=[click(beat) for beat in range(16)],
    )
    path = tmp_path / "counts.mid"
    write_smf(path, made)
    counts = {"Solo": 30, "Drone": 2, "Changes": 12, "Click": 16}
    assert music21_counts(path) == {made.title: 0, **counts}
    for reader in (mido_onsets, symusic_onsets):
        assert {part: len(onsets) for part, onsets in reader(path).items()} == counts
    assert set(counts) == set(PARTS)


def test_symusic_reads_meter_key_tempo_instruments_and_drums(tmp_path: Path) -> None:
    made = score(
        7,
        tempos=[(Fraction(0), 952_381), (Fraction(4), 833_333)],
        bars=bars("4/4", "6/8"),
        keys=(key_mark(0, "Eb minor"), key_mark(4, "E major")),
        solo=[note(0, 1)],
        drone=[tone(0, 7, "D3")],
        changes=[chord(0, 7, {"D4": 293.0})],
        clicks=[click(0)],
    )
    path = tmp_path / "marks.mid"
    write_smf(path, made)
    found: Any = symusic.Score(path)
    quarter = found.ticks_per_quarter
    assert [(m.time, m.numerator, m.denominator) for m in found.time_signatures] == [(0, 4, 4), (4 * quarter, 6, 8)]
    assert [(k.time, k.key, k.tonality) for k in found.key_signatures] == [(0, -6, 1), (4 * quarter, 4, 0)]
    assert [(t.time, t.mspq) for t in found.tempos] == [(0, 952_381), (4 * quarter, 833_333)]
    # General MIDI level 1, counted from 0: 73 flute, 20 reed organ; channel 10 is percussion
    assert {(t.name, t.program, t.is_drum) for t in found.tracks} == {
        ("Solo", 73, False),
        ("Drone", 20, False),
        ("Changes", 20, False),
        ("Click", 0, True),
    }
    assert found.end() == made.length.ratio(Beats(1)) * quarter
