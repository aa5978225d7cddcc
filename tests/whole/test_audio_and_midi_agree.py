"""After an hour of ramps audio and MIDI still agree: every onset where the score says, to the tick and to the frame.

Referee  the exact second of each beat, summed here in fractions from the tempos, apart from the tempo map's own
         arithmetic. The MIDI file is read by mido, which turns ticks into seconds itself, and by symusic (C++, no code
         shared). The audio is rendered, and the first sample of a click that is not silence is looked for.
Bounds   a millisecond is far under what two players hear as together (20 ms or so, from memory). Ticks round a
         moment by half a tick, 0.05 ms at 60; mido adds up doubles. symusic's own conversion is single precision
         throughout, so it is only held to what such sums can lose in an hour.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Callable
from fractions import Fraction
from itertools import accumulate, pairwise
from pathlib import Path
from typing import Any

import mido
import numpy as np
import pytest
import symusic

from droner.midi.smf_file import write_smf
from droner.score.score import Score
from droner.sound.mix import EachPart, Mix
from droner.sound.render import frames_of, render_blocks
from droner.units import Beats
from tests.midi.readers import PARTS, mido_onsets, symusic_onsets
from tests.whole.hour import HOUR_SECONDS, hour_of_ramps

ONE_MS = 0.001
SINGLE_PRECISION_MS = 0.020
"""What sums in 24 bits may lose in an hour of ramps; measured 2 to 8 ms."""
RATES_HZ = (48_000, 44_100)
WINDOWS = 60
BEFORE_FRAMES, AFTER_FRAMES = 1_500, 200
ALONE_SECONDS = Fraction(1, 20)
"""A click is looked for where the one before it has died away: the longest lasts 30 ms."""
OFF = float("-inf")
CLICK_ALONE = Mix(gain_db=EachPart(drone=OFF, changes=OFF, guide=OFF))


@pytest.fixture(scope="module")
def score() -> Score:
    return hour_of_ramps()


@pytest.fixture(scope="module")
def exact(score: Score) -> Callable[[Beats], Fraction]:
    """The exact second of a beat: whole microseconds times beats, added up segment by segment."""
    onsets = [segment.onset.exact for segment in score.tempo_map.segments]
    quarters = [segment.quarter_us for segment in score.tempo_map.segments]
    spans = [(end - start) * quarter for start, end, quarter in zip(onsets, onsets[1:], quarters, strict=False)]
    starts = list(accumulate(spans, initial=Fraction(0)))

    def second(moment: Beats) -> Fraction:
        place = bisect_right(onsets, moment.exact) - 1
        return (starts[place] + (moment.exact - onsets[place]) * quarters[place]) / 1_000_000

    return second


@pytest.fixture(scope="module")
def file(score: Score, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("hour") / "ramps.mid"
    write_smf(path, score)
    return path


def onsets(score: Score, exact: Callable[[Beats], Fraction]) -> dict[str, list[float]]:
    """The exact second of everything struck, part by part, rising."""
    moments = {
        "Solo": [note.onset for note in score.solo],
        "Drone": [tone.onset for tone in score.drone],
        "Changes": [tone.onset for chord in score.changes for tone in chord.tones],
        "Click": [click.onset for click in score.clicks if click.gain > 0],
    }
    return {part: sorted(float(exact(moment)) for moment in found) for part, found in moments.items()}


def test_the_hour_is_an_hour_of_ramps_in_many_meters_with_fives_and_sevens(score: Score) -> None:
    assert float(score.duration) >= HOUR_SECONDS
    assert len(score.tempo_map.segments) > 1000
    meters = {str(bar.meter) for bar in score.bars}
    assert {"4/4", "12/8", "3+2/4", "2+2+3/4", "3/4", "6/8"} <= meters
    denominators = Counter(note.onset.exact.denominator for note in score.solo)
    assert denominators[5] > 100
    assert denominators[7] > 100


def worst(found: dict[str, list[float]], wanted: dict[str, list[float]]) -> float:
    errors = []
    for part in PARTS:
        assert len(found[part]) == len(wanted[part]), part
        errors += [abs(one - other) for one, other in zip(found[part], wanted[part], strict=True)]
    return max(errors)


def test_mido_hears_every_onset_within_a_millisecond(
    score: Score, exact: Callable[[Beats], Fraction], file: Path, record_property: Callable[[str, object], None]
) -> None:
    error = worst(mido_onsets(file), onsets(score, exact))
    record_property("worst_ms", error * 1000)
    print(f"mido: worst onset {error * 1e9:.3f} ns off in {float(score.duration):.0f} s")
    assert error < ONE_MS


def test_symusic_reads_ticks_and_tempos_that_put_every_onset_within_a_millisecond(
    score: Score, exact: Callable[[Beats], Fraction], file: Path, record_property: Callable[[str, object], None]
) -> None:
    error = worst(symusic_onsets(file), onsets(score, exact))
    record_property("worst_ms", error * 1000)
    print(f"symusic, its ticks and tempos: worst onset {error * 1e9:.3f} ns off")
    assert error < ONE_MS


def test_symusic_in_its_own_seconds_is_off_by_no_more_than_single_precision_loses(
    score: Score, exact: Callable[[Beats], Fraction], file: Path, record_property: Callable[[str, object], None]
) -> None:
    read: Any = symusic.Score(str(file), ttype="second")
    found: dict[str, list[float]] = {part: [] for part in PARTS}
    for track in read.tracks:
        found[track.name] += [note.time for note in track.notes]
    error = worst({part: sorted(times) for part, times in found.items()}, onsets(score, exact))
    record_property("worst_ms", error * 1000)
    print(f"symusic, its own seconds in single precision: worst onset {error * 1000:.4f} ms off")
    assert error < SINGLE_PRECISION_MS


def test_mido_hears_every_solo_note_end_within_a_millisecond(
    score: Score, exact: Callable[[Beats], Fraction], file: Path
) -> None:
    whole = mido.MidiFile(file)
    solo = next(track for track in whole.tracks if track.name == "Solo")
    now, ends = 0.0, []
    for message in mido.MidiFile(type=1, ticks_per_beat=whole.ticks_per_beat, tracks=[whole.tracks[0], solo]):
        now += message.time
        if message.type == "note_off" or (message.type == "note_on" and not message.velocity):
            ends.append(now)
    wanted = sorted(float(exact(note.onset + note.sounded)) for note in score.solo)
    assert max(abs(one - other) for one, other in zip(ends, wanted, strict=True)) < ONE_MS


def test_the_file_ends_when_the_score_does(score: Score, file: Path) -> None:
    assert abs(mido.MidiFile(file).length - float(score.duration)) < ONE_MS


@pytest.mark.parametrize("rate_hz", RATES_HZ)
def test_a_click_starts_on_the_very_frame_of_its_exact_second(
    score: Score, exact: Callable[[Beats], Fraction], rate_hz: int
) -> None:
    moments = [exact(click.onset) for click in score.clicks]
    alone = [now for before, now in pairwise(moments) if now - before > ALONE_SECONDS]
    spread = alone[:: len(alone) // WINDOWS]
    assert spread[-1] > HOUR_SECONDS * Fraction(95, 100)
    errors = set()
    for moment in spread:
        frame = int((moment * rate_hz * 2 + 1) // 2)  # rounded once, half up
        start = max(frame - BEFORE_FRAMES, 0)
        window = np.concatenate(
            list(render_blocks(score, CLICK_ALONE, rate_hz, start=start, stop=frame + AFTER_FRAMES))
        )
        heard = np.flatnonzero(np.abs(window[:, 0]))
        errors.add(start + int(heard[0]) - frame)
    print(f"clicks at {rate_hz} Hz: {len(spread)} looked for, frames off: {sorted(errors)}")
    assert errors == {0}


def test_the_track_is_as_long_as_the_score_to_the_frame(score: Score, exact: Callable[[Beats], Fraction]) -> None:
    for rate_hz in RATES_HZ:
        assert frames_of(score, rate_hz) == int((exact(score.length) * rate_hz * 2 + 1) // 2)
