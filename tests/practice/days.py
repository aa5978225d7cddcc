"""Sessions as a player types them, for the tests of the plan. The blocks are invented."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction
from functools import lru_cache

from droner.practice.item import Item
from droner.practice.layout.line import DoesNotFit
from droner.practice.pattern import Variant
from droner.practice.plan import Plan, Planner
from droner.practice.reading.files import load_session
from droner.practice.reading.session_reading import read_session
from droner.practice.session import Session
from droner.theory.key import key as read_key
from tests.practice.lines import patterns

MONDAY = date(2026, 1, 5)
SLOW_TONES = 'drill = "slow chromatic"'
SCALES = 'drill = "turning scale"\ntempo = 84'
ARPEGGIOS = 'drill = "broken arpeggio"\ntempo = 72'
STUDY = 'drill = "curving study"'
USUAL = (SLOW_TONES, SCALES, ARPEGGIOS, STUDY)


def session_of(*blocks: str, top: str = "", rotation: str = "", own: str = "") -> Session:
    """A session of these blocks; `top` stands before everything, `rotation` in its table."""
    tables = "".join(f"[[block]]\n{block}\n" for block in blocks)
    return read_session(f"{top}\n[rotation]\n{rotation}\n{tables}", "practice.toml", patterns(own))


def planner_of(*blocks: str, minutes: float = 45, top: str = "", rotation: str = "", own: str = "") -> Planner:
    """The planner of such a session; a command may ask for fewer minutes than a session may."""
    session = session_of(*blocks, top=top, rotation=rotation, own=own)
    return Planner(replace(session, minutes=Fraction(minutes)), patterns(own))


@lru_cache(maxsize=1)
def built_in() -> Session:
    """Droner's own session."""
    return load_session(None, patterns())


def item_of(block: str, key: str = "C major", variant: Variant | None = None, *, top: str = "", own: str = "") -> Item:
    """The item of one block in one key."""
    planner = planner_of(block, top=top, own=own)
    found = planner.items.item(planner.session.blocks[0], read_key(key) if key else None, variant)
    assert not isinstance(found, DoesNotFit), str(found)
    return found


def drills_of(plan: Plan) -> list[str]:
    """The drills of a day in order, each once."""
    return list(dict.fromkeys(planned.item.drill.name for planned in plan.items))


def keys_of(plan: Plan, drill: str) -> list[str]:
    """The keys in which a day plays a drill."""
    return [str(planned.item.key) for planned in plan.items if planned.item.drill.name == drill]


def exact_seconds(item: Item) -> Fraction:
    """What an item lasts, by its tempos and its beats."""
    tempos = [*item.performance.tempos]
    stops = [*(onset.exact for onset, _ in tempos[1:]), item.performance.length.exact]
    return sum(
        ((stop - onset.exact) * Fraction(us, 1_000_000) for (onset, us), stop in zip(tempos, stops, strict=True)),
        Fraction(0),
    )
