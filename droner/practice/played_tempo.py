"""Say at what tempo an entry was played, and where on its ladder a tempo lies that was played.

Rule    an entry keeps the tempo on the ladder, see `entry`. What slows the beat is known by the rhythm: the plan slows
        to a metronome number, a tempo that the player tells is taken as told. So a metronome number on the ladder was
        the plan's, and so is a whole number that does not come from a whole one; any other was told, and is turned back
        exactly. What the player tells is the plan's own rung, if it lies between the plan's tempo and that before it
        came to a metronome number.
Units   felt beats a minute.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.practice.chosen_meter import chosen_meter
from droner.practice.density import slowed_by, slowing
from droner.practice.items import PLAIN, rhythm_of
from droner.theory.metronome import FASTEST_BPM, SLOWEST_BPM, numbers_between

if TYPE_CHECKING:
    from fractions import Fraction

    from droner.practice.item import Item
    from droner.practice.logbook.entry import Entry
    from droner.practice.pattern import Patterns
    from droner.practice.session import Session

NUMBERS = frozenset(numbers_between(SLOWEST_BPM, FASTEST_BPM))


def slowing_of_item(item: Item) -> Fraction:
    """By how much an item's rhythm slows the beat."""
    return slowing(item.manner.rhythm, item.meter.beat)


def slowing_of(entry: Entry, session: Session | None, patterns: Patterns) -> Fraction | None:
    """By how much the rhythm of an entry slowed the beat; None where its drill or variant is not known here."""
    drill = patterns.drills.get(entry.drill)
    if drill is None or entry.variant > len(patterns.variants):
        return None
    variant = patterns.variants[entry.variant - 1] if entry.variant else PLAIN
    rhythm = rhythm_of(drill, entry.step if entry.step in patterns.rhythms else variant.rhythm, patterns)
    blocks = session.blocks if session is not None and session.title == entry.session else ()
    asked = next((block.meter for block in blocks if block.drill == entry.drill), None)
    return slowing(rhythm, chosen_meter(asked, drill, rhythm).beat)


def played_bpm(ladder_bpm: Fraction, slows: Fraction) -> Fraction:
    """The tempo that was played where an entry has this one on its ladder."""
    exact = ladder_bpm * slows
    planned = ladder_bpm in NUMBERS or (ladder_bpm.denominator == 1 and exact.denominator != 1)
    return slowed_by(ladder_bpm, slows) if planned else exact


def on_the_ladder(told_bpm: Fraction, asked_bpm: Fraction, slows: Fraction) -> Fraction:
    """The tempo on the ladder where this one was played; `asked_bpm`: where the ladder stood."""
    if slowed_by(asked_bpm, slows) <= told_bpm <= asked_bpm * slows:
        return asked_bpm
    return told_bpm / slows
