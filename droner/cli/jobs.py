"""Say how one file is written: the bridge from a score to the sound and the MIDI floor.

Rule    a floor is loaded only when a file of its kind is written. A job can be sent to another process.
Units   work in frames; a MIDI file is none.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from droner.cli.form_table import MIDI_FORM

if TYPE_CHECKING:
    from pathlib import Path

    from droner.midi.balance import Balance
    from droner.score.score import Score
    from droner.sound.mix import Mix
    from droner.sound.tags import Tags

RATE_HZ = 48_000
Told = Callable[[int], None]
"""Is told the frames done so far; may raise to end the work between two blocks."""


class Job(Protocol):
    """One file to be."""

    @property
    def path(self) -> Path:
        """Where it will stand."""

    @property
    def work(self) -> int:
        """How much work it is."""

    def write(self, told: Told) -> None:
        """Write it."""


@dataclass(frozen=True, slots=True)
class AudioJob:
    """A score as an audio file."""

    path: Path
    form: str
    score: Score
    mix: Mix
    tags: Tags

    @property
    def work(self) -> int:
        """Its frames."""
        return int(float(self.score.duration) * RATE_HZ)

    def write(self, told: Told) -> None:
        """Write the file."""
        from droner.sound.audio_file import write_audio  # noqa: PLC0415 - only when audio is asked for

        write_audio(self.path, self.score, self.mix, self.form, self.tags, progress=told, rate_hz=RATE_HZ)


@dataclass(frozen=True, slots=True)
class MidiJob:
    """A score as a MIDI file; no balance: an even one."""

    path: Path
    score: Score
    balance: Balance | None

    @property
    def work(self) -> int:
        """None to speak of."""
        return 0

    def write(self, told: Told) -> None:
        """Write the file."""
        from droner.midi.balance import EVEN_BALANCE  # noqa: PLC0415 - only when MIDI is asked for
        from droner.midi.smf_file import write_smf  # noqa: PLC0415

        write_smf(self.path, self.score, self.balance or EVEN_BALANCE, still_wanted=lambda: told(0))


def job_of(
    path: Path, form: str, score: Score, heard: Score, mix: Mix, tags: Tags, balance: Balance | None = None
) -> Job:
    """The job of one file: a MIDI file holds the whole score, an audio file what is heard of it."""
    return MidiJob(path, score, balance) if form == MIDI_FORM else AudioJob(path, form, heard, mix, tags)
