"""How each note is spoken: drawn as a player would pencil it over the notes, t k for tip and back, - for a slur.

Referee  the trade's six articulations by hand: all slurred, all short, pairs on and across the beat, slur two tongue
         the rest, compound tonguing t-k-t-k and t-k-t (common practice, no source). The lines are one octave of a
         major scale and back: fifteen notes, the last one held.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest

from droner.score.score import Attack, Score, SoloNote
from tests.score.composed import composed, manner, phrases_of, rows

SIGNS = {Attack.TONGUE: "t", Attack.BACK: "k", Attack.AIR: "a", Attack.SLUR: "-"}
OCTAVE = 'drill = "octave scale"\ntempo = 92'

DRAWN = [
    # rhythm, articulation, fifteen notes in groups as they stand on the beats
    ("even in four", "all slurred", "t--- ---- ---- -- -"),
    ("even in three", "all slurred", "t-- --- --- --- -- -"),
    ("even in four", "all short", "tttt tttt tttt tt t"),
    ("even in four", "pairs on the beat", "t-t- t-t- t-t- t- t"),
    ("long short", "pairs on the beat", "t- t- t- t- t- t- t- t"),
    ("even in four", "pairs across", "tt-t -t-t -t-t -t -"),
    ("long short", "pairs across", "tt -t -t -t -t -t -t -"),
    ("even in four", "slur two, tongue the rest", "t-tt t-tt t-tt t- t"),
    ("even in three", "slur two, tongue the rest", "t-t t-t t-t t-t t- t"),
    ("even in five", "slur two, tongue the rest", "t-ttt t-ttt t-tt t"),
    ("even in four", "compound tonguing", "tktk tktk tktk tk t"),
    ("even in three", "compound tonguing", "tkt tkt tkt tkt tk t"),
    ("even in five", "compound tonguing", "tktkt tktkt tktk t"),
    ("even in seven", "compound tonguing", "tktktkt tktktkt t"),
]


def spoken(notes: list[SoloNote]) -> str:
    return "".join(SIGNS[note.attack] for note in notes)


@pytest.mark.parametrize(("rhythm", "articulation", "drawn"), DRAWN, ids=[f"{row[0]}, {row[1]}" for row in DRAWN])
def test_it_is_spoken_as_a_player_would_draw_it(rhythm: str, articulation: str, drawn: str) -> None:
    made = composed(OCTAVE, played=manner(rhythm, articulation))
    assert spoken(list(made.score.solo)) == drawn.replace(" ", "")


OWN = """
[articulation]
"only slurs" = { about = "Slurs from the first note on.", cycle = ["slur"] }
[drill."same note"]
about = "Four times the same note, then on to the next."
staple = "tongue"
material = "scale"
cells = ["1 1 1 1"]
path = "octave"
lengths = ["1/2 1/2 1/2 1/2"]
breath_cells = 1
varies = false
articulation = "only slurs"
[drill."rests inside"]
about = "Two notes, a rest, the same note again, another."
staple = "study"
study = ["I | 1:1 3:1 r:1 3:1", "I | 4:1 3:2 r:1 '"]
varies = false
articulation = "all slurred"
"""


def test_a_note_struck_again_is_struck_with_the_tongue() -> None:
    made = composed('drill = "same note"', own=OWN)
    assert spoken(phrases_of(made.score)[0]) == "tttt"


def test_after_a_rest_the_tongue_begins_again_and_the_note_before_it_rings_out() -> None:
    solo = composed('drill = "rests inside"', own=OWN).score.solo
    assert spoken(list(solo)) == "t-t--"
    assert solo[1].sounded == solo[1].length


def test_bursts_are_tongued_t_k_t_k_to_their_last_note() -> None:
    """Five sixteenths, and nine where the patterns have them: the tip is never used twice running."""
    phrases = phrases_of(composed('drill = "double-tongue bursts"', played=manner()).score)
    short = next(phrase for phrase in phrases if len(phrase) == 5)
    assert spoken(short) == "tktkt"


def test_bursts_of_nine_are_tongued_t_k_t_k_too() -> None:
    phrases = phrases_of(composed('drill = "double-tongue bursts"', played=manner()).score)
    long = next(phrase for phrase in phrases if len(phrase) == 9)
    assert spoken(long) == "tktktktkt"


def every_row(tempo: int = 60) -> list[Score]:
    block = f'drill = "turning scale"\ntempo = {tempo}\nchanges = "none"'
    return [composed(block, key=key, played=row).score for row in rows() for key in ("C major", "F# minor")]


def test_the_first_note_of_every_breath_is_attacked_in_all_sixty_variants() -> None:
    breaths = 0
    for score in every_row():
        for phrase in phrases_of(score):
            assert phrase[0].attack is not Attack.SLUR
            breaths += 1
    assert breaths > 2 * 60, "some lines are cut for breath"


def test_the_last_note_of_every_breath_sounds_right_up_to_the_breath_mark() -> None:
    for score in every_row():
        for phrase, breath in zip(phrases_of(score), score.breaths, strict=True):
            assert phrase[-1].onset + phrase[-1].sounded == breath.onset


def test_short_notes_sound_for_half_their_length_but_for_the_last() -> None:
    solo = composed(OCTAVE, played=manner("long short", "all short")).score.solo
    assert {note.sounded.ratio(note.length) for note in solo[:-1]} == {Fraction(1, 2)}
    assert solo[-1].sounded == solo[-1].length


def test_under_a_slur_there_is_no_air_between_and_before_the_tongue_there_is_a_little() -> None:
    solo = composed(OCTAVE, played=manner("even in four", "slur two, tongue the rest")).score.solo
    for note, following in pairwise(solo):
        gap = following.onset - (note.onset + note.sounded)
        assert (gap.exact == 0) == (following.attack is Attack.SLUR)
        assert gap.exact < note.length.exact / 4


ACCENTED = [
    # rhythm, accent, fifteen notes, > where one leans out
    ("even in four", "no accent", ".... .... .... .. ."),
    ("even in four", "on the beat", ">... >... >... >. >"),
    ("even in three", "on the beat", ">.. >.. >.. >.. >. >"),
    ("even in four", "second of cell", ".>.. .>.. .>.. .> ."),
    ("even in four", "last of cell", "...> ...> ...> .> ."),
    ("even in four", "cross-group", ">..> ..>. .>.. >. ."),
    ("even in three", "cross-group", ">.. .>. ..> ... >. ."),
    ("even in five", "cross-group", ">..>. .>..> ..>. ."),
    ("even in four", "air only", ">... >... >... >. >"),
]


@pytest.mark.parametrize(("rhythm", "accent", "drawn"), ACCENTED, ids=[f"{row[0]}, {row[1]}" for row in ACCENTED])
def test_accents_fall_where_a_player_would_draw_them(rhythm: str, accent: str, drawn: str) -> None:
    made = composed(OCTAVE, played=manner(rhythm, accent=accent))
    assert "".join(".>"[note.accent] for note in made.score.solo) == drawn.replace(" ", "")


def test_the_cross_group_goes_on_in_threes_through_a_last_group_of_three() -> None:
    """Compass C4 to F5 from the top: 11 notes down, 10 up, 3 down home; 23 of 24 fill five groups and three more."""
    made = composed(
        'drill = "turning scale"\ntempo = 200',
        played=manner(accent="cross-group", turn="from the top"),
        top='range = ["C4", "F5"]\nair_seconds = 30',
    )
    accents = [place for place, note in enumerate(made.score.solo) if note.accent]
    assert len(made.score.solo) == 24
    assert accents == list(range(0, 24, 3))


def test_an_accent_of_air_replaces_the_tongue_but_never_breaks_a_slur() -> None:
    tongued = composed(OCTAVE, played=manner("even in four", "all short", accent="air only")).score.solo
    assert spoken(list(tongued)) == "atttatttatttata"
    slurred = composed(OCTAVE, played=manner("even in four", "all slurred", accent="air only")).score.solo
    assert spoken(list(slurred)) == "a" + 14 * "-"
