"""Phrases start on a bar line, end on a beat with air to spare, and together give the line back.

Referee  arithmetic in Fractions from the tempo, the meter and the rhythm as written in the patterns; the least rests
         (1 s after a phrase of 5 s and more, 0.6 s after a shorter one) and the two beats that a phrase before another
         may be silent beyond them are common practice, no source.
"""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from droner.practice.layout.line import LaidNote, Line
from droner.practice.phrase import Phrase, phrases
from droner.practice.shape import Pace
from droner.theory.meter import meter
from droner.units import Beats, Seconds
from tests.practice.lines import line, patterns

LONG, REST_AFTER_LONG, REST_AFTER_SHORT = Fraction(5), Fraction(1), Fraction(3, 5)
"""Seconds."""
MOST_NEEDLESS = 2
"""Felt beats of silence beyond the breath."""
RUNNING = ("turning scale", "octave scale", "thirds", "sixths alternating", "triads on every degree", "five-note cells",
           "arpeggio through inversions", "broken arpeggio", "dominant seventh resolving")  # fmt: skip
IN_ITS_OWN_LENGTHS = {"slow chromatic": "", "slow chromatic in groups": "", "partials": "", "swell": "D major",
                      "measured vibrato": "D major", "ten triads of a note": "G minor",
                      "tongue bursts": "Eb major"}  # fmt: skip
KEYS = ("C major", "D minor", "Eb minor", "F# major", "B major", "G# minor")
BPM, AIR = st.integers(40, 160), st.integers(6, 15)
EXAMPLES = 120


def pace(bpm: int, air: Fraction | int, rhythm: str = "", written: str = "4/4") -> Pace:
    """What a line is timed by; the tempo in felt beats of the meter."""
    found = patterns().rhythms[rhythm] if rhythm else None
    counted = meter(found.meter if found else written)
    quarter_us = round(Fraction(60_000_000) / (bpm * counted.beat.exact))
    return Pace(counted, quarter_us, Seconds(Fraction(air)), found)


def seconds(beats: Fraction | int, timed: Pace) -> Fraction:
    return Fraction(beats) * timed.quarter_us / 1_000_000


def sounding(phrase: Phrase) -> Fraction:
    return (phrase.length - phrase.rest).exact


def check(found: tuple[Phrase, ...], timed: Pace) -> None:
    """What every phrase keeps to, rhythm or not."""
    for phrase in found:
        assert phrase.length.exact % timed.meter.bar.exact == 0
        assert phrase.notes[0].onset == Beats(0)
        for one, two in pairwise(phrase.notes):
            assert one.length.exact > 0
            assert one.onset + one.length == two.onset
        assert (phrase.notes[-1].onset + phrase.notes[-1].length).exact == sounding(phrase)
        least = REST_AFTER_LONG if seconds(sounding(phrase), timed) >= LONG else REST_AFTER_SHORT
        assert seconds(phrase.rest.exact, timed) >= least


def notes_of(found: tuple[Phrase, ...]) -> list[LaidNote]:
    """The notes of all phrases; one that ends a phrase and begins the next counts once."""
    notes: list[LaidNote] = []
    for phrase in found:
        coming = [timed.laid for timed in phrase.notes]
        notes += coming[1:] if notes and coming[0] is notes[-1] else coming
    return notes


def test_an_octave_scale_in_sixteenths_broadens_into_its_end() -> None:
    # fifteen notes: three beats of four, two notes share the fourth beat, the last falls on the next bar
    (phrase,) = phrases(line("octave scale", "C major"), pace(60, 12, "even in four"), 0)
    sixteenths = [Fraction(place, 4) for place in range(12)]
    assert [note.onset.exact for note in phrase.notes] == [*sixteenths, 3, Fraction(7, 2), 4]
    assert [note.length.exact for note in phrase.notes[11:]] == [Fraction(1, 4), Fraction(1, 2), Fraction(1, 2), 3]
    assert (phrase.length, phrase.rest) == (Beats(8), Beats(1))  # held to the beat of rest that 1 s at 60 needs


def test_in_compound_time_the_felt_beat_is_dotted() -> None:
    # fifteen notes in threes: four dotted beats, then two notes share the fifth, the last on the sixth
    (phrase,) = phrases(line("octave scale", "C major"), pace(60, 12, "even in three"), 0)
    assert [note.onset.exact for note in phrase.notes[12:]] == [6, Fraction(27, 4), Fraction(15, 2)]
    assert phrase.notes[-1].length == Beats(3)
    assert (phrase.length, phrase.rest) == (Beats(12), Beats(3, 2))


@pytest.mark.parametrize(("left", "shares"), [(1, [1]), (2, [2, 2]), (3, [3, 3, 3])])
def test_left_over_notes_share_the_cell_evenly(left: int, shares: list[int]) -> None:
    whole = line("turning scale", "C major")
    short = Line(whole.notes[: 4 + left + 1], whole.home)
    (phrase,) = phrases(short, pace(72, 12, "even in four"), 0)
    assert [note.length.exact for note in phrase.notes[4:-1]] == [Fraction(1, share) for share in shares]
    assert [(note.place, note.size) for note in phrase.notes[4:-1]] == [(place, left) for place in range(left)]


@given(st.sampled_from(RUNNING), st.sampled_from(KEYS), st.sampled_from(sorted(patterns().rhythms)), BPM, AIR)
@settings(max_examples=EXAMPLES, deadline=None)
def test_every_rhythm_at_every_tempo_and_air(drill: str, key: str, rhythm: str, bpm: int, air: int) -> None:
    whole, timed = line(drill, key), pace(bpm, air, rhythm)
    found = phrases(whole, timed, 0)
    check(found, timed)
    assert notes_of(found) == list(whole.notes)
    assert all(two.notes[0].laid is one.notes[-1].laid for one, two in pairwise(found))
    beat = timed.meter.beat.exact
    assert all(phrase.notes[-1].onset.exact % beat == 0 and phrase.notes[-1].length.exact >= beat for phrase in found)
    assert timed.rhythm is not None
    cell = sum(length.exact for length in timed.rhythm.lengths)
    carried = int((air - seconds(beat, timed)) / seconds(cell, timed))
    if carried:  # one cell alone is not longer than the air
        assert all(seconds(sounding(phrase), timed) <= air for phrase in found)
        assert len(found) >= -(-(len(whole.notes) - 1) // (carried * len(timed.rhythm.lengths)))
    filling = cells_in_whole_bars(timed)
    if filling:
        check_bars(found, timed, filling * len(timed.rhythm.lengths), carried * len(timed.rhythm.lengths))


def cells_in_whole_bars(timed: Pace) -> int:
    """So many rhythm cells, one held beat and the breath fill the whole bars that are not longer than the air."""
    assert timed.rhythm is not None
    beat, bar = timed.meter.beat.exact, timed.meter.bar.exact
    breath = -(-REST_AFTER_LONG // seconds(beat, timed)) * beat
    bars = timed.air.exact // seconds(bar, timed)
    return max(int((bars * bar - breath - beat) / sum(length.exact for length in timed.rhythm.lengths)), 0)


def check_bars(found: tuple[Phrase, ...], timed: Pace, filling: int, carried: int) -> None:
    """No bar is left empty for nothing, at the price of no more breaths than that takes, and no cell is parted."""
    beat = timed.meter.beat.exact
    for phrase in found[:-1]:
        least = REST_AFTER_LONG if seconds(sounding(phrase), timed) >= LONG else REST_AFTER_SHORT
        assert phrase.rest.exact / beat - -(-least // seconds(beat, timed)) <= MOST_NEEDLESS
    cells = Counter(note.cell for note in notes_of(found))
    if 2 * max(cells.values()) <= filling:
        assert all(phrase.laid[0].opens for phrase in found)
    if max(cells.values()) == 1:
        steps = sum(len(phrase.laid) - 1 for phrase in found)
        assert len(found) <= 1 + max(-(-(steps - carried) // filling), 0)


@pytest.mark.parametrize(
    ("bpm", "air", "steps"),
    [
        (
            42,
            12,
            24,
        ),  # 8.4 beats: two bars are six, one held, one to breathe; after seven there would be four to breathe
        (60, 12, 40),  # three bars are ten, one held, one to breathe; after eleven there would be four
        (60, 8, 24),  # two bars: six, one, one
        (84, 12, 60),  # 16.8 beats: fifteen, one held; four to breathe, two of them for nothing
        (120, 8, 60),  # sixteen beats: fifteen, one held; four to breathe, two of them for nothing
    ],
)
def test_a_phrase_before_another_fills_its_bars(bpm: int, air: int, steps: int) -> None:
    whole, timed = line("running chromatic", "C major"), pace(bpm, air, "even in four")
    both = steps + carried_at(bpm, air) * 4
    twice = (*whole.notes, *whole.notes[1:])
    one, _ = phrases(Line(twice[: both + 1], whole.home), timed, 0)
    assert len(one.laid) - 1 == steps
    assert len(phrases(Line(twice[: both + 2], whole.home), timed, 0)) == 3


def carried_at(bpm: int, air: int) -> int:
    """Beats that the air carries before the held one."""
    return air * bpm // 60 - 1


QUARTERS = """
[drill."scale in quarters"]
about = "Mine."
staple = "scales"
material = "scale"
cells = ["1"]
lengths = ["1"]
path = "turning"
varies = false
"""


def test_even_lengths_of_a_drills_own_fill_their_bars_too() -> None:
    # twelve beats of air at 60: eleven notes and a breath are three bars, twelve would be four. 44 steps: ten at most
    # before another phrase, four times, and eleven at most at the end
    timed = pace(60, 12)
    found = phrases(line("scale in quarters", "C major", own=QUARTERS), timed, 0)
    check(found, timed)
    assert all(len(phrase.laid) <= 11 and phrase.rest <= Beats(1 + MOST_NEEDLESS) for phrase in found[:-1])
    assert len(found) == 5


def test_a_slow_scale_breathes_without_an_empty_bar() -> None:
    # eleven beats of sixteenths, and air for eight at 42: of the two bars before the breath all sounds but one beat
    found = phrases(line("turning scale", "C major"), pace(42, 12, "even in four"), 0)
    assert [(phrase.length - phrase.rest, phrase.length) for phrase in found[:-1]] == [(Beats(7), Beats(8))]


@given(st.sampled_from(RUNNING), st.sampled_from(sorted(patterns().rhythms)), BPM, AIR)
@settings(max_examples=EXAMPLES, deadline=None)
def test_every_full_cell_is_the_rhythm_as_written(drill: str, rhythm: str, bpm: int, air: int) -> None:
    lengths = patterns().rhythms[rhythm].lengths
    for phrase in phrases(line(drill, "A minor"), pace(bpm, air, rhythm), 0):
        full = [note for note in phrase.notes if note.size == len(lengths) > 1]
        assert all(note.length == lengths[note.place] for note in full)
        assert {note.place for note in full} in (set(), set(range(len(lengths))))


@given(st.sampled_from(sorted(IN_ITS_OWN_LENGTHS)), BPM, AIR)
@settings(max_examples=EXAMPLES, deadline=None)
def test_what_has_its_own_lengths(drill: str, bpm: int, air: int) -> None:
    asked = patterns().drills[drill]
    whole, timed = line(drill, IN_ITS_OWN_LENGTHS[drill]), pace(bpm, air)
    found = phrases(whole, timed, asked.breath_cells)
    check(found, timed)
    assert [note.laid for phrase in found for note in phrase.notes] == list(whole.notes)
    assert all(phrase.notes[0].laid.opens for phrase in found)
    for phrase in found:
        kept = [note.length == note.laid.length for note in phrase.notes[:-1]]
        assert all(kept)
        written = phrase.notes[-1].laid.length
        assert written is not None
        assert written / 2 <= phrase.notes[-1].length <= written
        cells = {note.laid.cell for note in phrase.notes}
        assert len(cells) <= asked.breath_cells
        assert len(cells) == 1 or seconds(sounding(phrase), timed) <= air


@pytest.mark.parametrize(("bpm", "held", "rest"), [(50, 3, 1), (60, 3, 1), (72, 2, 2), (100, 3, 1), (120, 2, 2)])
def test_the_slow_chromatic_keeps_its_two_bars_and_gives_the_breath_from_its_last_note(
    bpm: int, held: int, rest: int
) -> None:
    # 4 + 3 beats of 8; at 72 a second is more than one beat, at 120 0.6 s is
    for phrase in phrases(line("slow chromatic"), pace(bpm, 12), 1):
        assert (phrase.notes[-1].length, phrase.rest, phrase.length) == (Beats(held), Beats(rest), Beats(8))


def test_two_cells_to_a_breath_become_one_where_the_air_is_short() -> None:
    triads = line("ten triads of a note", "D major")
    assert {len(phrase.notes) for phrase in phrases(triads, pace(60, 12), 2)} == {6}
    assert {len(phrase.notes) for phrase in phrases(triads, pace(40, 6), 2)} == {3}  # six beats are 9 s


def test_a_breath_after_so_many_cells_in_a_running_rhythm() -> None:
    whole = line("arpeggio through inversions", "C major")
    timed = pace(60, 12, "even in four")
    found = phrases(whole, timed, 3)
    check(found, timed)
    assert [note.laid for phrase in found for note in phrase.notes] == list(whole.notes)
    assert [len(phrase.notes) for phrase in found] == [12, 12, 12, 12, 4]


@given(st.sampled_from(("curving study", "little curving study")), st.sampled_from(KEYS), BPM, AIR)
@settings(max_examples=EXAMPLES, deadline=None)
def test_a_study_keeps_its_time_and_breathes_out_of_its_last_note(drill: str, key: str, bpm: int, air: int) -> None:
    whole, timed = line(drill, key), pace(bpm, air, written=patterns().drills[drill].meter)
    found = phrases(whole, timed, 0)
    onset = Beats(0)
    for phrase in found:
        assert [onset + note.onset for note in phrase.notes] == [note.laid.at for note in phrase.notes]
        assert phrase.rest.exact > 0
        onset += phrase.length
    assert [note.laid for phrase in found for note in phrase.notes] == list(whole.notes)
    bars = len(patterns().drills[drill].study)
    assert onset == timed.meter.bar * bars
    marked = sum(note.breathes for note in whole.notes)
    assert len(found) >= marked
    tired = [phrase for phrase in found if seconds(sounding(phrase), timed) > air]
    assert all(len({note.laid.cell for note in phrase.notes}) == 1 for phrase in tired)  # one bar is not parted
