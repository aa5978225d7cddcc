"""Put the voices of a score together as the mix says, and as loud as a track should be.

Rule    parts that stand at the same place share a bus. How loud the whole will be is worked out from the score, before
        a sample is made: one steady gain brings it to its loudness, and another turns the clicks down where their
        peaks would not let it, or where a long click would count for more than the tones before it. How high it can
        rise is known from its voices' bounds; only where these leave it too little room is it made once to be
        measured, there. A track of a drone alone is a little softer.
        Meant to be off its loudness: what the score itself makes softer stays so, for the track is as loud as if its
        tones had the level of their part; a track that has no room under the ceiling, as that of a partner who
        swells; one whose tones end minutes before its clicks (the tones are as loud as ever); clicks alone.
Units   frames from the start of the score; samples at full scale 1, shape (frames, channels).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import partial

import numpy as np

from droner.score.columns import different, with_each
from droner.score.score import ChordEvent, Score, Tone
from droner.sound.aim import Aim
from droner.sound.click_voice import ClickVoice
from droner.sound.guide_voice import GuideVoice
from droner.sound.headroom import ceiling_at, gains, stairs
from droner.sound.held import Held
from droner.sound.held_voice import HeldVoice, changes_tones, drone_tones
from droner.sound.levels import DRONE_LUFS, MIX_LUFS, factor
from droner.sound.loudness import Energy
from droner.sound.mix import Mix
from droner.sound.timeline import Timeline
from droner.sound.tone_power import Factors, Placed, add_held, add_notes
from droner.sound.true_heights import true_heights
from droner.sound.voice import Peaks, Samples, Voice
from droner.units import frame_at

LEFT_OUT = float("-inf")
Buses = dict[Factors, list[Voice]]


class Desk:
    """The voices of a score on their buses, with the gains that make a track of them."""

    def __init__(self, score: Score, mix: Mix, rate_hz: int) -> None:
        timeline = Timeline(score.tempo_map, rate_hz)
        tones = _held(score, mix, timeline)
        guide = GuideVoice(score, timeline, mix.gain_db.guide) if mix.guide and _is_in(mix.gain_db.guide) else None
        click = ClickVoice(score.clicks, timeline, factor(mix.gain_db.click)) if _is_in(mix.gain_db.click) else None
        frames = frame_at(score.duration, rate_hz)
        energy = Energy(frames, rate_hz)
        add_held(energy, _held(_at_their_level(score), mix, timeline) if _has_own_gains(score) else tones)
        buses = _held_buses(tones, rate_hz)
        if guide is not None:
            place = mix.channel_factors(mix.pan.guide)
            add_notes(energy, guide.stretches(), place, tones)
            buses.setdefault(place, []).append(guide)
        standing = [voice.peaks() for voices in buses.values() for voice in voices]
        struck = Energy(frames, rate_hz)
        if click is not None:
            click.add_energy(struck, mix.channel_factors(mix.pan.click))
        self.channels = mix.channel_count
        aim, clicks = _aim(score, mix, (energy, struck), standing), [click.peaks()] if click else []
        del energy, struck
        bounds = stairs(standing, clicks) if mix.levelled else stairs([*standing, *clicks], [])
        self.gains = gains(aim, bounds.heights)
        if mix.levelled and self.gains.is_short:
            struck_bus: Buses = {mix.channel_factors(mix.pan.click): [click] if click else []}
            held, clicked = (partial(_mixed, some, self.channels, 1.0) for some in (buses, struck_bus))
            self.gains = gains(aim, true_heights(held, clicked, frames, bounds, ceiling_at(aim.most)))
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


def _aim(score: Score, mix: Mix, energies: tuple[Energy, Energy], standing: Sequence[Peaks]) -> Aim:
    """The loudness that the track is brought to, and what its tones and clicks give to it.

    A track without anything held in it has no loudness worth the name: it is only kept under the ceiling.
    """
    tones, clicks = (energy.blocks() for energy in energies)
    target = MIX_LUFS if _is_mix(score, mix) else DRONE_LUFS
    is_brought = mix.levelled and any(len(part.levels) for part in standing)
    return Aim(tones, clicks, target if is_brought else None)


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
