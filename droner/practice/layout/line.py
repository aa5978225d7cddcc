"""A drill laid out in a key over a compass: its notes in order, before any rhythm.

Rule    pitches are written pitches, as the player reads them. Every note says what its cell stands on, so that a
        drone can move under it and a chord can follow it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from droner.theory.key import Key
from droner.theory.pitch import NoteName

if TYPE_CHECKING:
    from droner.theory.chord import Chord
    from droner.theory.pitch import Pitch
    from droner.units import Beats

UNKEYED = Key(NoteName(0), "major")
"""Where degrees and numerals are counted from in a line that has no key."""


@dataclass(frozen=True, slots=True)
class LaidNote:
    """One note of a line.

    `root` is the note that its cell stands on; `cell` counts cells from 0; `opens` marks the first of a cell;
    `turns` marks a note where the path changes direction; `length` is the drill's own length, None when the
    variant's rhythm decides; `pulses` counts vibrato pulses a beat. A study writes where each note falls
    (`at`, from its first bar) and after which it breathes (`breathes`).
    """

    pitch: Pitch
    root: Pitch
    cell: int
    opens: bool = False
    turns: bool = False
    length: Beats | None = None
    chord: Chord | None = None
    pulses: int = 0
    at: Beats | None = None
    breathes: bool = False


@dataclass(frozen=True, slots=True)
class Line:
    """The notes of a drill in one key. `home` is the tonic that it rests on."""

    notes: tuple[LaidNote, ...]
    home: Pitch


@dataclass(frozen=True, slots=True)
class DoesNotFit:
    """Why a drill cannot be laid out: a note that the compass lacks, and the limit it passes.

    `why` says it in words where it is not the compass that fails.
    """

    drill: str
    key: str
    needed: Pitch
    limit: Pitch
    why: str = ""

    def __str__(self) -> str:
        if self.why:
            return f"{self.drill}: {self.why}"
        side = "above the top" if self.needed.midi > self.limit.midi else "below the bottom"
        where = f" in {self.key}" if self.key else ""
        return f"{self.drill}{where} needs {self.needed.spoken}, {side} of this compass ({self.limit.spoken})"


def at_home(notes: list[LaidNote], home: Pitch, *, rests: bool = False, chord: Chord | None = None) -> Line:
    """The line, with the tonic added where it does not end there. `rests`: it ends where it ends."""
    if rests or notes[-1].pitch == home:
        return Line(tuple(notes), home)
    return Line((*notes, LaidNote(home, home, notes[-1].cell + 1, opens=True, chord=chord)), home)
