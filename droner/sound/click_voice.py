"""Sound the clicks, each on its exact frame.

Rule    the first sample of a click, its highest, falls on the frame of its onset. What would ring past
        the end of the score is cut off.
Units   frames; `Click.gain` is a factor of amplitude.
"""

from __future__ import annotations

from collections.abc import Iterable
from copy import copy

import numpy as np

from droner.score.score import Click, ClickKind
from droner.sound.click_sound import click_sound
from droner.sound.k_weighting import weighted_energy
from droner.sound.loudness import Energy
from droner.sound.spans import Spans
from droner.sound.timeline import Timeline
from droner.sound.voice import Peaks, Samples

_KINDS = tuple(ClickKind)
ROW = np.dtype([("start", np.int64), ("kind", np.int8), ("gain", np.float32)])
FINER = 8
"""A peak is looked for at so many places a sample."""


class ClickVoice:
    """The click part: where each click starts, its kind and its gain, in three columns."""

    def __init__(self, clicks: Iterable[Click], timeline: Timeline, factor: float) -> None:
        self._rate_hz = timeline.rate_hz
        self._sounds = [click_sound(kind, timeline.rate_hz) for kind in _KINDS]
        rows = np.fromiter(
            (
                (timeline.frame(click.onset), _KINDS.index(click.kind), click.gain * factor)
                for click in clicks
                if click.gain > 0
            ),
            ROW,
        )
        self._starts, self._kinds, self._gains = (rows[name].copy() for name in ("start", "kind", "gain"))
        lengths = np.array([len(sound) for sound in self._sounds], dtype=np.int64)
        self._stops = self._starts + lengths[self._kinds]
        self._spans = Spans(self._starts, self._stops)

    def add_to(self, bus: Samples, start: int) -> None:
        """Add every click that sounds from frame `start` on."""
        for number in self._spans.within(start, start + len(bus)):
            onset = int(self._starts[number])
            first, last = max(onset, start), min(int(self._stops[number]), start + len(bus))
            sound = self._sounds[self._kinds[number]][first - onset : last - onset]
            bus[first - start : last - start] += sound * self._gains[number]

    def turned_down(self, factor: float) -> ClickVoice:
        """The same clicks, every one softer by a factor."""
        softer = copy(self)
        softer._gains = self._gains * np.float32(factor)  # noqa: SLF001 - a copy of our own
        return softer

    def add_energy(self, energy: Energy, factors: tuple[float, ...]) -> None:
        """Add every click's weighted energy, spread over as long as it lasts, summed over the channels."""
        weighted = [weighted_energy(sound.astype(np.float64), self._rate_hz) for sound in self._sounds]
        channels = sum(factor * factor for factor in factors)
        powers = channels * np.array(weighted)[self._kinds] * self._gains.astype(np.float64) ** 2
        energy.add_all(self._starts, self._stops, powers / (self._stops - self._starts))

    def peaks(self) -> Peaks:
        """Every click at its highest for as long as it lasts."""
        highest = np.array([_true_peak(sound) for sound in self._sounds])
        return Peaks(self._starts, self._stops, highest[self._kinds] * self._gains)


def _true_peak(sound: Samples) -> float:
    """The highest level of a click, between its samples too."""
    spectrum = np.fft.rfft(sound, 2 * len(sound))
    between = np.fft.irfft(spectrum, FINER * 2 * len(sound)) * FINER
    return float(np.max(np.abs(between)))
