"""Make the drone part of an item out of what its drone holds: silences, returns, ghosts, softer from day to day.

Rule    chords are tuned to what the drone holds, as if it never stopped and never came back off.
Units   decibels; sessions are counted from 0, those before today's.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from droner.score.ground import drone_tones
from droner.score.high_tones import ghosts, has_high_tones, high_tones
from droner.score.score import Answer
from droner.score.silences import heard_in, soundings

if TYPE_CHECKING:
    from collections.abc import Sequence

    from droner.practice.item import Item
    from droner.practice.pattern import DroneKind
    from droner.practice.session import Session
    from droner.score.score import SoloNote, Tone
    from droner.score.tunings import ItemTuning


@dataclass(frozen=True, slots=True)
class DronePart:
    """The tones that sound, and how far each return was off."""

    tones: tuple[Tone, ...]
    answers: tuple[Answer, ...] = ()


def held_tones(item: Item, session: Session, tunings: ItemTuning) -> tuple[Tone, ...]:
    """What the drone of an item holds, without silences; chords are tuned to it."""
    if item.drone.degrees and has_high_tones(item):
        return high_tones(item, session, tunings)
    return drone_tones(item, session, tunings)


def drone_part(
    item: Item,
    session: Session,
    tunings: ItemTuning,
    held: Sequence[Tone],
    solo: Sequence[SoloNote],
    sessions_before: int,
) -> DronePart:
    """The drone part, from the tones that `held_tones` gave and the solo as it sounds.

    `sessions_before`: how many sessions there were before today's.
    """
    if not held:
        return DronePart(())
    tones = [*held, *ghosts(item, session, tunings, solo)]
    softer_db = softer(item.drone, sessions_before)
    tones = [replace(tone, gain_db=tone.gain_db - softer_db) for tone in tones] if softer_db else tones
    when = soundings(item, session.seed, sessions_before)
    answers = [Answer(one.onset, float(one.off_cents)) for one in when if one.off_cents is not None]
    ordered = sorted(heard_in(when, tones), key=lambda tone: tone.onset)
    return DronePart(tuple(ordered), tuple(answers))


def softer(kind: DroneKind, sessions_before: int) -> float:
    """By how many decibels the drone is softer today: evenly from session to session, then as soft as that."""
    if not kind.softer_over:
        return 0.0
    return float(kind.softer_db * min(sessions_before, kind.softer_over) / kind.softer_over)
