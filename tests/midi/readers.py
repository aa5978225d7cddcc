"""Read a MIDI file with libraries of other people.

Rule    mido iterates a file in seconds by itself. symusic's own conversion adds up in single precision, and was
        measured 8 ms off after an hour of ramps; so its ticks and its tempos are taken, and summed here exactly.
Source  mido (Python), symusic (C++, its own parser, shares no code with mido), music21 (Python, its own parser).
"""

from __future__ import annotations

from collections import defaultdict
from itertools import pairwise
from pathlib import Path
from typing import Any

import mido
import symusic
from music21 import midi as music21_midi

PARTS = ("Solo", "Drone", "Changes", "Click")
Onsets = dict[str, list[float]]
"""Per part the onsets in seconds, rising."""


def mido_onsets(path: Path) -> Onsets:
    """mido forgets the track while it merges, so each part is merged with the conductor alone."""
    whole = mido.MidiFile(path)
    found: Onsets = {}
    for track in whole.tracks[1:]:
        pair = mido.MidiFile(type=1, ticks_per_beat=whole.ticks_per_beat, tracks=[whole.tracks[0], track])
        now, onsets = 0.0, []
        for message in pair:
            now += message.time
            if message.type == "note_on" and message.velocity:
                onsets.append(now)
        found[track.name] = onsets
    return found


def symusic_onsets(path: Path) -> Onsets:
    """symusic makes a track of each channel, so those of one name are put together again."""
    file: Any = symusic.Score(path)
    ticks: defaultdict[str, list[int]] = defaultdict(list)
    for track in file.tracks:
        ticks[track.name] += [one.time for one in track.notes]
    tempos = [(tempo.time, tempo.mspq) for tempo in file.tempos]
    return {name: _seconds(sorted(ticks[name]), tempos, file.ticks_per_quarter) for name in PARTS}


def _seconds(ticks: list[int], tempos: list[tuple[int, int]], division: int) -> list[float]:
    """Whole microseconds times ticks, added up, divided at the end (SMF 1.0: tempo and division)."""
    starts = [0]
    for (onset, quarter_us), (end, _) in pairwise(tempos):
        starts.append(starts[-1] + (end - onset) * quarter_us)
    found, place = [], 0
    for tick in ticks:
        while place + 1 < len(tempos) and tempos[place + 1][0] <= tick:
            place += 1
        onset, quarter_us = tempos[place]
        found.append((starts[place] + (tick - onset) * quarter_us) / (division * 1_000_000))
    return found


def music21_counts(path: Path) -> dict[str, int]:
    """How many notes begin in each named track."""
    file = music21_midi.MidiFile()
    file.open(str(path))
    file.read()
    file.close()
    counts = {}
    for track in file.tracks:
        names: list[Any] = [
            event.data for event in track.events if event.type == music21_midi.MetaEvents.SEQUENCE_TRACK_NAME
        ]
        counts[names[0].decode()] = sum(event.isNoteOn() for event in track.events)
    return counts
