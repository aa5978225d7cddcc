"""What is shown and what is spoken before an item.

Referee  English number words: common knowledge, British use of "and". The cue's form, written key and plain words for a
         transposing player: common practice of practice tracks, no source.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from droner.score.words import in_words, shown_bpm, spoken, spoken_bpm
from tests.score.composed import MAJOR_KEYS, MINOR_KEYS, composed, manner, rows


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (0, "zero"),
        (1, "one"),
        (9, "nine"),
        (10, "ten"),
        (11, "eleven"),
        (12, "twelve"),
        (13, "thirteen"),
        (15, "fifteen"),
        (18, "eighteen"),
        (20, "twenty"),
        (40, "forty"),
        (42, "forty-two"),
        (50, "fifty"),
        (60, "sixty"),
        (84, "eighty-four"),
        (90, "ninety"),
        (99, "ninety-nine"),
        (100, "one hundred"),
        (101, "one hundred and one"),
        (112, "one hundred and twelve"),
        (120, "one hundred and twenty"),
        (208, "two hundred and eight"),
        (999, "nine hundred and ninety-nine"),
    ],
)
def test_numbers_are_said_as_in_english(number: int, words: str) -> None:
    assert in_words(number) == words


ONES = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
        "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen")  # fmt: skip
TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")


def value(words: str) -> int:
    """The number that words mean, reckoned by position: an inverse written apart from the code under test."""
    ones, tens = {word: at for at, word in enumerate(ONES)}, {word: 10 * at for at, word in enumerate(TENS, 2)}
    total = 0
    for word in words.replace("-", " ").replace(" and ", " ").split():
        total = total * 100 if word == "hundred" else total + (ones | tens)[word]
    return total


def test_every_number_of_the_practice_room_means_itself() -> None:
    assert [value(in_words(number)) for number in range(1000)] == list(range(1000))


@pytest.mark.parametrize("number", [-1, 1000])
def test_other_numbers_are_refused(number: int) -> None:
    with pytest.raises(ValueError, match="practice room"):
        in_words(number)


@pytest.mark.parametrize(
    ("bpm", "shown", "said"),
    [
        (Fraction(84), "84", "eighty-four"),
        (Fraction(125, 2), "62.5", "sixty-two and a half"),
        (Fraction(357, 5), "71.4", "seventy-one and a half"),
        (Fraction(719, 10), "71.9", "seventy-two"),
    ],
)
def test_tempos_are_shown_as_figures_and_said_to_the_nearest_half(bpm: Fraction, shown: str, said: str) -> None:
    assert (shown_bpm(bpm), spoken_bpm(bpm)) == (shown, said)


def test_a_cue_says_what_comes_next_in_words() -> None:
    made = composed(
        'drill = "turning scale"\ntempo = 84', key="Eb major", played=manner("long short", "all short", "soft")
    )
    cue = made.score.cues[0]
    assert cue.spoken == "next: turning scale, E flat major, long short, all short, soft, at eighty-four"
    assert cue.shown == "turning scale, Eb major: long short, all short, soft, 84 a minute"


def test_what_is_plain_is_not_said() -> None:
    made = composed('drill = "turning scale"\ntempo = 60', played=manner("even in four", "all slurred"))
    assert made.score.cues[0].spoken == "next: turning scale, C major, even in four, all slurred, at sixty"


def test_where_to_start_is_only_said_where_the_line_starts_there() -> None:
    from_the_top = manner(turn="from the top")
    turning, octave = (
        composed(f'drill = "{drill}"', played=from_the_top).score for drill in ("turning scale", "octave scale")
    )
    assert "from the top" in turning.cues[0].spoken
    assert turning.solo[0].pitch.midi == max(note.pitch.midi for note in turning.solo)
    assert "from the top" not in octave.cues[0].spoken
    assert octave.solo[0].pitch.midi == min(note.pitch.midi for note in octave.solo)


def test_a_drill_that_is_always_played_as_written_says_nothing_of_the_days_variant() -> None:
    for row in rows()[::9]:
        cue = composed('drill = "curving study"\ntempo = 54', key="A minor", played=row).score.cues[0]
        assert cue.spoken == "next: curving study, A minor, at fifty-four"


def test_each_time_through_is_announced_at_its_own_tempo() -> None:
    made = composed('drill = "octave scale"\ntempo = 80\nspeeds = [75, 100]', played=manner())
    assert [cue.spoken.rpartition(", ")[2] for cue in made.score.cues] == ["at sixty", "at eighty"]
    repeats = [repeat.onset for repeat in made.item.performance.repeats]
    assert [cue.onset for cue in made.score.cues] == repeats


def test_every_key_is_spoken_with_its_written_name() -> None:
    for key in MAJOR_KEYS + MINOR_KEYS:
        made = composed('drill = "octave scale"', key=key, played=manner(), top='instrument = "alto saxophone"')
        name = key[0] + {"#": " sharp", "b": " flat", " ": ""}[key[1]] + " " + key.split()[1]
        assert f", {name}," in made.score.cues[0].spoken


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("scale no 2", "scale no two"),
        ("3rds, F#", "three rds, F sharp"),
        ("warm-up 2024", "warm-up two zero two four"),
        ("up & down 50 %", "up and down fifty per cent"),
    ],
)
def test_a_players_own_names_are_said_without_figures_and_signs(text: str, said: str) -> None:
    assert spoken(text) == said
