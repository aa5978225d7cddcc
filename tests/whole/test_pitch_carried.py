"""The hertz of the score arrive: by key and bend in the MIDI file, part by part.

Referee  mido reads the file; a synthesiser with a bend range of two half-steps plays key and bend at A4 = 440 (MIDI 1.0
         RPN 0, MIDI Tuning Standard key 69). One step of such a bend is 0.0244 cents (arithmetic).
"""

from __future__ import annotations

from collections import defaultdict
from math import log2
from pathlib import Path

import mido
import pytest

from droner.midi.smf_file import write_smf
from droner.score.score import Score
from tests.score.composed import composed, manner

HALF_A_STEP_CENTS = 2 * 100 / 8192 / 2
ROUNDING_CENTS = 1e-6
BLOCKS = (
    'drill = "curving study"\ndrone = "tonic and fifth"',
    'drill = "every triad of each note"\ndrone = "under each degree"\nchanges = "as played"',
    'drill = "five-note cells"\ndrone = "under each degree"\nchanges = "as played"',
    'drill = "partials"\ndrone = "under each degree"',
)


def heard(file: Path) -> dict[str, list[float]]:
    """Per track, the hertz of each note in order of onset, the lowest first."""
    found: dict[str, list[float]] = {}
    for track in mido.MidiFile(file).tracks[1:]:
        bends: defaultdict[int, int] = defaultdict(int)
        notes, now = [], 0
        for message in track:
            now += message.time
            if message.type == "pitchwheel":
                bends[message.channel] = message.pitch
            elif message.type == "note_on" and message.velocity and message.channel != 9:
                half_steps = message.note - 69 + 2 * bends[message.channel] / 8192
                notes.append((now, 440 * 2 ** (half_steps / 12)))
        found[track.name] = [hz for _, hz in sorted(notes)]
    return found


def wanted(score: Score) -> dict[str, list[float]]:
    chords = [(chord.onset.exact, tone.hz) for chord in score.changes for tone in chord.tones]
    return {
        "Solo": [note.hz for note in score.solo],
        "Drone": [hz for _, hz in sorted((tone.onset.exact, tone.hz) for tone in score.drone)],
        "Changes": [hz for _, hz in sorted(chords)],
    }


@pytest.mark.parametrize("temperament", ["just", "equal", "werckmeister 3"])
@pytest.mark.parametrize("block", BLOCKS, ids=[block.partition("\n")[0] for block in BLOCKS])
def test_every_note_of_the_file_is_within_half_a_bend_step_of_the_score(
    block: str, temperament: str, tmp_path: Path
) -> None:
    key = None if "partials" in block else "F# major"
    top = f'[tuning]\na4 = 443\ntemperament = "{temperament}"'
    score = composed(block, key=key, played=manner("even in four"), top=top).score
    write_smf(tmp_path / "one.mid", score)
    found, worst = heard(tmp_path / "one.mid"), 0.0
    for part, hertz in wanted(score).items():
        assert len(found[part]) == len(hertz), part
        worst = max([worst, *(abs(1200 * log2(one / other)) for one, other in zip(found[part], hertz, strict=True))])
    print(f"{block.splitlines()[0]}, {temperament}: worst {worst:.4f} cents")
    assert worst <= HALF_A_STEP_CENTS + ROUNDING_CENTS
