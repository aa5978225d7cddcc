"""Let the drone play a partner: tones that stray as a player does who does not listen.

Rule    before the notes the partner stands at true pitch, so that the player can find it. One that follows its own
        loudness makes a swell of every phrase, soft to loud in its middle and soft again, and is as far off as it is
        louder or softer than its level; in a breath it stays soft. A room that warms, or a lip that tires, goes one
        straight way from the first note to the end. All its tones go one course, so that its chord stays pure. That
        partners stray this way is known, by how much is not: no trustworthy cents exist for real players, so the size
        is the player's own.
Units   cents above true pitch; decibels against the level of the drone; moments in quarter notes (Beats).
Source  see `practice.partner_table`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from droner.practice.partner_table import KIND_BY_NAME, ROLE_BY_NAME, SWELL_DB
from droner.score.score import Bearing
from droner.units import Beats, Seconds

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from droner.practice.item import Item
    from droner.practice.performance import Repeat
    from droner.practice.session import PartnerOrder
    from droner.score.score import Tone
    from droner.score.tempo_map import TempoMap

LOUD, EVEN, SOFT = 1, 0, -1

Course = tuple[Bearing, ...]


@dataclass(frozen=True, slots=True)
class CurvePoint:
    """Where a partner stands at a second, and how much louder than its level it is."""

    moment: Seconds
    cents: float
    gain_db: float


def partner_tones(item: Item, drone: Sequence[Tone]) -> tuple[Tone, ...]:
    """The drone as the item's partner plays it; as it is where there is none. What has a course keeps it."""
    if item.block.partner is None:
        return tuple(drone)
    course = partner_course(item, item.block.partner)
    return tuple(tone if tone.course else replace(tone, course=course) for tone in drone)


def partner_course(item: Item, order: PartnerOrder) -> Course:
    """How a partner goes through an item."""
    kind, repeats = KIND_BY_NAME[order.kind], item.performance.repeats
    if kind.late:
        starts, ends = repeats[0].phrases[0].onset, item.performance.length
        return Bearing(starts, 0.0, 0.0), Bearing(ends, float(kind.late * order.cents), 0.0)
    levels = {moment: level for repeat in repeats for moment, level in _swells(repeat)}
    return tuple(
        Bearing(moment, float(kind.loud * level * order.cents), SWELL_DB * level) for moment, level in levels.items()
    )


def _swells(repeat: Repeat) -> Iterator[tuple[Beats, int]]:
    """The moments of a time through at which the partner is loud, even or soft, in order."""
    before = repeat.phrases[0].onset - repeat.onset
    if before:
        yield repeat.onset + before / 2, EVEN
    for placed in repeat.phrases:
        sounds = placed.phrase.length - placed.phrase.rest
        yield placed.onset, SOFT
        yield placed.onset + sounds / 2, LOUD
        yield placed.onset + sounds, SOFT


def player_share(order: PartnerOrder) -> float:
    """By which share of the partner's cents the player is to go with it."""
    return float(ROLE_BY_NAME[order.role].share)


def curve(course: Course, tempos: TempoMap, moments: Iterable[Seconds]) -> tuple[CurvePoint, ...]:
    """A course in seconds: a point at each bearing and at each of the moments, in order.

    Between two points it is a straight line, in cents and in decibels.
    """
    points = [CurvePoint(tempos.seconds_at(one.onset), one.cents, one.gain_db) for one in course]
    found: list[CurvePoint] = []
    place = 0
    for moment in sorted({*(point.moment for point in points), *moments}):
        while place + 1 < len(points) and points[place + 1].moment <= moment:
            place += 1
        found.append(_between(points[place], points[min(place + 1, len(points) - 1)], moment))
    return tuple(found)


def _between(before: CurvePoint, after: CurvePoint, moment: Seconds) -> CurvePoint:
    """The point on the line at a moment; outside it the nearer end holds."""
    if moment <= before.moment or before.moment == after.moment:
        return CurvePoint(moment, before.cents, before.gain_db)
    share = float((moment - before.moment).ratio(after.moment - before.moment))
    cents, gain_db = after.cents - before.cents, after.gain_db - before.gain_db
    return CurvePoint(moment, before.cents + share * cents, before.gain_db + share * gain_db)
