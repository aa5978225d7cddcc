"""Turn a score into samples, block by block.

Rule    a track lasts exactly as long as its score: tones end inside it, nothing is added after it. Any
        stretch can be asked for at once, and is the same as that stretch of the whole. Memory does not grow
        with the length: only one block of samples exists at a time.
Units   frames from the start of the score; samples at full scale 1, shape (frames, channels).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from droner.score.score import Score
from droner.sound.click_voice import ClickVoice
from droner.sound.guide_voice import GuideVoice
from droner.sound.headroom import steady_gain
from droner.sound.held import Held
from droner.sound.held_voice import HeldVoice, changes_tones, drone_tones
from droner.sound.levels import factor
from droner.sound.mix import Mix
from droner.sound.timeline import Timeline
from droner.sound.voice import Samples, Voice
from droner.units import Frames, frame_at

LEFT_OUT = float("-inf")
RATE_HZ = 48_000
BLOCK_FRAMES = 32_768
"""Frames a block: enough rows for one product of matrices, small enough for the processor's second memory."""


class Desk:
    """The voices of a score, put together as the mix says."""

    def __init__(self, score: Score, mix: Mix, rate_hz: int) -> None:
        timeline = Timeline(score.tempo_map, rate_hz)
        gain, pan = mix.gain_db, mix.pan
        held: list[tuple[float, list[Held]]] = []
        if gain.drone > LEFT_OUT:
            held.append((pan.drone, drone_tones(score, timeline, gain.drone, mix.timbre)))
        if gain.changes > LEFT_OUT:
            held.append((pan.changes, changes_tones(score, timeline, gain.changes)))
        self._buses: dict[tuple[float, ...], list[Voice]] = {}
        for factors, tones in _by_bus(held, mix).items():
            self._buses.setdefault(factors, []).append(HeldVoice(tones, rate_hz))
        if gain.click > LEFT_OUT:
            click = ClickVoice(score.clicks, timeline, factor(gain.click))
            self._buses.setdefault(mix.channel_factors(pan.click), []).append(click)
        if mix.guide and gain.guide > LEFT_OUT:
            guide = GuideVoice(score, timeline, gain.guide)
            self._buses.setdefault(mix.channel_factors(pan.guide), []).append(guide)
        self.channels = mix.channel_count
        self.steady_gain = steady_gain(voice.peaks() for voices in self._buses.values() for voice in voices)

    def block(self, start: int, frames: int) -> Samples:
        """The samples of every channel from frame `start` on."""
        out = np.zeros((frames, self.channels), dtype=np.float32)
        for factors, voices in self._buses.items():
            bus = np.zeros(frames, dtype=np.float32)
            for voice in voices:
                voice.add_to(bus, start)
            for channel, part in enumerate(factors):
                out[:, channel] += bus * np.float32(part * self.steady_gain)
        return out


def _by_bus(held: Iterable[tuple[float, list[Held]]], mix: Mix) -> dict[tuple[float, ...], list[Held]]:
    """The held tones of all parts that stand at the same place: they are made together."""
    buses: dict[tuple[float, ...], list[Held]] = {}
    for place, tones in held:
        buses.setdefault(mix.channel_factors(place), []).extend(tones)
    return buses


def frames_of(score: Score, rate_hz: int = RATE_HZ) -> Frames:
    """How many frames the track of a score has."""
    return frame_at(score.duration, rate_hz)


def render_blocks(
    score: Score,
    mix: Mix,
    rate_hz: int = RATE_HZ,
    *,
    start: int = 0,
    stop: int | None = None,
    block_frames: int = BLOCK_FRAMES,
) -> Iterator[Samples]:
    """The samples of a score from frame `start` up to `stop` (the end when None), a block at a time."""
    desk = Desk(score, mix, rate_hz)
    total = frames_of(score, rate_hz)
    end = total if stop is None else min(stop, total)
    for first in range(start, end, block_frames):
        yield desk.block(first, min(block_frames, end - first))
