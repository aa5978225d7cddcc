"""Find how loud the guide is, at every frame of a note.

Rule    velocity is drawn with straight lines through the points of `shape`, then turned into amplitude;
        accent, attack and the pulses of a measured vibrato change it in decibels. A place in `shape` counts
        along the written length. Pulses count the meter's beat, from the start of the note, at the tempo of
        each moment.
Units   frames from the start of the note; factors of amplitude, 1 at velocity 127.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from fractions import Fraction
from functools import cache

import numpy as np

from droner.score.score import Attack, Bar, SoloNote
from droner.sound.guide_table import ACCENT_DB, ATTACKS, PULSE_DEPTH_DB
from droner.sound.levels import factor, velocity_factor
from droner.sound.timeline import Timeline
from droner.sound.voice import Amounts
from droner.units import Beats


def _steady_factor(note: SoloNote) -> float:
    return _start_factor(note.attack, is_accented=note.accent)


@cache
def _start_factor(attack: Attack, *, is_accented: bool) -> float:
    return factor(ACCENT_DB * is_accented - ATTACKS[attack].softer_db)


def is_moving(note: SoloNote) -> bool:
    """Whether the loudness moves inside the note."""
    return bool(note.shape or note.pulses)


def steady_level(note: SoloNote) -> float:
    """The amplitude of a note whose loudness does not move."""
    return velocity_factor(note.velocity) * _steady_factor(note)


def highest_level(note: SoloNote) -> float:
    """The highest amplitude that the note reaches."""
    loudest = max([velocity for _, velocity in note.shape] + [note.velocity])
    return velocity_factor(loudest) * _steady_factor(note)


def beat_at(bars: Sequence[Bar], moment: Beats) -> Beats:
    """The beat of the meter at a moment; a quarter where there are no bars."""
    place = bisect_right(bars, moment, key=lambda bar: bar.onset) - 1
    return bars[max(place, 0)].meter.beat if bars else Beats(1)


def level_along(note: SoloNote, beat: Beats, timeline: Timeline, frames: Amounts) -> Amounts:
    """The amplitude so many frames after the start of the note, without its rise and fall."""
    level = np.full(len(frames), steady_level(note))
    if note.shape:
        drawn = _velocity_along(note, timeline, frames) / note.velocity
        level *= drawn * drawn
    if note.pulses:
        depth = 1 - factor(-PULSE_DEPTH_DB)
        pulses = _quarters_along(note, timeline, frames) * (note.pulses / float(beat))
        level *= 1 - depth * (0.5 - 0.5 * np.cos(2 * np.pi * pulses))
    return level


def _frames_after_onset(note: SoloNote, timeline: Timeline, moment: Beats) -> float:
    start = timeline.tempo_map.seconds_at(note.onset)
    return float((timeline.tempo_map.seconds_at(moment) - start).exact * timeline.rate_hz)


def _velocity_along(note: SoloNote, timeline: Timeline, frames: Amounts) -> Amounts:
    points = list(note.shape)
    if points[0][0] > 0:
        points.insert(0, (Fraction(0), note.velocity))
    places = [_frames_after_onset(note, timeline, note.onset + note.length * place) for place, _ in points]
    return np.interp(frames, places, [float(velocity) for _, velocity in points])


def _quarters_along(note: SoloNote, timeline: Timeline, frames: Amounts) -> Amounts:
    end = note.onset + note.length
    moments = [note.onset, *timeline.tempo_changes_within(note.onset, end), end]
    places = [_frames_after_onset(note, timeline, moment) for moment in moments]
    return np.interp(frames, places, [float(moment - note.onset) for moment in moments])
