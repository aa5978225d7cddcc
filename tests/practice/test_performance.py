"""An item in time: count-ins, speeds, glides, portions, and how long it all lasts.

Referee  arithmetic in Fractions: bars and beats counted by hand, seconds from beats a minute; a glide moves its beats a
         minute by equal steps. One microsecond of a quarter is what a MIDI tempo can tell apart (SMF 1.0, set tempo).
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from droner.practice.item import Item
from droner.practice.items import Items
from droner.practice.layout.line import DoesNotFit
from droner.practice.pattern import Variant
from droner.units import Beats
from tests.practice.days import SCALES, exact_seconds, item_of, session_of
from tests.practice.lines import patterns

ROUNDING_US = Fraction(1, 2)
"""A tempo is rounded to whole microseconds."""
EXAMPLES = 60


def quarter_us(bpm: Fraction, beat: Fraction) -> Fraction:
    """Microseconds a quarter before they are rounded."""
    return Fraction(60_000_000) / (bpm * beat)


def test_an_octave_scale_lasts_its_count_in_and_its_bars() -> None:
    # at 60: the drone alone for two beats, one bar counted in, fifteen sixteenths and their held note with its
    # breath in two bars
    item = item_of('drill = "octave scale"\ntempo = 60')
    assert item.performance.length == Beats(2 + 4 + 8)
    assert item.seconds.exact == 14


def test_no_time_is_lost_to_a_lead_in_where_there_is_no_drone() -> None:
    item = item_of('drill = "octave scale"\ntempo = 60\ndrone = "none"')
    assert item.seconds.exact == 12


def test_three_speeds_have_their_own_count_ins_and_tempos() -> None:
    item = item_of(f"{SCALES}\nspeeds = [80, 90, 100]\ncount_in = 2", "D minor")
    repeats = item.performance.repeats
    assert [repeat.speed for repeat in repeats] == [80, 90, 100]
    assert [repeat.count_in for repeat in repeats] == [Beats(8)] * 3
    assert [repeat.lead_in for repeat in repeats] == [Beats(3), Beats(0), Beats(0)]  # 2 s at 67.2 are 2.24 beats
    played = Fraction(0)
    for repeat, per_cent in zip(repeats, (80, 90, 100), strict=True):
        assert repeat.phrases[0].onset == repeat.onset + repeat.lead_in + repeat.count_in
        bars = repeat.lead_in + repeat.count_in + sum((placed.phrase.length for placed in repeat.phrases), Beats(0))
        us = quarter_us(Fraction(84 * per_cent, 100), Fraction(1))
        assert dict(item.performance.tempos)[repeat.onset] == round(us)
        played += bars.exact * round(us)
    assert item.seconds.exact == played / 1_000_000


def test_slow_speeds_breathe_more_often() -> None:
    item = item_of(f"{SCALES}\nspeeds = [50, 100]", "C major", top="air_seconds = 9")
    # 44 steps in fours; 9 s carry five beats and the held one at 42, at 84 all eleven
    assert [len(repeat.phrases) for repeat in item.performance.repeats] == [3, 1]


def test_a_glide_breathes_for_its_slowest_beat() -> None:
    # at 84 nine seconds carry the whole line, at 42 they do not; a glide passes through both
    for glide in ("[50, 100]", "[100, 50]"):
        item = item_of(f"{SCALES}\nglide = {glide}", "C major", top="air_seconds = 9")
        assert len(item.performance.repeats[0].phrases) == 3


@pytest.mark.parametrize(("dynamic", "air"), [("medium", 12), ("soft", 12), ("loud", 8), ("with the contour", 12)])
def test_what_is_loud_throughout_has_two_thirds_of_the_air(dynamic: str, air: int) -> None:
    # 12 s medium, 8 s loud: from memory
    manner = Variant(1, "even in four", "all slurred", dynamic, "no accent", "every beat", "from the low tonic")
    assert item_of(SCALES, "C major", manner, top="air_seconds = 12").course.air.exact == air


@pytest.mark.parametrize(
    ("rhythm", "asked", "written"),
    [("even in four", "3/4", "3/4"), ("even in four", "6/8", "4/4"), ("even in three", "3/4", "12/8"),
     ("even in three", "6/8", "6/8")],
)  # fmt: skip
def test_the_meter_asked_for_serves_rhythms_of_the_same_felt_beat(rhythm: str, asked: str, written: str) -> None:
    manner = Variant(1, rhythm, "all slurred", "medium", "no accent", "every beat", "from the low tonic")
    assert str(item_of(f'{SCALES}\nmeter = "{asked}"', "C major", manner).meter) == written


@given(
    st.sampled_from(("turning scale", "octave scale", "slow chromatic", "curving study", "tongue bursts", "partials")),
    st.integers(40, 160),
    st.lists(st.integers(50, 120), min_size=1, max_size=3),
    st.one_of(st.none(), st.tuples(st.integers(60, 120), st.integers(60, 120))),
    st.integers(0, 2),
)
@settings(max_examples=EXAMPLES, deadline=None)
def test_the_duration_is_the_sum_of_its_beats_at_their_tempos(
    drill: str, bpm: int, speeds: list[int], glide: tuple[int, int] | None, count_in: int
) -> None:
    rows = [f'drill = "{drill}"', f"tempo = {bpm}", f"speeds = {speeds}", f"count_in = {count_in}"]
    item = item_of(
        "\n".join([*rows, f"glide = {list(glide)}"] if glide else rows), "" if drill in NO_KEY else "E minor"
    )
    onset = Beats(0)
    for repeat in item.performance.repeats:
        assert repeat.onset == onset
        onset += repeat.lead_in + item.meter.bar * count_in
        for placed in repeat.phrases:
            assert placed.onset == onset
            onset += placed.phrase.length
    assert item.performance.length == onset
    assert item.seconds.exact == exact_seconds(item)
    check_tempos(item, [Fraction(speed) for speed in speeds], glide or (100, 100))


NO_KEY = ("slow chromatic", "partials")


def check_tempos(item: Item, speeds: list[Fraction], glide: tuple[int, int]) -> None:
    """Every stair of every repeat lies where equal steps of beats a minute put it."""
    tempos = dict(item.performance.tempos)
    onsets = [onset for onset, _ in item.performance.tempos]
    assert onsets == sorted(onsets)
    assert onsets[0] == Beats(0)
    assert all(isinstance(us, int) for us in tempos.values())
    beat, ends = item.meter.beat, [*(repeat.onset for repeat in item.performance.repeats[1:]), item.performance.length]
    for repeat, speed, end in zip(item.performance.repeats, speeds, ends, strict=True):
        start = repeat.counted + repeat.count_in
        stairs = int((end - start).ratio(beat)) if glide[0] != glide[1] else 1
        for stair in range(stairs):
            share = Fraction(stair, max(stairs - 1, 1))
            bpm = item.bpm * speed / 100 * (glide[0] + (glide[1] - glide[0]) * share) / 100
            moment = start + beat * stair if glide[0] != glide[1] else repeat.onset
            # the ends of a glide are rounded, and what lies between them again
            assert abs(tempos[moment] - quarter_us(bpm, beat.exact)) <= 2 * ROUNDING_US


def test_a_glide_moves_one_way_a_beat_at_a_time() -> None:
    item = item_of(f"{SCALES}\nglide = [80, 100]", "G major")
    tempos = [us for _, us in item.performance.tempos]
    assert tempos[0] == tempos[1] == round(quarter_us(Fraction(84 * 8, 10), Fraction(1)))  # the count-in goes before
    assert tempos[-1] == round(quarter_us(Fraction(84), Fraction(1)))
    assert all(later < earlier for earlier, later in pairwise(tempos[1:]))
    assert [(two - one).exact for (one, _), (two, _) in pairwise(item.performance.tempos)][1:] == [1] * (
        len(tempos) - 2
    )


PORTIONED = ('drill = "slow chromatic"', 'drill = "slow chromatic in groups"\nspeeds = [80, 100]', 'drill = "partials"')
OWN = """
[drill."chromatic run"]
about = "Mine."
staple = "scales"
material = "chromatic"
path = "turning"
keyed = false
varies = false
divisible = true
"""


@pytest.mark.parametrize("block", [*PORTIONED, 'drill = "chromatic run"\ntempo = 40\nspeeds = [50, 100]'])
def test_portions_one_after_another_are_the_whole(block: str) -> None:
    session = session_of(block, top="air_seconds = 6", own=OWN)
    items = Items(session, patterns(OWN))
    whole = items.item(session.blocks[0], None, None)
    assert not isinstance(whole, DoesNotFit)
    count = len(whole.performance.repeats[0].phrases)
    parts = [items.part(whole, start, min(5, count - start)) for start in range(0, count, 5)]
    for number in range(len(session.blocks[0].speeds)):
        of_parts = [note for part in parts for note in pitches(part, number)]
        assert without_retaken(of_parts) == without_retaken(pitches(whole, number))
    assert all(part.portion and part.portion.whole == count for part in parts)


def pitches(item: Item, repeat: int) -> list[int]:
    notes = (note for placed in item.performance.repeats[repeat].phrases for note in placed.phrase.notes)
    return [note.laid.pitch.midi for note in notes]


def without_retaken(midi: list[int]) -> list[int]:
    """The line of pitches, however often one was taken again after a breath."""
    return [pitch for place, pitch in enumerate(midi) if place == 0 or pitch != midi[place - 1]]


def test_a_portion_goes_round_from_the_last_phrase_to_the_first() -> None:
    session = session_of('drill = "slow chromatic"')
    items = Items(session, patterns())
    whole = items.item(session.blocks[0], None, None)
    assert not isinstance(whole, DoesNotFit)
    part = items.part(whole, 56, 2)
    names = [str(note.laid.pitch) for placed in part.performance.repeats[0].phrases for note in placed.phrase.notes]
    assert names == ["C#7", "D7", "G5", "Gb5"]
