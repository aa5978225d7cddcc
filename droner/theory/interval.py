"""Name an interval: by the musician's word ("minor third") or as a degree of the major scale ("b3").

Rule    a degree is counted from the tonic of a major scale: "b3" is the third, one half-step lower.
        The words are made, not listed: quality + size, as theory teaches them.
Units   steps and semitones, see `Interval`.
Source  diatonic interval names: common practice, no source.
"""

from __future__ import annotations

import re
from functools import lru_cache

from droner.theory.pitch import NATURAL_SEMITONES, OCTAVE, Interval

SIZES = ("unison", "second", "third", "fourth", "fifth", "sixth", "seventh", "octave")
PERFECT_STEPS = frozenset({0, 3, 4})
"""Unison, fourth and fifth (and their octaves) are perfect; the others are major or minor."""
_PERFECT_QUALITIES = {
    -2: "doubly diminished",
    -1: "diminished",
    0: "perfect",
    1: "augmented",
    2: "doubly augmented",
}
_OTHER_QUALITIES = {
    -3: "doubly diminished", -2: "diminished", -1: "minor", 0: "major", 1: "augmented", 2: "doubly augmented",
}  # fmt: skip
_SIGNS = {"": 0, "#": 1, "##": 2, "b": -1, "bb": -2, "bbb": -3}
_SHORT_PERFECT = {"d": -1, "P": 0, "A": 1}
_SHORT_OTHER = {"d": -2, "m": -1, "M": 0, "A": 1}
_SHORT = re.compile(r"(?P<quality>[PMmAd])(?P<size>[1-9]|1[0-5])")
_DEGREE = re.compile(r"(?P<sign>#{0,2}|b{0,3})(?P<number>[1-9]|1[0-5])")


@lru_cache(maxsize=256)
def degree(text: str) -> Interval:
    """Read a degree of the major scale: "5", "b3", "#4", "bb7", "9". ValueError otherwise."""
    found = _DEGREE.fullmatch(text)
    if not found:
        raise ValueError(f"{text!r} is not a degree such as 1, b3, #4 or 5")
    octaves, step = divmod(int(found["number"]) - 1, 7)
    return Interval(step, NATURAL_SEMITONES[step] + _SIGNS[found["sign"]]) + OCTAVE * octaves


@lru_cache(maxsize=256)
def degrees(text: str) -> tuple[Interval, ...]:
    """Read a row of degrees: "1 2 b3 4 5 b6 b7"."""
    return tuple(degree(one) for one in text.split())


@lru_cache(maxsize=512)
def interval_name(interval: Interval) -> str:
    """The word for an interval: "minor third", "octave and a major third", "perfect fourth down"."""
    if interval.steps < 0:
        return f"{interval_name(-interval)} down"
    if interval == OCTAVE:
        return "octave"
    octaves = (interval.steps - 1) // 7 if interval.steps else 0
    simple = _simple_name(interval - OCTAVE * octaves)
    if not octaves:
        return simple
    return f"{'octave' if octaves == 1 else f'{octaves} octaves'} and a {simple}"


def _simple_name(interval: Interval) -> str:
    step = interval.steps % 7
    excess = interval.semitones - NATURAL_SEMITONES[step] - 12 * (interval.steps // 7)
    if interval.steps in {0, 7} and excess == 0:
        return SIZES[interval.steps]
    qualities = _PERFECT_QUALITIES if step in PERFECT_STEPS else _OTHER_QUALITIES
    quality = qualities.get(excess, f"{'over' if excess > 0 else 'under'} by {abs(excess)}")
    return f"{quality} {SIZES[interval.steps]}"


@lru_cache(maxsize=256)
def interval(text: str) -> Interval:
    """Read "minor third", "octave", "perfect fifth down", short "m3", "M9 down". ValueError otherwise."""
    asked = " ".join(text.split())
    upwards = asked.removesuffix(" down")
    found = _short(upwards) or _NAMED.get(upwards.casefold())
    if found is None:
        raise ValueError(f"{text!r} is not an interval such as minor third, perfect fifth or octave")
    return found if upwards == asked else -found


def _short(text: str) -> Interval | None:
    """The interval of "M2", "m3", "P4", "A4", "d5", "M13"; None for other words."""
    found = _SHORT.fullmatch(text)
    if not found:
        return None
    plain = degree(found["size"])
    perfect = plain.steps % 7 in PERFECT_STEPS
    excess = (_SHORT_PERFECT if perfect else _SHORT_OTHER).get(found["quality"])
    return None if excess is None else plain + Interval(0, excess)


def _named() -> dict[str, Interval]:
    every = [
        Interval(steps, NATURAL_SEMITONES[steps % 7] + 12 * (steps // 7) + excess)
        for steps in range(15)
        for excess in range(-2, 2)
    ]
    return {interval_name(one): one for one in every}


_NAMED = _named()
