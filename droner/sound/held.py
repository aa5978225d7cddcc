"""Turn the tones of a drone or of chords into stretches of held sound.

Rule    a tone that goes on at the same hertz and level, on the same course, is held through: it is not struck again.
        Tones whose courses are equal share one drift. Where other tones
        take over, the old fade out while the new fade in, from the join on; each fade is at most half
        of the shortest tone at the join, so it ends inside the score. A tone that nothing follows fades out
        before its written end. The fade in starts on the exact frame of the onset.
Units   frames from the start of the score; hz in hertz.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

from droner.score.score import Bearing, Tone
from droner.sound.additive import Sounding
from droner.sound.drift import Drift
from droner.sound.timeline import Timeline

Sound = tuple[float, float, bool, Drift | None]
"""What must be equal for a tone to be held through: hertz, decibels, plain or not, drift."""

ROW = np.dtype([("start", np.int64), ("stop", np.int64), ("sound", np.int64)])
"""What is kept of a tone until it is known how long it is held: a long score has some ten thousand."""


@dataclass(frozen=True, slots=True)
class Held:
    """A stretch of tones that are held together: they rise from `start` and are silent again from `stop` on.

    `joins_before` and `joins_after` tell whether the fade is shared with other tones.
    """

    start: int
    stop: int
    soundings: tuple[Sounding, ...]
    rise: int
    fall: int
    joins_before: bool
    joins_after: bool
    drift: Drift | None = None

    @property
    def stands_from(self) -> int:
        """The first frame at its full level."""
        return self.start + self.rise

    @property
    def stands_to(self) -> int:
        """The first frame after its full level."""
        return self.stop - self.fall


@dataclass(slots=True)
class _Chain:
    start: int
    stop: int
    tone: Tone
    drift: Drift | None

    @property
    def half(self) -> int:
        return (self.stop - self.start) // 2


def held_tones(
    tones: Iterable[Tone], timeline: Timeline, fade_frames: int, sounding: Callable[[Tone, Drift | None], Sounding]
) -> list[Held]:
    """The held stretches of a part, in order of their start; `sounding` makes the sound of a tone."""
    chains = _joined_where_equal(tones, timeline)
    joins = {chain.start for chain in chains} & {chain.stop for chain in chains}
    room = _room_at(joins, chains, fade_frames)
    together: dict[tuple[int, int, Drift | None], list[Sounding]] = {}
    for chain in chains:
        together.setdefault((chain.start, chain.stop, chain.drift), []).append(sounding(chain.tone, chain.drift))
    return [
        Held(
            start=start,
            stop=stop + room.get(stop, 0),
            soundings=tuple(soundings),
            rise=room.get(start, min(fade_frames, (stop - start) // 2)),
            fall=room.get(stop, min(fade_frames, (stop - start) // 2)),
            joins_before=start in joins,
            joins_after=stop in joins,
            drift=drift,
        )
        for (start, stop, drift), soundings in together.items()
    ]


def _joined_where_equal(tones: Iterable[Tone], timeline: Timeline) -> list[_Chain]:
    """The tones in order of their start, what goes on at the same sound in one piece."""
    sounds = _Sounds(_Drifts(timeline))
    rows = np.fromiter(((*timeline.span(tone.onset, tone.length), sounds.number(tone)) for tone in tones), ROW)
    rows = rows[np.argsort(rows["start"], kind="stable")]
    chains: list[_Chain] = []
    ending: dict[tuple[int, int], list[_Chain]] = {}
    for start, stop, number in map(np.void.tolist, rows[rows["stop"] > rows["start"]]):
        same_sound = ending.get((number, start))
        if same_sound:
            chain = same_sound.pop()
            if not same_sound:
                del ending[number, start]
        else:
            chain = _Chain(start, stop, *sounds.all[number])
            chains.append(chain)
        chain.stop = stop
        ending.setdefault((number, stop), []).append(chain)
    return chains


@dataclass(slots=True)
class _Sounds:
    """The different sounds of a part, numbered: the first tone of each, and how it drifts."""

    drifts: _Drifts
    numbers: dict[Sound, int] = field(default_factory=dict)
    all: list[tuple[Tone, Drift | None]] = field(default_factory=list)

    def number(self, tone: Tone) -> int:
        """The number of the tone's sound."""
        drift = self.drifts.of(tone)
        number = self.numbers.setdefault((tone.hz, tone.gain_db, tone.plain, drift), len(self.all))
        if number == len(self.all):
            self.all.append((tone, drift))
        return number


@dataclass(slots=True)
class _Drifts:
    """The drift of each course, made once; a course that many tones share is compared once.

    Every course is kept: another one could come to lie in its place.
    """

    timeline: Timeline
    by_course: dict[tuple[Bearing, ...], Drift] = field(default_factory=dict)
    by_object: dict[int, tuple[tuple[Bearing, ...], Drift]] = field(default_factory=dict)

    def of(self, tone: Tone) -> Drift | None:
        """None for a tone that stands still."""
        course = tone.course
        if not course:
            return None
        if id(course) not in self.by_object:
            self.by_object[id(course)] = course, self._made(course)
        return self.by_object[id(course)][1]

    def _made(self, course: tuple[Bearing, ...]) -> Drift:
        if course not in self.by_course:
            self.by_course[course] = Drift(course, self.timeline)
        return self.by_course[course]


def _room_at(joins: set[int], chains: Sequence[_Chain], fade_frames: int) -> dict[int, int]:
    room = dict.fromkeys(joins, fade_frames)
    for chain in chains:
        for end in {chain.start, chain.stop} & joins:
            room[end] = min(room[end], chain.half)
    return room
