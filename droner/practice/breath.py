"""Say how long the longest breath of an item lasts, and from which tempo on the air would carry it.

Rule    most lines are cut until each phrase fits the air. What cannot be parted, a cell of a drill with lengths of
        its own or a bar of a study, may still last longer; then the tempo from which on it fits is found by
        phrasing the line again, faster by one beat a minute each time, since time to breathe comes out of the music.
Units   Seconds from the onset of a phrase's first note to the end of its last, at the slowest tempo of its repeat;
        tempos in felt beats a minute, whole.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import count
from math import ceil
from typing import TYPE_CHECKING

from droner.practice.phrase import phrases
from droner.theory.tempo import lasting
from droner.units import Seconds

if TYPE_CHECKING:
    from collections.abc import Iterable

    from droner.practice.layout.line import Line
    from droner.practice.performance import Course, Performance
    from droner.practice.phrase import Phrase
    from droner.practice.shape import Pace


def longest_breath(performance: Performance, course: Course) -> Seconds:
    """How long the longest phrase sounds, of all speeds at which it is played."""
    return max(
        _longest((placed.phrase for placed in repeat.phrases), course.pace(repeat.speed))
        for repeat in performance.repeats
    )


def fitting_bpm(line: Line, course: Course) -> int:
    """The slowest whole tempo, not slower than the course's own, at which the air carries every phrase."""
    return next(bpm for bpm in count(ceil(course.bpm)) if _is_carried(line, replace(course, bpm=Fraction(bpm))))


def _is_carried(line: Line, course: Course) -> bool:
    paces = [course.pace(speed) for speed in course.speeds]
    return all(_longest(phrases(line, pace, course.breath_cells), pace) <= course.air for pace in paces)


def _longest(whole: Iterable[Phrase], pace: Pace) -> Seconds:
    sounding = max(phrase.length - phrase.rest - phrase.slots[0][0] for phrase in whole)
    return lasting(sounding, pace.quarter_us)
