"""Find the weighted energy of tones that move, alone and where their partials meet others.

Rule    the power of a moving tone follows its level. Where partials of two tones come close enough to swing, what they
        give together is looked at so often that no swing is missed; where they are further apart, it is nothing.
        Tones on one course keep their ratios, so that partials which meet stay together all along it.
Units   frames; powers are weighted mean squares at full scale 1; hz in hertz. `widest_hz` is the fastest swing.
Source  the mean of the square of a sum of sines (trigonometry).
"""

from __future__ import annotations

from itertools import combinations, product

import numpy as np

from droner.sound.additive import Sounding
from droner.sound.drift import OCTAVE_CENTS, Drift
from droner.sound.loudness import Energy
from droner.sound.meetings import Meeting, meetings
from droner.sound.voice import Amounts

Drifting = tuple[Sounding, Drift | None]
"""A tone and how it moves; None: it stands still."""


def add_own(energy: Energy, power: float, drift: Drift, first: float, last: float) -> None:
    """Add the power of tones at their levels."""
    if drift.swells:
        energy.add_changing(first, last, lambda frames: power * drift.factors(frames) ** 2)
    else:
        energy.add(first, last, power)


def add_within(
    energy: Energy, tones: tuple[Sounding, ...], drift: Drift, own: float, span: tuple[float, float], widest_hz: float
) -> None:
    """Add what tones on one course give beyond their own powers."""
    for one, other in combinations(tones, 2):
        _add_pair(energy, (one, drift), (other, drift), own, span, widest_hz)


def add_between(
    energy: Energy,
    some: tuple[tuple[Sounding, ...], Drift | None],
    others: tuple[tuple[Sounding, ...], Drift | None],
    together: float,
    span: tuple[float, float],
    widest_hz: float,
) -> None:
    """Add what some tones and others give beyond their own powers."""
    for one, other in product(some[0], others[0]):
        _add_pair(energy, (one, some[1]), (other, others[1]), together, span, widest_hz)


def _add_pair(
    energy: Energy, one: Drifting, other: Drifting, together: float, span: tuple[float, float], widest_hz: float
) -> None:
    first, last = span
    apart_cents = sum(drift.widest_cents for _, drift in (one, other) if drift) if one[1] is not other[1] else 0.0
    found = meetings(one[0], other[0], apart_cents, widest_hz)
    if last <= first or not found or not together:
        return

    def power(frames: Amounts) -> Amounts:
        level = together * _factors(one[1], frames) * _factors(other[1], frames)
        runs = _run(one[1], frames), _run(other[1], frames)
        rates = _rate(one[1], frames), _rate(other[1], frames)
        return level * sum(_swing(meeting, runs, rates, energy.rate_hz, widest_hz) for meeting in found)

    energy.add_changing(first, last, power)


def _swing(
    meeting: Meeting, runs: tuple[Amounts, Amounts], rates: tuple[Amounts, Amounts], rate_hz: int, widest_hz: float
) -> Amounts:
    turns = (meeting.hz * runs[0] - meeting.other_hz * runs[1]) / rate_hz + meeting.turns
    close = np.abs(meeting.hz * rates[0] - meeting.other_hz * rates[1]) < widest_hz
    swing: Amounts = np.where(close, meeting.height * np.cos(2 * np.pi * turns), 0.0)
    return swing


def _run(drift: Drift | None, frames: Amounts) -> Amounts:
    return drift.run(frames) if drift else frames


def _rate(drift: Drift | None, frames: Amounts) -> Amounts:
    rate: Amounts = np.exp2(drift.cents(frames) / OCTAVE_CENTS) if drift else np.ones_like(frames)
    return rate


def _factors(drift: Drift | None, frames: Amounts) -> Amounts:
    return drift.factors(frames) if drift else np.ones_like(frames)
