"""Hold a drone without end, and go over to another while it sounds.

Rule    until its score would end, the samples are those of the score's audio file; then it is simply held. A change
        keeps the count of frames, so a tone that stays does not move: it is not struck again, and where it becomes
        louder, softer or another timbre it goes over in step, its partials in phase. Tones that go and tones that
        come fade as at a join in a score. A change waits until the fades of the one before are over; if that has not
        begun yet, it is left out. No tone of it moves along a course.
Units   frames from the first sample; samples at full scale 1.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

import numpy as np

from droner.score.score import Score
from droner.sound.additive import Sounding
from droner.sound.desk import Desk
from droner.sound.held import Held
from droner.sound.held_voice import DRONE_FADE_MS, HeldVoice, drone_tones
from droner.sound.live.source import Source
from droner.sound.mix import Mix
from droner.sound.render import RATE_HZ
from droner.sound.timeline import Timeline
from droner.sound.voice import Samples
from droner.units import Beats

FOREVER = 2**60
"""A frame that nobody will live to hear: some 760,000 years at 48 kHz."""


@dataclass(frozen=True, slots=True, eq=False)
class StandingDrone:
    """Held tones, at the loudness of their track. `since` is the frame of the last change, `before` what was then."""

    title: str
    rate_hz: int
    factors: tuple[float, ...]
    tones: tuple[Held, ...]
    since: int = 0
    before: StandingDrone | None = None

    @property
    def frames(self) -> None:
        """It has no end."""

    def block(self, start: int, frames: int) -> Samples:
        """So many frames from frame `start` on."""
        bus: Samples = np.zeros(frames, dtype=np.float32)
        HeldVoice(self.tones, self.rate_hz).add_to(bus, start)
        made: Samples = bus[:, np.newaxis] * np.array(self.factors, dtype=np.float32)
        return made

    def beats_at(self, frame: int) -> Beats:
        """A second is a beat."""
        return Beats(Fraction(frame, self.rate_hz))

    def frame_at(self, moment: Beats) -> int:
        """A beat is a second."""
        return int(moment.exact * self.rate_hz)

    def bar_at(self, _: Beats) -> tuple[int, int]:
        """A drone has no bars."""
        return 0, 0

    def after(self, sounding: Source, at: int) -> StandingDrone | None:
        """This drone, coming in at frame `at` of one that sounds, or as soon after as its fades allow.

        Before that frame it is the same as what sounds. None for what is no drone, or stands in another place.
        """
        if not isinstance(sounding, StandingDrone) or sounding.factors != self.factors:
            return None
        old = sounding.before if sounding.before is not None and at < sounding.since else sounding
        still = [tone for tone in old.tones if tone.stop > at]
        since = max(at, 0, *(tone.stands_from for tone in still))
        fade = round(DRONE_FADE_MS * self.rate_hz / 1000)
        tones = tuple(_joined(still, self.tones, since, fade))
        return replace(self, tones=tones, since=since, before=replace(old, before=None))


def standing_drone(score: Score, mix: Mix, rate_hz: int = RATE_HZ) -> StandingDrone:
    """The drone of a score, held for ever at the loudness that the score's track has."""
    gain = Desk(score, mix, rate_hz).gains.whole
    held = drone_tones(score, Timeline(score.tempo_map, rate_hz), mix.gain_db.drone, mix.timbre)
    tones = tuple(
        replace(tone, soundings=(_louder(sounding, gain),), stop=FOREVER)
        for tone in held
        if not tone.start
        for sounding in tone.soundings
    )
    return StandingDrone(score.title, rate_hz, mix.channel_factors(mix.pan.drone), tones)


def _louder(sounding: Sounding, factor: float) -> Sounding:
    return replace(sounding, partials=tuple(partial * factor for partial in sounding.partials))


def _joined(old: Sequence[Held], new: Sequence[Held], since: int, fade: int) -> Iterator[Held]:
    """The tones of both. What has the same hertz stays, and goes over in step."""
    before, after = ({_hz(tone) for tone in tones if tone.stop == FOREVER} for tones in (old, new))
    is_join = bool(before - after) and bool(after - before)
    unchanged = {_sound(tone) for tone in old} & {_sound(tone) for tone in new}
    for tone in old:
        stays = tone.stop < FOREVER or _sound(tone) in unchanged
        yield (
            tone
            if stays
            else replace(tone, stop=since + fade, fall=fade, joins_after=is_join and _hz(tone) not in after)
        )
    for tone in new:
        if _sound(tone) not in unchanged:
            yield replace(tone, start=since, rise=fade, joins_before=is_join and _hz(tone) not in before)


def _hz(tone: Held) -> float:
    return tone.soundings[0].hz


def _sound(tone: Held) -> tuple[float, tuple[float, ...]]:
    return _hz(tone), tone.soundings[0].partials
