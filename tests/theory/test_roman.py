"""Roman numerals. Referee: music21's RomanNumeral, over all thirty usual keys."""

from __future__ import annotations

from types import ModuleType

import pytest

from droner.theory.key import Key, key, usual_keys
from droner.theory.roman import roman

IN_MAJOR = """
    I ii iii IV V vi viio I6 I64 IV6 ii6 vi64 V7 V65 V43 V42 V2 I7 ii7 ii65 iii7 IV7 vi7 viio7 viiø7
    iv v i V+ III+ bIII bVI bVII bII6 bVImaj7 #ivo7 V/V V7/V V7/ii V7/vi viio7/V V65/IV N6 N
"""
IN_MINOR = """
    i iio III iv V VI VII viio i6 i64 v V7 V65 V42 i7 III7 iv7 VI7 VII7 ii7 iiø7 iiø65 viio7 viio42
    ii vi viø7 IV I III+ bII #ivo7 V/V V7/iv V7/III viio7/V V7/VI N6
"""


@pytest.mark.parametrize("one", usual_keys(), ids=str)
def test_numerals_mean_what_music21_means(music21: ModuleType, one: Key) -> None:
    tonic = str(one.tonic).replace("b", "-")
    judge_key = music21.key.Key(tonic.lower() if one.is_minor else tonic)
    for numeral in (IN_MINOR if one.is_minor else IN_MAJOR).split():
        judge = music21.roman.RomanNumeral(numeral.replace("N", "bII"), judge_key)
        theirs = [each.name.replace("-", "b") for each in judge.pitches]
        ours = roman(numeral, one)
        assert {str(note) for note in ours.notes} == set(theirs), numeral
        assert str(ours.bass_note) == theirs[0], numeral


@pytest.mark.parametrize(
    ("numeral", "in_key", "symbol"),
    # where music21 reads otherwise, or does not read: common practice, no source
    [
        ("bVII7", "C major", "Bb7"),  # a chord outside the key with "7" is a dominant seventh
        ("bVI", "C minor", "Ab"),  # in minor, bVI is the sixth as it stands
        ("bIII", "A minor", "C"),
        ("#viio", "A minor", "G#dim"),
        ("vii°7", "C major", "Bdim7"),
        ("IVmaj7", "F major", "Bbmaj7"),
        ("V", "D dorian", "A"),
        ("bVII", "D dorian", "C"),
        ("V7 / V", "C major", "D7"),
    ],
)
def test_what_players_write_is_read_as_they_mean_it(numeral: str, in_key: str, symbol: str) -> None:
    assert roman(numeral, key(in_key)).symbol == symbol


@pytest.mark.parametrize("numeral", ["", "VIII", "iV", "Io", "i+", "V9", "viiø6", "V/", "IX", "bb7", "H"])
def test_what_is_no_numeral_is_refused_with_what_is_allowed(numeral: str) -> None:
    with pytest.raises(ValueError, match=r"allowed|write o"):
        roman(numeral, key("C major"))


def test_numerals_need_seven_degrees() -> None:
    with pytest.raises(ValueError, match="seven degrees"):
        roman("I", key("C major pentatonic"))
