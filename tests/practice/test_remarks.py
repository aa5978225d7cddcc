"""What a plan says about itself: time that is left, and where a rotation goes on.

Referee  arithmetic by hand. An octave scale in even fours at 60 lasts 14 s: the drone alone for two beats, a bar
         counted in, two bars. The sessions are invented.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from droner.practice.items import Items
from droner.practice.layout.line import DoesNotFit
from droner.practice.remarks import remarks
from droner.score.compose import compose
from tests.practice.days import MONDAY, planner_of
from tests.practice.lines import patterns

OCTAVES = 'drill = "octave scale"\ntempo = 60\nkeys = "today"'


TRIADS = 'drill = "triads on every degree"'
KEEP_THE_PITCH = "keep the pitch for you while the drone is silent"


def told(rotation: str, minutes: float = 5, block: str = OCTAVES) -> tuple[str, ...]:
    planner = planner_of(block, minutes=minutes, rotation=f'variants = "none"\n{rotation}')
    return remarks(planner.day(MONDAY), planner)


@pytest.mark.parametrize(
    ("asked", "minutes", "words"),
    [
        (3, 5, "18 more keys"),  # 300 s less 42 s are 258 s: 18.4 keys
        (20, 5, "one more key"),  # 300 s less 280 s
        (20, 60, "4 more keys"),  # there are 24
    ],
)
def test_what_only_keys_per_day_holds_back_is_told(asked: int, minutes: float, words: str) -> None:
    assert told(f"keys_per_day = {asked}", minutes) == (f"There is time for {words} a day: keys_per_day is {asked}.",)


@pytest.mark.parametrize(
    ("rotation", "minutes", "block"),
    [
        ("keys_per_day = 21", 5, OCTAVES),  # 294 of 300 s
        ("keys_per_day = 24", 60, OCTAVES),  # all the keys there are
        ("keys_per_day = 3", 60, 'drill = "slow chromatic"'),  # nothing follows the rotation
    ],
)
def test_nothing_is_told_where_more_keys_would_not_help(rotation: str, minutes: float, block: str) -> None:
    assert told(rotation, minutes, block) == ()


def test_one_that_moves_when_done_tells_what_to_write_afterwards() -> None:
    whole, short = (
        'keys_per_day = 21\nmoves = "when done"\ndone = 7',
        'keys_per_day = 24\nmoves = "when done"\ndone = 7',
    )
    onward = "When all of it is done, write it down with droner log, or write done = 28 under [rotation]."
    assert told(whole) == (onward,)
    assert told(short) == (
        "This day has time for 21 of its 24 keys; the others are the next day's first.",  # 300 s hold 21 times 14 s
        onward,
    )


def test_by_the_calendar_the_others_come_in_a_later_cycle() -> None:
    assert told("keys_per_day = 24") == ("This day has time for 21 of its 24 keys; the others come in a later cycle.",)


@pytest.mark.parametrize(("air", "told_of"), [(9, False), (8, True)])
def test_a_breath_longer_than_the_air_is_told_with_a_tempo_that_helps(air: int, told_of: bool) -> None:  # noqa: FBT001
    """At 50 a pair of four beats and three sounds for seven beats: 8.4 s. At 53 it is 7.9 s."""
    planner = planner_of('drill = "slow chromatic"', minutes=60, top=f"air_seconds = {air}")
    words = "In slow chromatic one breath lasts 8.4 s, longer than 8 s of air: it fits from 53 on."
    assert remarks(planner.day(MONDAY), planner) == ((words,) if told_of else ())


@pytest.mark.parametrize("drone", ["tone and silence", "blind return", "short blind return"])
@pytest.mark.parametrize("drill", ["octave scale", "turning scale", "swell", "curving study", "tongue bursts"])
def test_a_drone_that_only_sounds_on_is_told_and_no_other(drone: str, drill: str) -> None:
    """What the plan says against what the score does, which is worked out from its bars by itself."""
    planner = planner_of(
        f'drill = "{drill}"\nkeys = ["D major"]\ndrone = "{drone}"', minutes=60, rotation='variants = "none"'
    )
    item = Items(planner.session, patterns()).item(planner.session.blocks[0], planner.session.blocks[0].keys[0], None)  # type: ignore[index]
    assert not isinstance(item, DoesNotFit)
    tones = sorted(compose(item, planner.session).drone, key=lambda tone: tone.onset)
    is_silent_somewhere = any(now.onset + now.length < later.onset for now, later in pairwise(tones))
    told_of = [text for text in remarks(planner.day(MONDAY), planner) if "the drone sounds on" in text]
    assert bool(told_of) == (not is_silent_somewhere)


@pytest.mark.parametrize(
    ("block", "top", "words"),
    [
        (
            'drill = "triads on every degree"\ndrone = "blind return"',
            "",
            "triads on every degree has no chords today: they would give away how the drone",
        ),
        (
            f'{TRIADS}\ndrone = "short blind return"\nchanges = "none"',
            "[sound]\nguide = true",
            "triads on every degree has no guide today: it would give away how the drone",
        ),
        (
            'drill = "triads on every degree"\ndrone = "blind return"',
            "[sound]\nguide = true",
            "triads on every degree has no chords and no guide today: they would",
        ),
        (
            'drill = "thirds"\npartner = { kind = "tired low", role = "hold" }',
            "",
            "thirds has no chords today: they would give away the pitch that you hold against the partner.",
        ),
        (
            'drill = "thirds"\ndrone = "tone and silence"',
            "[sound]\nguide = true",
            f"thirds has no chords and no guide today: they would {KEEP_THE_PITCH}.",
        ),
        (
            'drill = "thirds"\ndrone = "before you play"\nguide = true',
            "",
            f"thirds has no chords today: they would {KEEP_THE_PITCH}.",
        ),
        (
            'drill = "thirds"\ndrone = "two high tones"',
            "",
            "thirds has no chords today: they would cover the difference tone.",
        ),
        ('drill = "thirds"\ndrone = "tone and silence"\nchanges = "plain cadence"', "[sound]\nguide = true", ""),
        ('drill = "thirds"\ndrone = "tone and silence"\nchanges = "none"', "", ""),
        ('drill = "octave scale"\ndrone = "softer each session"', "", ""),
        ('drill = "held note"', "", ""),
        ('drill = "triads on every degree"\ndrone = "blind return"\nchanges = "none"', "", ""),
        ('drill = "triads on every degree"\ndrone = "blind return"', "[sound.changes]\non = false", ""),
        (
            'drill = "triads on every degree"\ndrone = "blind return"\nchanges = "none"\nguide = false',
            "[sound]\nguide = true",
            "",
        ),
    ],
)
def test_what_a_task_keeps_silent_is_told(block: str, top: str, words: str) -> None:
    """Chords of the drill, the guide of the session: not what the block itself leaves out or the session turns off."""
    planner = planner_of(block, top=top, minutes=60, rotation='variants = "none"')
    found = [text for text in remarks(planner.day(MONDAY), planner) if "today: " in text]
    assert len(found) == bool(words)
    assert all(text.startswith(words) for text in found)


@pytest.mark.parametrize(
    ("block", "words"),
    [
        (
            'drone = "tone and silence"\nchanges = "plain cadence"',
            f"thirds has chords, as its block asks for them: they will {KEEP_THE_PITCH}.",
        ),
        (
            'drone = "before you play"\nguide = true',
            f"thirds has a guide, as its block asks for it: it will {KEEP_THE_PITCH}.",
        ),
        (
            'drone = "your difference tone"\nchanges = "plain cadence"\nguide = true',
            "thirds has chords and a guide, as its block asks for them: they will cover the difference tone.",
        ),
        ('drone = "tone and silence"\nchanges = "none"\nguide = false', ""),
        ('drone = "tonic"\nchanges = "plain cadence"\nguide = true', ""),
    ],
)
def test_what_a_block_asks_for_against_its_own_task_sounds_and_is_told(block: str, words: str) -> None:
    planner = planner_of(f'drill = "thirds"\n{block}', minutes=60, rotation='variants = "none"')
    plan = planner.day(MONDAY)
    assert [text for text in remarks(plan, planner) if " as its block asks" in text] == ([words] if words else [])
    assert bool(compose(plan.items[0].item, planner.session).changes) == ("cadence" in block)


QUIET = 'drill = "octave scale"\ndrone = "none"\nchanges = "none"\nclick = "silent"'
OFF = "[sound.drone]\non = false\n[sound.changes]\non = false\n[sound.click]\non = false"


@pytest.mark.parametrize(
    ("block", "top", "is_silent"),
    [
        ('drill = "thirds"', OFF, True),
        ('drill = "thirds"\nguide = false', f"[sound]\nguide = true\n{OFF}", True),
        ('drill = "thirds"\nguide = true', OFF, False),
        ('drill = "thirds"\ndrone = "before you play"\nguide = true', OFF, False),
        ('drill = "thirds"', f"[sound]\nguide = true\n{OFF}", False),
        ('drill = "triads on every degree"\ndrone = "blind return"', f"[sound]\nguide = true\n{OFF}", True),
        ('drill = "octave scale"\ndrone = "none"\nchanges = "none"', "[sound.click]\non = false", True),
        (f"{QUIET}\ncount_in = 0", "", True),
        (QUIET, "", False),
        ('drill = "octave scale"\ndrone = "none"\nchanges = "none"', "", False),
        ('drill = "octave scale"', "[sound.click]\non = false", False),
        ('drill = "thirds"\ndrone = "none"', "[sound.click]\non = false", False),
    ],
)
def test_a_track_in_which_nothing_sounds_is_told_and_no_other(block: str, top: str, is_silent: bool) -> None:  # noqa: FBT001
    """What the plan says against what the score has, less the parts that the session switches off."""
    planner = planner_of(f'{block}\nkeys = ["D major"]', top=top, minutes=60, rotation='variants = "none"')
    plan, sound = planner.day(MONDAY), planner.session.sound
    score = compose(plan.items[0].item, planner.session)
    parts = ((score.drone, sound.drone), (score.changes, sound.changes), (score.clicks, sound.click))
    guided = sound.guide.on if planner.session.blocks[0].guide is None else planner.session.blocks[0].guide
    has_guide = guided and not plan.items[0].item.drone.returns
    assert (not has_guide and not any(part and order.on for part, order in parts)) == is_silent
    assert any("Nothing sounds in" in text for text in remarks(plan, planner)) == is_silent


@pytest.mark.parametrize(("done", "told_of"), [(0, False), (39, False), (40, True)])
def test_a_drone_that_is_as_soft_as_it_gets_is_told(done: int, told_of: bool) -> None:  # noqa: FBT001
    """It gets softer over forty sessions of one key: the forty-first is as soft as it gets."""
    block = f'{OCTAVES}\ndrone = "softer each session"'
    words = told(f'keys_per_day = 1\nmoves = "when done"\ndone = {done}', block=block)
    assert any("as soft as it gets" in text for text in words) == told_of
