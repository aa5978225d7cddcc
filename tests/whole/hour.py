"""An hour of ramps: a session as a player types it, every item of it, joined end to end. The session is invented."""

from __future__ import annotations

from functools import lru_cache

from droner.practice.items import Items
from droner.practice.layout.line import DoesNotFit
from droner.practice.reading.files import load_patterns
from droner.practice.reading.session_reading import read_session
from droner.score.compose import compose
from droner.score.join import join
from droner.score.score import Score
from droner.theory.key import Key

HOUR_SECONDS = 3600
SESSION = """
title = "An hour of ramps"
instrument = "flute"
minutes = 240
[tuning]
a4 = 442
[rotation]
keys = "half-steps up, minor then major"
[[block]]
drill = "turning scale"
tempo = 63
glide = [80, 120]
speeds = [70, 85, 100]
drone = "tonic and fifth"
changes = "under each beat"
click = "subdivisions"
[[block]]
drill = "thirds"
tempo = 77
glide = [110, 60]
meter = "5/4"
drone = "follows the note"
changes = "warm degrees"
click = "every beat"
[[block]]
drill = "triads on every degree"
tempo = 97
speeds = [60, 100, 75]
meter = "3/4"
changes = "as played"
click = "in four"
[[block]]
drill = "sevenths on every degree"
tempo = 58
glide = [100, 140]
meter = "7/4"
drone = "under each degree"
changes = "as played"
click = "the rhythm"
[[block]]
drill = "octave scale"
tempo = 143
glide = [50, 100]
click = "last sixteenth"
changes = "round by two"
[[block]]
drill = "little curving study"
tempo = 71
speeds = [80, 100]
[[block]]
drill = "curving study"
tempo = 47
glide = [90, 115]
[[block]]
drill = "ten triads of a note"
tempo = 53
glide = [80, 125]
[[block]]
drill = "measured vibrato"
tempo = 61
glide = [100, 70]
"""


@lru_cache(maxsize=1)
def hour_of_ramps() -> Score:
    """At least an hour, every block in one key and variant after another."""
    library = load_patterns()
    session = read_session(SESSION, "ramps.toml", library)
    items, scores, seconds = Items(session, library), [], 0.0
    turn = 0
    while seconds < HOUR_SECONDS:
        block = session.blocks[turn % len(session.blocks)]
        key: Key | None = session.rotation.keys[turn % len(session.rotation.keys)]
        item = items.item(block, key if items.drill(block).keyed else None, library.variants[turn % 60])
        turn += 1
        if not isinstance(item, DoesNotFit):
            scores.append(compose(item, session))
            seconds += float(scores[-1].duration)
    return join("An hour of ramps", scores)
