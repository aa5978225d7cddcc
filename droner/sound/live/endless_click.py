"""Sound a click without end, and let it go over to another while it sounds.

Rule    the clicks are those of `click_score`, on the same frames and as loud; how a change is taken up, the course
        says (`droner.live.click_course`). Before a change the samples are those of what sounded.
Units   frames from the first sample; bpm counts the meter's beat.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

import numpy as np

from droner.live.click_course import ClickCourse, click_course
from droner.practice.pattern import ClickPattern
from droner.score.plain import USUAL_SEED, click_score
from droner.sound.click_table import LONGEST_CLICK_MS
from droner.sound.click_voice import ClickVoice
from droner.sound.desk import Desk
from droner.sound.levels import factor
from droner.sound.live.source import Source
from droner.sound.mix import Mix
from droner.sound.render import RATE_HZ
from droner.sound.timeline import Timeline
from droner.sound.voice import Samples
from droner.theory.meter import Meter
from droner.units import Beats, Seconds, frame_at

WEIGHED_BARS = 8
"""So many bars are looked at for how high the clicks can rise."""
USUAL_A4_HZ = 440.0
"""A click has no pitch; its score asks for one."""


@dataclass(frozen=True, slots=True, eq=False)
class EndlessClick:
    """A click in its course; `since` is the frame of its last change."""

    title: str
    rate_hz: int
    factors: tuple[float, ...]
    course: ClickCourse
    since: int = 0

    @property
    def frames(self) -> None:
        """It has no end."""

    def block(self, start: int, frames: int) -> Samples:
        """So many frames from frame `start` on."""
        bus: Samples = np.zeros(frames, dtype=np.float32)
        longest = ceil(LONGEST_CLICK_MS * self.rate_hz / 1000)
        clicks = self.course.clicks(self.beats_at(max(start - longest, 0)), self.beats_at(start + frames))
        ClickVoice(clicks, Timeline(self.course.tempos, self.rate_hz), 1.0).add_to(bus, start)
        made: Samples = bus[:, np.newaxis] * np.array(self.factors, dtype=np.float32)
        return made

    def beats_at(self, frame: int) -> Beats:
        """The beat that falls on a frame."""
        return self.course.tempos.beats_at(Seconds(Fraction(frame, self.rate_hz)))

    def frame_at(self, moment: Beats) -> int:
        """The frame on which a beat falls."""
        return frame_at(self.course.tempos.seconds_at(moment), self.rate_hz)

    def bar_at(self, moment: Beats) -> tuple[int, int]:
        """The bar of this meter, from 1, and the beat in it."""
        return self.course.bar_at(moment)

    def after(self, sounding: Source, at: int) -> EndlessClick | None:
        """This click, coming in at frame `at` of one that sounds, or as soon after as its bars allow.

        Before that frame it is the same as what sounds. None for what is no click, or stands in another place.
        """
        if not isinstance(sounding, EndlessClick) or sounding.factors != self.factors:
            return None
        course = self.course.after(sounding.course, sounding.beats_at(at))
        return replace(self, course=course, since=frame_at(course.tempos.seconds_at(course.since), self.rate_hz))


def endless_click(
    meter: Meter, pattern: ClickPattern, bpm: Fraction, mix: Mix, rate_hz: int = RATE_HZ, *, seed: int = USUAL_SEED
) -> EndlessClick:
    """A click pattern at a tempo, without end. ValueError for a tempo that does not fit a MIDI file."""
    gains = Desk(click_score(meter, pattern, bpm, WEIGHED_BARS, USUAL_A4_HZ, seed=seed), mix, rate_hz).gains
    course = click_course(meter, pattern, bpm, seed, factor(mix.gain_db.click) * gains.whole * gains.clicks)
    title = f"click {meter}, {pattern.name}, {float(bpm):g}"
    return EndlessClick(title, rate_hz, mix.channel_factors(mix.pan.click), course)
