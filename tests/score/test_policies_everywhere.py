"""Every row of chords that the patterns make, by every policy, in several keys.

Referees  five-limit arithmetic: the rows of whole numbers in `sequences`, the just scale in `SCALE`, the syntonic comma
          81/80 = 21.506 cents. Equal temperament: 440 Hz times a power of the twelfth root of two.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from math import floor, log2

import pytest

from droner.score.chord_place import chord_place
from droner.score.chord_policies import hertz
from droner.score.compose import compose
from droner.theory.key import key as read_key
from droner.theory.pitch import pitch
from droner.theory.roman import roman
from droner.theory.tuning import tuning
from tests.score.composed import composed, manner
from tests.score.sequences import (
    KEYS,
    SLACK_CENTS,
    Row,
    by_name,
    cents,
    neighbours,
    pure_cents,
    root_and_kind,
    rows_of_chords,
    sounding,
    upwards,
    within,
)

ROWS = rows_of_chords()
STAYING = [row for row in ROWS if not row.moves_its_key]
POLICIES = ("anchored", "free", "spread")
OTHERS = ("equal", "meantone", "vallotti", "werckmeister III")
COMMA_CENTS = 1200 * log2(81 / 80)
MOVED_CENTS = 0.01
"""What is less is no move: far below the smallest difference of two just sizes that chords have, 2 cents."""
SCALE = {  # by places on the line of fifths from the tonic; five-limit arithmetic
    -6: ("64/45",),
    -5: ("16/15",),
    -4: ("8/5",),
    -3: ("6/5",),
    -2: ("9/5",),
    -1: ("4/3",),
    0: ("1",),
    1: ("3/2",),
    2: ("9/8", "10/9"),  # the second degree comes in two sizes
    3: ("5/3",),
    4: ("5/4",),
    5: ("15/8",),
    6: ("45/32",),
    7: ("25/24",),
    8: ("25/16",),
}
OF_STUDIES = {3: ("5/3", "27/16"), -2: ("9/5", "16/9")}
"""Studies leave their key: the fifth of the dominant's dominant, and the root of a chord on the flat seventh."""
NEAREST = 1000
"""Denominators up to this tell the ratios above apart."""

LEAST_CHORDS = 5


@pytest.mark.parametrize("row", ROWS, ids=str)
@pytest.mark.parametrize("key", KEYS)
def test_free_chords_are_pure_in_themselves(row: Row, key: str) -> None:
    chords = sounding(row, key, "free").changes
    assert len(chords) >= 1
    for chord in chords:
        tones = upwards(chord)
        for tone, pure in zip(tones, pure_cents(chord), strict=True):
            assert within(cents(tone.hz) - cents(tones[0].hz) - pure), chord.symbol


@pytest.mark.parametrize("row", ROWS, ids=str)
@pytest.mark.parametrize("key", KEYS)
def test_free_chords_hold_every_note_that_can_stay_to_the_last_figure(row: Row, key: str) -> None:
    """Two pure chords that share notes: where those lie alike in both, all stay; else the most, then the root."""
    for old, new in neighbours(sounding(row, key, "free")):
        before, now = by_name(old), by_name(new)
        names = [str(tone.pitch) for tone in upwards(new)]
        root, pure = names[0], dict(zip(names, pure_cents(new), strict=True))
        shared = [name for name in now if name in before]
        asked = {name: cents(before[name]) - pure[name] for name in shared}
        alike = {name: sum(within(asked[name] - other) for other in asked.values()) for name in shared}
        stays = [name for name in shared if now[name] == before[name]]
        assert len(stays) == max(alike.values(), default=0), f"{old.symbol} {new.symbol}"
        if alike.get(root) == len(stays):
            assert root in stays
        for name in set(shared).difference(stays):
            assert not within(cents(now[name]) - cents(before[name]), MOVED_CENTS), "it stays, or it moves"


@pytest.mark.parametrize(
    ("following", "stay", "moves"),
    [("vii\u00b0", ("B4", "D4"), "F4"), ("ii", ("D4",), "F4")],  # two of three; of two the root
)
def test_where_not_all_can_stay_the_most_do_and_of_as_many_the_root(
    following: str, stay: tuple[str, ...], moves: str
) -> None:
    """D to F is 7/6 in 4:5:6:7 and 6/5 in the next chord: F goes up by 36/35, 48.77 cents (septimal arithmetic)."""
    keyed = read_key("C major")
    tuned = tuning(440, "just", keyed.tonic, seventh="7/4")
    places = [chord_place(roman(numeral, keyed), tuned, frozenset()) for numeral in ("V7", following)]
    before, now = hertz("free", places)
    for name in stay:
        assert now(pitch(name)) == before(pitch(name))
    assert cents(now(pitch(moves))) - cents(before(pitch(moves))) == pytest.approx(
        1200 * log2(36 / 35), abs=SLACK_CENTS
    )


@pytest.mark.parametrize("key", ["C major", "Eb major", "F# major"])
def test_a_round_of_two_sinks_a_comma_a_lap_when_free_and_not_at_all_when_anchored(key: str) -> None:
    """Root of vi: C stays as its third, 1 : 6/5 = 5/6. Of ii: A stays as its fifth, 5/6 : 3/2 = 5/9. Of V: D stays as
    its fifth, 5/9 : 3/2 = 10/27. Of I: G stays as its fifth, 10/27 : 3/2 = 20/81, two octaves under 80/81."""
    assert Fraction(1) / Fraction(6, 5) / Fraction(3, 2) ** 3 * 4 == Fraction(80, 81)
    sunk = {}
    for policy in ("free", "anchored"):
        # the last home comes from the dominant at once, or from elsewhere on the way
        chords = sounding(Row("round by two", "turning scale"), key, policy).changes[:-1]
        homes = [upwards(one)[0].hz for one in chords if f"{root_and_kind(one)[0]} major" == key]
        assert len(homes) > 2
        sunk[policy] = [cents(before) - cents(after) for before, after in pairwise(homes)]
    assert sunk["free"] == pytest.approx([COMMA_CENTS] * len(sunk["free"]), abs=SLACK_CENTS)
    assert set(sunk["anchored"]) == {0.0}


@pytest.mark.parametrize("row", STAYING, ids=str)
@pytest.mark.parametrize("key", KEYS)
def test_anchored_tones_are_the_just_scale_on_the_tonic(row: Row, key: str) -> None:
    score = sounding(row, key, "anchored")
    allowed = SCALE | (OF_STUDIES if row.changes == "written" else {})
    tonic = score.drone[0]
    for chord in score.changes:
        for tone in chord.tones:
            octaves = log2(tone.hz / tonic.hz)
            ratio = Fraction(2 ** (octaves - floor(octaves + SLACK_CENTS))).limit_denominator(NEAREST)
            place = tone.pitch.name.fifths - tonic.pitch.name.fifths
            assert str(ratio) in allowed[place], f"{tone.pitch} of {chord.symbol}"
            assert within(cents(tone.hz) - cents(tonic.hz) - 1200 * log2(ratio))


@pytest.mark.parametrize("row", STAYING, ids=str)
@pytest.mark.parametrize("key", KEYS)
def test_no_anchored_chord_drifts(row: Row, key: str) -> None:
    """What comes again comes where it was, to the last figure."""
    first: dict[str, dict[str, float]] = {}
    for chord in sounding(row, key, "anchored").changes:
        assert by_name(chord) == first.setdefault(chord.symbol, by_name(chord)), chord.symbol


@pytest.mark.parametrize("row", ROWS, ids=str)
@pytest.mark.parametrize("temperament", OTHERS)
def test_policies_change_nothing_in_other_temperaments(row: Row, temperament: str) -> None:
    """A session may not even ask for it; were one to, every key of the piano would still have its one hertz."""
    block = f'drill = "{row.drill}"\nchanges = "{row.changes}"\ntempo = 90'
    made = composed(block, key="Eb major", played=manner("one a beat"), top=f'[tuning]\ntemperament = "{temperament}"')
    for policy in POLICIES:
        session = replace(made.session, tuning=replace(made.session.tuning, chords=policy))
        score = compose(made.item, session)
        assert (score.changes, score.solo) == (made.score.changes, made.score.solo)
    heard: dict[str, set[float]] = {}
    for chord in made.score.changes:
        for tone in chord.tones:
            heard.setdefault(str(tone.pitch), set()).add(tone.hz)
            if temperament == "equal":
                assert tone.hz == pytest.approx(440 * 2 ** ((tone.pitch.midi - 69) / 12), rel=1e-12)
    assert all(len(places) == 1 for places in heard.values())


def test_these_are_all_the_rows_there_are() -> None:
    """Counted in the pattern files: five rows of their own, under four drills each; the others with their drills."""
    own = [row for row in ROWS if row.changes not in {"as played", "written", "dominant to tonic"}]
    assert len(own) == 5 * 4
    assert sum(row.changes == "written" for row in ROWS) == 2
    assert sum(row.changes == "as played" for row in ROWS) >= LEAST_CHORDS
