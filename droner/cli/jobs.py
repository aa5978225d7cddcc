"""Say how one file is written: the bridge from a score to the sound and the MIDI floor.

Rule    a floor is loaded only when a file of its kind is written.
Units   work in frames; a MIDI file is none.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

    from droner.midi.balance import Balance
    from droner.score.score import Score
    from droner.sound.mix import Mix
    from droner.sound.tags import Tags

RATE_HZ = 48_000
Told = Callable[[int], None]
"""Is told the frames done so far; may raise to end the work between two blocks."""


@dataclass(frozen=True, slots=True)
class Job:
    """One file to be: how much work it is, and what writes it."""

    path: Path
    work: int
    write: Callable[[Told], None]


def audio_job(path: Path, form: str, score: Score, mix: Mix, tags: Tags) -> Job:
    """The score as an audio file."""

    def write(told: Told) -> None:
        from droner.sound.audio_file import write_audio  # noqa: PLC0415 - only when audio is asked for

        write_audio(path, score, mix, form, tags, progress=told, rate_hz=RATE_HZ)

    return Job(path, int(float(score.duration) * RATE_HZ), write)


def midi_job(path: Path, score: Score, balance: Balance | None) -> Job:
    """The score as a MIDI file; no balance: an even one."""

    def write(told: Told) -> None:
        from droner.midi.balance import EVEN_BALANCE  # noqa: PLC0415 - only when MIDI is asked for
        from droner.midi.smf_file import write_smf  # noqa: PLC0415

        write_smf(path, score, balance or EVEN_BALANCE, still_wanted=lambda: told(0))

    return Job(path, 0, write)
