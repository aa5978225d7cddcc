"""What a drone that sets a task may not change: the chords, the notes, its own pitch but by the cents it tells.

Referees  the definition of the cent, 1200 log2 of a ratio; the difference tone f2 - f1 (acoustics). The rows of drones
          are invented.
"""

from __future__ import annotations

from math import log2

import pytest

from droner.score.ledger import ledger
from droner.score.score import Answer, Score, Tone
from tests.score.composed import Composed, composed, manner

NO_CENTS = 1e-6
"""What is left of a ratio of floats."""
LONG = 'drill = "turning scale"\ntempo = 60\nspeeds = [60, 100]'
OWN = """
[drone]
"cells, always"   = { about = "Each cell's note.", degrees = [1, 5], moves = "cell" }
"cells, blind"    = { about = "The same, and off.", degrees = [1, 5], moves = "cell", bars_off = 1, returns = [7, -7] }
"notes, always"   = { about = "Each note.", degrees = [1], moves = "note" }
"notes, blind"    = { about = "The same, and off.", degrees = [1], moves = "note", bars_off = 1, returns = [7, -7] }
"second, always"  = { about = "The second degree.", degrees = [2] }
"second, in turn" = { about = "Two bars of it, one of silence.", degrees = [2], bars_on = 2, bars_off = 1 }
"pair, blind".about = "High, and off."
"pair, blind".degrees = [1]
"pair, blind".bars_on = 2
"pair, blind".bars_off = 1
"pair, blind".returns = [50]
"pair, blind".pairs = [3]
"pair, blind".pair_bars = 64
"pair, blind".ghost_bars = 60
"""


def drone(name: str, block: str = LONG) -> Composed:
    return composed(f'{block}\ndrone = "{name}"', key="Eb major", own=OWN, played=manner("one a beat"))


def told(score: Score, tone: Tone) -> float:
    """The cents told for the stretch that a tone sounds in: those of the last answer, until the drone falls silent."""
    before: list[Answer] = [answer for answer in score.answers if answer.onset <= tone.onset]
    if not before:
        return 0.0
    onset = before[-1].onset
    ends = sorted({one.onset + one.length for one in score.drone if one.onset >= onset})
    starts = {one.onset for one in score.drone}
    silent = next(end for end in ends if end not in starts)
    return before[-1].cents if tone.onset < silent else 0.0


@pytest.mark.parametrize(("blind", "always"), [("cells, blind", "cells, always"), ("notes, blind", "notes, always")])
def test_a_moving_drone_is_off_by_what_is_told_and_elsewhere_where_it_would_have_been(blind: str, always: str) -> None:
    score, true = drone(blind).score, drone(always).score
    seen = set()
    for tone in score.drone:
        same = next(
            one for one in true.drone if one.pitch == tone.pitch and one.onset <= tone.onset < one.onset + one.length
        )
        cents = told(score, tone)
        assert 1200 * log2(tone.hz / same.hz) == pytest.approx(cents, abs=NO_CENTS)
        assert tone.onset + tone.length <= same.onset + same.length
        seen.add(cents)
    assert seen == {0.0, 7.0, -7.0}


def test_the_ghost_of_a_pair_that_comes_back_off_is_still_its_difference() -> None:
    score = drone("pair, blind", 'drill = "swell"\ntempo = 60').score
    offs = [answer.onset for answer in score.answers]
    assert offs
    for onset in offs:
        low, second, ghost = sorted(
            (one for one in score.drone if one.onset <= onset < one.onset + one.length),
            key=lambda one: (bool(one.course), one.hz),
        )
        assert ghost.hz == pytest.approx(second.hz - low.hz, rel=1e-12)


@pytest.mark.parametrize("task", ["tone and silence", "before you play"])
@pytest.mark.parametrize("chords", ["anchored", "free", "spread"])
def test_silences_leave_chords_and_notes_where_they_are(task: str, chords: str) -> None:
    """They are tuned to the tonic that the drone stands for, heard or not: as if it were there throughout."""
    drill = 'drill = "swell"\ntempo = 60\nspeeds = [60, 100]'
    block, top = f'{drill}\nchanges = "one four five"\ndrone = ', f'[tuning]\nchords = "{chords}"'
    with_task, without = (composed(f'{block}"{name}"', key="A minor", top=top).score for name in (task, "tonic"))
    assert with_task.drone != without.drone
    assert with_task.changes
    assert with_task.changes == without.changes
    assert with_task.solo == without.solo


@pytest.mark.parametrize("chords", ["anchored", "free", "spread"])
def test_a_drone_that_comes_back_off_sounds_without_the_chords_of_its_drill(chords: str) -> None:
    """They would keep the pitch for the player. The notes are where they would be without chords."""
    made = composed('drill = "curving study"\ndrone = "blind return"', top=f'[tuning]\nchords = "{chords}"')
    plain = composed('drill = "curving study"\nchanges = "none"')
    assert made.item.changes.kind == "written"
    assert made.score.answers
    assert made.score.changes == ()
    assert ledger(made.item, made.session) == ()
    assert made.score.solo == plain.score.solo


def test_a_chord_in_a_silence_leaves_the_tone_that_was_held_where_it_was() -> None:
    """In just tuning D to A is 40/27 in C, a comma under a fifth: one must move, and it is not the one that is held."""
    block = 'drill = "swell"\nchanges = "round by two"\ndrone = '
    names = ("second, always", "second, in turn", "tonic")
    always, in_turn, tonic = (composed(f'{block}"{name}"', key="C major", own=OWN).score for name in names)
    supertonics = [chord for chord in in_turn.changes if chord.symbol == "Dm"]
    sounds = [(one.onset, one.onset + one.length) for one in in_turn.drone]
    assert any(all(not onset <= chord.onset < end for onset, end in sounds) for chord in supertonics)
    assert in_turn.changes == always.changes
    assert in_turn.changes != tonic.changes
