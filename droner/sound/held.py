"""Turn the tones of a drone or of chords into stretches of held sound.

Rule    a tone that goes on at the same hertz is held through: it is not struck again. Where other tones
        take over, the old fade out while the new fade in, from the join on; each fade is at most half
        of the shortest tone at the join, so it ends inside the score. A tone that nothing follows fades out
        before its written end. The fade in starts on the exact frame of the onset.
Units   frames from the start of the score; hz in hertz.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from droner.score.score import Tone
from droner.sound.additive import Sounding
from droner.sound.timeline import Timeline


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
    hz: float

    @property
    def half(self) -> int:
        return (self.stop - self.start) // 2


def held_tones(
    tones: Iterable[Tone], timeline: Timeline, fade_frames: int, sounding: Callable[[float], Sounding]
) -> list[Held]:
    """The held stretches of a part, in order of their start; `sounding` makes the sound of a hertz."""
    chains = _joined_where_equal(tones, timeline)
    joins = {chain.start for chain in chains} & {chain.stop for chain in chains}
    room = _room_at(joins, chains, fade_frames)
    together: dict[tuple[int, int], list[Sounding]] = {}
    for chain in chains:
        together.setdefault((chain.start, chain.stop), []).append(sounding(chain.hz))
    return [
        Held(
            start=start,
            stop=stop + room.get(stop, 0),
            soundings=tuple(soundings),
            rise=room.get(start, min(fade_frames, (stop - start) // 2)),
            fall=room.get(stop, min(fade_frames, (stop - start) // 2)),
            joins_before=start in joins,
            joins_after=stop in joins,
        )
        for (start, stop), soundings in together.items()
    ]


def _joined_where_equal(tones: Iterable[Tone], timeline: Timeline) -> list[_Chain]:
    chains: list[_Chain] = []
    ending: dict[tuple[float, int], list[_Chain]] = {}
    for tone in sorted(tones, key=lambda tone: tone.onset):
        start, stop = timeline.span(tone.onset, tone.length)
        if stop <= start:
            continue
        same_pitch = ending.get((tone.hz, start))
        if same_pitch:
            chain = same_pitch.pop()
        else:
            chain = _Chain(start, stop, tone.hz)
            chains.append(chain)
        chain.stop = stop
        ending.setdefault((tone.hz, stop), []).append(chain)
    return chains


def _room_at(joins: set[int], chains: Sequence[_Chain], fade_frames: int) -> dict[int, int]:
    room = dict.fromkeys(joins, fade_frames)
    for chain in chains:
        for end in {chain.start, chain.stop} & joins:
            room[end] = min(room[end], chain.half)
    return room
