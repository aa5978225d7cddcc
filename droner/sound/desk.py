"""Put the voices of a score together as the mix says, and as loud as a track should be.

Rule    parts that stand at the same place share a bus. How loud the whole will be is worked out from the score, before
        a sample is made: one steady gain brings it to its loudness, and another turns the clicks down where their
        peaks would not let it. How high it can rise is known from its voices' bounds; only where these leave it too
        little room is it made once to be measured, there. A track of a drone alone is a little softer.
        What the score itself makes softer stays so: the track is as loud as if its tones had the level of their part.
Units   frames from the start of the score; samples at full scale 1, shape (frames, channels).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np

from droner.score.columns import different, with_each
from droner.score.score import ChordEvent, Score, Tone
from droner.sound.click_voice import ClickVoice
from droner.sound.guide_voice import GuideVoice
from droner.sound.headroom import Heights, Stairs, all_heights, ceiling_at, gains, stairs, wished_gain
from droner.sound.held import Held
from droner.sound.held_voice import HeldVoice, changes_tones, drone_tones
from droner.sound.levels import DRONE_LUFS, MIX_LUFS, factor
from droner.sound.loudness import Energy
from droner.sound.mix import Mix
from droner.sound.timeline import Timeline
from droner.sound.tone_power import Factors, Placed, add_held, add_notes
from droner.sound.voice import Peaks, Samples, Voice
from droner.units import frame_at

LEFT_OUT = float("-inf")
MEASURED_FRAMES, WINDOW_FRAMES = 65_536, 512
BETWEEN_SAMPLES = 1.06
"""A wave may rise higher between two samples: at 48 kHz by so much for what lies below 5 kHz, 1 / cos(5 pi / 48)."""
Buses = dict[Factors, list[Voice]]


class Desk:
    """The voices of a score on their buses, with the gains that make a track of them."""

    def __init__(self, score: Score, mix: Mix, rate_hz: int) -> None:
        timeline = Timeline(score.tempo_map, rate_hz)
        tones = _held(score, mix, timeline)
        guide = GuideVoice(score, timeline, mix.gain_db.guide) if mix.guide and _is_in(mix.gain_db.guide) else None
        click = ClickVoice(score.clicks, timeline, factor(mix.gain_db.click)) if _is_in(mix.gain_db.click) else None
        energy = Energy(frame_at(score.duration, rate_hz), rate_hz)
        add_held(energy, _held(_at_their_level(score), mix, timeline) if _has_own_gains(score) else tones)
        buses = _held_buses(tones, rate_hz)
        if guide is not None:
            place = mix.channel_factors(mix.pan.guide)
            add_notes(energy, guide.stretches(), place, tones)
            buses.setdefault(place, []).append(guide)
        standing = [voice.peaks() for voices in buses.values() for voice in voices]
        if click is not None:
            click.add_energy(energy, mix.channel_factors(mix.pan.click))
        self.channels = mix.channel_count
        wished, clicks = _wished(score, mix, energy, standing), [click.peaks()] if click else []
        del energy
        bounds = stairs(standing, clicks) if mix.levelled else stairs([*standing, *clicks], [])
        self.gains = gains(wished, bounds.heights)
        if mix.levelled and self.gains.is_short:
            frames = frame_at(score.duration, rate_hz)
            self.gains = gains(wished, _measured(buses, self.channels, frames, bounds, ceiling_at(wished)))
        if click is not None:
            buses.setdefault(mix.channel_factors(mix.pan.click), []).append(click.turned_down(self.gains.clicks))
        self._buses = buses

    def block(self, start: int, frames: int) -> Samples:
        """The samples of every channel from frame `start` on."""
        return _mixed(self._buses, self.channels, self.gains.whole, start, frames)


def _mixed(buses: Buses, channels: int, gain: float, start: int, frames: int) -> Samples:
    """What all the voices give to every channel."""
    out = np.zeros((frames, channels), dtype=np.float32)
    alone = len(buses) == channels == 1
    for factors, voices in buses.items():
        bus = out[:, 0] if alone else np.zeros(frames, dtype=np.float32)
        for voice in voices:
            voice.add_to(bus, start)
        if alone:
            bus *= np.float32(factors[0] * gain)
            return out
        for channel, part in enumerate(factors):
            out[:, channel] += bus * np.float32(part * gain)
    return out


def _measured(buses: Buses, channels: int, frames: int, bounds: Stairs, ceiling: float) -> Heights:
    """How high a track really rises where the bounds of its voices leave too little room, found by making it there."""
    found: list[Heights] = []
    for start in range(0, frames, MEASURED_FRAMES):
        stop = min(start + MEASURED_FRAMES, frames)
        edges = np.append(np.arange(start, stop, WINDOW_FRAMES), stop)
        bound = bounds.within(edges)
        if bound.over(ceiling, BETWEEN_SAMPLES).any():
            block = np.abs(_mixed(buses, channels, 1.0, start, stop - start)).max(axis=1)
            peaks = np.maximum.reduceat(block, edges[:-1] - start).astype(np.float64)
            found.append(Heights(peaks * BETWEEN_SAMPLES, bound.clicks).where_over(ceiling))
    return all_heights(found)


def _wished(score: Score, mix: Mix, energy: Energy, standing: Sequence[Peaks]) -> float:
    """The gain that brings the track to its loudness, if it is to be brought there."""
    if not mix.levelled:
        return 1.0
    return wished_gain(energy.lufs(), MIX_LUFS if _is_mix(score, mix) else DRONE_LUFS, standing)


def _has_own_gains(score: Score) -> bool:
    """Whether the score makes tones softer or louder than their part."""
    return any(tone.gain_db for tone in different(score.drone)) or any(
        tone.gain_db for chord in different(score.changes) for tone in chord.tones
    )


def _at_their_level(score: Score) -> Score:
    """The score with every tone at the level of its part; what moves along a course goes on moving."""
    return replace(score, drone=with_each(score.drone, _at_its_level), changes=with_each(score.changes, _all_at_level))


def _at_its_level(tone: Tone) -> Tone:
    return replace(tone, gain_db=0.0)


def _all_at_level(chord: ChordEvent) -> ChordEvent:
    return replace(chord, tones=tuple(map(_at_its_level, chord.tones)))


def _is_in(gain_db: float) -> bool:
    return gain_db > LEFT_OUT


def _is_mix(score: Score, mix: Mix) -> bool:
    """Whether more than a drone sounds."""
    heard = (score.changes, mix.gain_db.changes), (score.clicks, mix.gain_db.click), (score.solo, mix.gain_db.guide)
    return any(part and _is_in(gain_db) for part, gain_db in heard[: 3 if mix.guide else 2])


def _held(score: Score, mix: Mix, timeline: Timeline) -> list[Placed]:
    """The held tones of drone and changes, each with its place."""
    drone = drone_tones(score, timeline, mix.gain_db.drone, mix.timbre) if _is_in(mix.gain_db.drone) else []
    changes = changes_tones(score, timeline, mix.gain_db.changes) if _is_in(mix.gain_db.changes) else []
    return [
        *(Placed(tone, mix.channel_factors(mix.pan.drone)) for tone in drone),
        *(Placed(tone, mix.channel_factors(mix.pan.changes)) for tone in changes),
    ]


def _held_buses(tones: Iterable[Placed], rate_hz: int) -> Buses:
    """One voice for all the held tones that stand at the same place: they are made together."""
    by_place: dict[Factors, list[Held]] = {}
    for tone in tones:
        by_place.setdefault(tone.factors, []).append(tone.held)
    return {factors: [HeldVoice(held, rate_hz)] for factors, held in by_place.items()}
