"""The four staples last what they last in a practice room.

Referee  the trade's own figures. Derived by arithmetic: a scale of about 45 notes in sixteenths sounds for 11, 8 and
         5.6 s at 60, 84 and 120. Common practice, no source: a round of slow chromatics takes about ten minutes and
         not evenly so; the scales of a day in all keys with several articulations take 20 to 25 minutes.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from droner.practice.pattern import Variant
from droner.theory.key_order import key_order
from droner.theory.pitch import note_name
from tests.practice.days import item_of

ABOUT_TEN_MINUTES = (Fraction(8), Fraction(10))
SCALE_PART_MINUTES = (20, 25)
ONE_NOTE = Fraction(1, 4)
"""The sixteenth that 45 notes have more than 44 steps, and keys whose line is a note or two shorter."""
ALL_KEYS = key_order("half-steps up, minor then major", note_name("C"))
AT_84 = 'drill = "turning scale"\ntempo = 84'
SEVERAL = ("all slurred", "all short", "pairs on the beat", "pairs across")


def spoken(number: int, articulation: str) -> Variant:
    """A plain scale in sixteenths, with an articulation."""
    return Variant(number, "even in four", articulation, "medium", "no accent", "every beat", "from the low tonic")


@pytest.mark.parametrize("bpm", [50, 52, 54, 56])
def test_a_round_of_slow_chromatics_takes_about_ten_minutes_not_evenly(bpm: int) -> None:
    item = item_of(f'drill = "slow chromatic"\ntempo = {bpm}', "")
    assert ABOUT_TEN_MINUTES[0] <= item.seconds.exact / 60 <= ABOUT_TEN_MINUTES[1]
    assert item.seconds.exact % 60 != 0


@pytest.mark.parametrize(("bpm", "seconds"), [(60, Fraction(11)), (84, Fraction(8)), (120, Fraction(56, 10))])
def test_a_scale_over_the_whole_flute_sounds_for_so_long(bpm: int, seconds: Fraction) -> None:
    for key in ("C major", "D minor", "Eb major", "A major"):
        (placed,) = item_of(f'drill = "turning scale"\ntempo = {bpm}', key).performance.repeats[0].phrases
        moving = (
            placed.phrase.notes[-1].onset.exact * 60 / bpm
        )  # until its last note, which is held as long as it likes
        assert abs(moving - seconds) <= ONE_NOTE * 60 / bpm


@pytest.mark.parametrize(("bpm", "lead_in"), [(84, 0), (100, 2)])
def test_all_keys_in_several_articulations_take_the_time_that_players_give_them(bpm: int, lead_in: int) -> None:
    """The figure goes with no tempo: at 84 one key after another, or at 100 with the drone alone before each."""
    minutes = Fraction(0)
    for number, articulation in enumerate(SEVERAL, 1):
        manner = Variant(
            number, "even in four", articulation, "medium", "no accent", "every beat", "from the low tonic"
        )
        for key in ALL_KEYS:
            item = item_of(
                f'drill = "turning scale"\ntempo = {bpm}', str(key), manner, top=f"lead_in_seconds = {lead_in}"
            )
            minutes += item.seconds.exact / 60
    assert SCALE_PART_MINUTES[0] <= minutes <= SCALE_PART_MINUTES[1]


def test_the_slow_chromatic_breathes_after_each_pair() -> None:
    phrases = item_of('drill = "slow chromatic"', "").performance.repeats[0].phrases
    assert len(phrases) == 57  # 19 half-steps down, back and up
    assert {len(placed.phrase.notes) for placed in phrases} == {2}


@pytest.mark.parametrize("articulation", SEVERAL)
def test_how_notes_are_spoken_does_not_change_how_long_they_last(articulation: str) -> None:
    plain = item_of(AT_84, "F# minor")
    assert item_of(AT_84, "F# minor", spoken(1, articulation)).seconds == plain.seconds
