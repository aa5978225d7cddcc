"""Say how a bar is felt: its length, the beat that a tempo counts, and the pulses a click marks.

Rule    a meter written plainly is one group ("6/8"), an additive one several ("2+2+3/8"); plain 5, 7 and, in
        eighths and shorter, 8 stand for 3+2, 2+2+3 and 3+3+2.
        simple    the beat is the denominator's note, in two parts. 3/8 is simple: three beats of an eighth.
        compound  6, 9, 12 ... eighths or shorter, written plainly: the beat is dotted, in three parts.
        additive  the tempo counts the denominator's note, in two parts. In eighths and shorter the pulses
                  fall on the groups (7/8: three); in quarters and longer on every beat (5/4: five).
        6/4 is read as six quarters: write 3+3/4 for its two groups.
Units   Beats are quarter notes.
Source  usual groups of 5, 7 and 8: common practice, no source. Simple and compound time: common practice.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate

from droner.units import Beats

UNITS = (1, 2, 4, 8, 16, 32)
"""The note values a MIDI file and a page can write below the line."""
MOST_UNITS = 64
NOTE_NAMES = {1: "whole notes", 2: "halves", 4: "quarters", 8: "eighths", 16: "sixteenths", 32: "thirty-seconds"}
USUAL_GROUPS = {5: (3, 2), 7: (2, 2, 3), 8: (3, 3, 2)}
_WRITTEN = re.compile(r"\s*(?P<groups>[0-9]{1,2}(?:\s*\+\s*[0-9]{1,2})*)\s*/\s*(?P<unit>[0-9]{1,2})\s*")


@dataclass(frozen=True, slots=True)
class Meter:
    """A time signature. `groups` count notes of 1/`unit`: (4,) over 4, (6,) over 8, (2, 2, 3) over 8."""

    groups: tuple[int, ...]
    unit: int

    def __post_init__(self) -> None:
        if self.unit not in UNITS:
            raise ValueError(f"a meter counts notes of 1/{', 1/'.join(map(str, UNITS))}, not 1/{self.unit}")
        if not self.groups or min(self.groups) < 1 or sum(self.groups) > MOST_UNITS:
            raise ValueError(f"a bar has 1 to {MOST_UNITS} counts, in groups of at least one")

    @property
    def numerator(self) -> int:
        """How many notes of the denominator fill the bar."""
        return sum(self.groups)

    @property
    def denominator(self) -> int:
        """The note value below the line."""
        return self.unit

    @property
    def kind(self) -> str:
        """How it is felt: "simple", "compound" or "additive"."""
        if len(self.groups) > 1:
            return "additive"
        return "compound" if self.unit >= 8 and self.numerator > 3 and self.numerator % 3 == 0 else "simple"

    @property
    def bar(self) -> Beats:
        """The length of the bar."""
        return _felt(self).bar

    @property
    def beat(self) -> Beats:
        """The length of the beat that a tempo counts."""
        return _felt(self).beat

    @property
    def beat_name(self) -> str:
        """What a tempo counts, in words: "quarters", "dotted quarters"."""
        return f"dotted {NOTE_NAMES[self.unit // 2]}" if self.kind == "compound" else NOTE_NAMES[self.unit]

    @property
    def divisions(self) -> int:
        """Into how many parts the beat divides: 3 in compound time, else 2."""
        return 3 if self.kind == "compound" else 2

    @property
    def pulses(self) -> tuple[Beats, ...]:
        """Onsets in the bar of the pulses that are felt, the first at 0."""
        return _felt(self).pulses

    @property
    def group_onsets(self) -> tuple[Beats, ...]:
        """Onsets in the bar of the groups: where an additive bar leans. A plain meter has one, at 0."""
        return _felt(self).group_onsets

    def __str__(self) -> str:
        return f"{'+'.join(map(str, self.groups))}/{self.unit}"


@dataclass(frozen=True, slots=True)
class _Felt:
    """What a meter's properties answer, worked out once."""

    bar: Beats
    beat: Beats
    pulses: tuple[Beats, ...]
    group_onsets: tuple[Beats, ...]


@lru_cache(maxsize=256)
def _felt(meter: Meter) -> _Felt:
    note = Beats(4, meter.unit)
    bar = note * meter.numerator
    beat = note * 3 if meter.kind == "compound" else note
    groups = tuple(note * count for count in (0, *accumulate(meter.groups[:-1])))
    beats = tuple(beat * count for count in range(int(bar.ratio(beat))))
    pulses = groups if meter.kind == "additive" and meter.unit >= 8 else beats
    return _Felt(bar, beat, pulses, groups)


@lru_cache(maxsize=256)
def meter(text: str) -> Meter:
    """Read "4/4", "6/8", "7/8", "2+2+3/8". ValueError, with the way out, otherwise."""
    found = _WRITTEN.fullmatch(text)
    if not found:
        raise ValueError(f"{text!r} is not a meter such as 4/4, 6/8 or 2+2+3/8")
    groups, unit = tuple(map(int, found["groups"].split("+"))), int(found["unit"])
    try:
        plain = Meter(groups, unit)
    except ValueError as impossible:
        raise ValueError(f"{text!r} is not a meter: {impossible}") from None
    return plain if len(groups) > 1 else _usual(plain, text)


def _usual(plain: Meter, text: str) -> Meter:
    """A plain meter as players feel it. ValueError when they would have to be told the groups."""
    count = plain.numerator
    if count in USUAL_GROUPS and (count != 8 or plain.unit >= 8):
        return Meter(USUAL_GROUPS[count], plain.unit)
    if plain.kind == "simple" and plain.unit >= 8 and count > 4:
        raise ValueError(f"{text!r} needs its groups, written such as 3+3+2+2/8")
    return plain
