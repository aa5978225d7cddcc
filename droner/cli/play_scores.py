"""Make the scores that a live day needs besides its items': silence, and the drone alone.

Units   beats of one second; lengths in seconds.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from droner.score.score import Score, Tone
from droner.score.tempo_map import tempo_map
from droner.units import Beats

if TYPE_CHECKING:
    from collections.abc import Sequence

A_SECOND_US = 1_000_000
LONGEST = Beats(4 * 60 * 60)
"""How long a MIDI drone alone is held: as long as the longest day."""


def silent_score(title: str, seconds: Fraction, a4_hz: float) -> Score:
    """So many seconds of nothing."""
    return Score(
        title=title,
        a4_hz=a4_hz,
        length=Beats(seconds),
        tempo_map=tempo_map([(Beats(0), A_SECOND_US)]),
        bars=(),
        keys=(),
        markers=(),
        cues=(),
        breaths=(),
        solo=(),
        drone=(),
        changes=(),
        clicks=(),
    )


def tones_at(score: Score, moment: Beats) -> tuple[Tone, ...]:
    """What the drone holds at a moment, else what it begins with, from the start of the score to its end.

    A tone that strays stands where it is written: nobody could follow it for ever.
    """
    sounding = [tone for tone in score.drone if tone.onset <= moment < tone.onset + tone.length]
    first = min((tone.onset for tone in score.drone), default=Beats(0))
    held = sounding or [tone for tone in score.drone if tone.onset == first]
    return tuple(replace(tone, onset=Beats(0), length=score.length, course=()) for tone in held)


def drone_alone(score: Score, tones: Sequence[Tone]) -> Score:
    """A score with nothing but some tones, held as long as anybody practises."""
    bare = silent_score(f"{score.title}: drone only", LONGEST.exact, score.a4_hz)
    return replace(bare, drone=tuple(replace(tone, length=LONGEST) for tone in tones))
