"""Send a click without end, and let it go over to another while it sounds.

Rule    the clicks are those of the MIDI file of `click_score`, struck as hard, at the same exact seconds; how a
        change is taken up, the course says (`droner.live.click_course`). They are written bar by bar, as they are
        needed. A bar without a click sends nothing, but is a moment, so that nobody looks for a next click in vain.
Units   beats and seconds from the first bar line; bpm counts the meter's beat.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from droner.live.click_course import ClickCourse, click_course
from droner.midi.balance import EVEN_BALANCE, Balance
from droner.midi.channel_table import Part, owned_by
from droner.midi.clicks import CLICK_LENGTH, stroke
from droner.midi.live.endless import Music, TakenUp
from droner.midi.live.entry import Entry
from droner.midi.live.moments import Moment, nanoseconds
from droner.midi.live.silence import SoundingKey, note_off
from droner.midi.message import Kind, Voice
from droner.midi.setting_up import channel_setting
from droner.score.plain import USUAL_SEED
from droner.score.tempo_map import TempoMap
from droner.units import Beats, Seconds

if TYPE_CHECKING:
    from fractions import Fraction

    from droner.practice.pattern import ClickPattern
    from droner.theory.meter import Meter

CHANNEL = owned_by(Part.CLICK)[0]
BEFORE_ALL = Beats(-1)
NOTHING = b""


@dataclass(frozen=True, slots=True, eq=False)
class EndlessClick:
    """A click in its course."""

    title: str
    setting: tuple[bytes, ...]
    course: ClickCourse

    @property
    def tempo_map(self) -> TempoMap:
        """Where its beats fall."""
        return self.course.tempos

    @property
    def duration(self) -> None:
        """It has no end."""

    def bar_at(self, moment: Beats) -> tuple[int, int]:
        """The bar of this meter, from 1, and the beat in it."""
        return self.course.bar_at(moment)

    def entry(self, second: Seconds) -> Entry:
        """How to come in at a second. What was struck then is not struck again."""
        moment = self.tempo_map.beats_at(second) if second else BEFORE_ALL
        return Entry(second, self.setting, _moments(self.course, moment))

    def after(self, sounding: Music, moment: Beats) -> TakenUp | None:
        """This click, coming in after a moment of one that sounds; None for what is no click."""
        if not isinstance(sounding, EndlessClick):
            return None
        course = self.course.after(sounding.course, moment)
        return TakenUp(replace(self, course=course), (), (), _moments(course, moment))


def endless_click(
    meter: Meter, pattern: ClickPattern, bpm: Fraction, balance: Balance = EVEN_BALANCE, *, seed: int = USUAL_SEED
) -> EndlessClick:
    """A click pattern at a tempo, without end. ValueError for a tempo that does not fit a MIDI file."""
    setting = tuple(message.wire for message in channel_setting(Voice(Part.CLICK, CHANNEL), balance))
    title = f"click {meter}, {pattern.name}, {float(bpm):g}"
    return EndlessClick(title, setting, click_course(meter, pattern, bpm, seed))


def _moments(course: ClickCourse, moment: Beats) -> Iterator[Moment]:
    """Every message after a moment. A note ends before the next is struck, at the latest."""
    ending: tuple[Beats, int] | None = None
    for bar_line, clicks in course.bars_after(moment):
        for click in clicks:
            if ending is not None:
                yield _moment(course, min(ending[0], click.onset), _end(ending[1]))
            key, velocity = stroke(click)
            yield _moment(course, click.onset, bytes((Kind.NOTE_ON.value | CHANNEL - 1, key, velocity)))
            ending = click.onset + CLICK_LENGTH, key
        if not clicks:
            if ending is not None:
                yield _moment(course, ending[0], _end(ending[1]))
            yield _moment(course, max(bar_line, ending[0] if ending else moment), NOTHING)
            ending = None


def _moment(course: ClickCourse, beat: Beats, wire: bytes) -> Moment:
    second = course.tempos.seconds_at(beat)
    return Moment(second, wire, nanoseconds(second))


def _end(key: int) -> bytes:
    return note_off(SoundingKey(CHANNEL, key))
