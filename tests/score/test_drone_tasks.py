"""Drones that set a task: silences, blind returns, difference tones, softer from session to session.

Referees  the definition of the cent, 1200 log2 of a ratio; the difference tone f2 - f1 (acoustics); just ratios 5/4,
          5/3 and 3/2; bar lines counted by hand. The drills are droner's own.
"""

from __future__ import annotations

from itertools import pairwise
from math import log2

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from droner.practice.pattern import Variant
from droner.score.answers import heard_words
from droner.score.compose import compose
from droner.score.score import Score, Tone
from droner.units import Beats
from tests.score.composed import MAJOR_KEYS, MINOR_KEYS, Composed, composed, drawn, manner, patterns, played_bars, rows

LONG = 'drill = "turning scale"\ntempo = 60\nspeeds = [50, 100]'
NO_CENTS = 1e-6
EXAMPLES = 60


def with_drone(name: str, block: str = LONG, key: str | None = "D major", top: str = "") -> Composed:
    return composed(f'{block}\ndrone = "{name}"', key=key, top=top)


def spans(score: Score) -> list[tuple[Beats, Beats]]:
    """When the drone sounds, in order; what touches is one."""
    found: list[tuple[Beats, Beats]] = []
    for tone in sorted(score.drone, key=lambda one: one.onset):
        end = tone.onset + tone.length
        if found and tone.onset <= found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], end))
        else:
            found.append((tone.onset, end))
    return found


@pytest.mark.parametrize(
    ("name", "block"),
    [
        ("tone and silence", LONG),
        ("tone and silence", 'drill = "slow chromatic"'),
        ("blind return", 'drill = "slow chromatic"'),
        ("blind return", 'drill = "swell"\ncount_in = 2\nspeeds = [80, 100]'),
    ],
)
def test_silences_lie_between_bar_lines_and_never_before_the_first_note(name: str, block: str) -> None:
    made = with_drone(name, block, key="D major" if "chromatic" not in block else None)
    sounding, bars = spans(made.score), set(played_bars(made.score))
    assert sounding[0][0] == Beats(0)
    assert sounding[-1][1] == made.score.length
    assert len(sounding) > 2
    for (_, silent), (again, _) in pairwise(sounding):
        assert {silent.exact, again.exact} <= bars
        assert (again - silent).exact in (4, 8)  # two bars of four, or one where the last would be reached
    for repeat in made.item.performance.repeats:
        first = repeat.phrases[0].onset
        assert any(onset <= repeat.onset and first <= end for onset, end in sounding)


def cents_off(tone: Tone, true_hz: float) -> float:
    return 1200 * log2(tone.hz / true_hz)


def test_answers_are_the_cents_of_the_returns_and_nothing_tells_them_before_the_end() -> None:
    made = with_drone("blind return", 'drill = "slow chromatic"', key=None, top="seed = 3")
    score = made.score
    true_hz = score.drone[0].hz
    told = {answer.onset: answer.cents for answer in score.answers}
    assert len(told) > 5
    assert set(told.values()) <= {0.0, 4.0, -4.0, 8.0, -8.0}
    assert len(set(told.values())) > 2
    for tone in score.drone:
        assert cents_off(tone, true_hz) == pytest.approx(told.get(tone.onset, 0.0), abs=NO_CENTS)
    texts = [(cue.onset, cue.shown + cue.spoken) for cue in score.cues]
    assert [onset for onset, text in texts if "came back" in text] == [texts[-1][0]]
    assert texts[-1][0] >= score.solo[-1].onset
    assert texts[-1][1].count("cent") >= sum(bool(cents) for cents in told.values())
    assert not [marker.text for marker in score.markers if "cent" in marker.text]


@pytest.mark.parametrize(
    ("name", "turn"),
    # bars on and off; two turns of them, and a bar that is true again: nine bars, five bars (by counting)
    [("blind return", 4), ("short blind return", 2)],
)
def test_a_blind_return_needs_two_turns_and_a_bar_more(name: str, turn: int) -> None:
    seen = set()
    for drill, one in sorted(patterns().drills.items()):
        score = with_drone(name, f'drill = "{drill}"', "D major" if one.keyed else None).score
        has_time = len(played_bars(score)) > 2 * turn
        assert bool(score.answers) == has_time, drill
        assert (len(spans(score)) > 1) == has_time, drill
        seen.add(has_time)
    assert seen == {True, False}


def test_the_seed_and_the_session_draw_the_returns() -> None:
    block = 'drill = "slow chromatic"\ndrone = "blind return"'
    same, again, other = (composed(block, key=None, top=f"seed = {seed}").score for seed in (3, 3, 4))
    assert same.answers == again.answers
    assert same.answers != other.answers
    made = composed(block, key=None, top="seed = 3")
    assert compose(made.item, made.session, 1).answers != same.answers


def test_before_you_play_is_silent_while_you_do() -> None:
    made = with_drone("before you play")
    firsts = [repeat.phrases[0].onset for repeat in made.item.performance.repeats]
    assert [end for _, end in spans(made.score)] == firsts


def test_high_tones_are_pure_and_their_ghost_is_their_difference() -> None:
    score = with_drone("two high tones", 'drill = "swell"\ntempo = 60\nspeeds = [100, 100]').score
    low = score.drone[0]
    ghosts = [tone for tone in score.drone if tone.course]
    seconds = [tone for tone in score.drone if tone is not low and not tone.course]
    assert all(tone.plain for tone in score.drone)
    assert {round(tone.hz / low.hz, 9) for tone in seconds} == {round(ratio, 9) for ratio in (5 / 4, 5 / 3, 3 / 2)}
    assert ghosts
    for ghost in ghosts:
        sounding = [tone.hz for tone in seconds if tone.onset <= ghost.onset < tone.onset + tone.length]
        assert ghost.hz == pytest.approx(max(sounding) - low.hz, rel=1e-12)
        gains = [bearing.gain_db for bearing in ghost.course]
        assert gains == sorted(gains, reverse=True)
        assert gains[0] == 0
        assert {bearing.cents for bearing in ghost.course} == {0.0}


@pytest.mark.parametrize("key", ["C major", "A minor"])
@pytest.mark.parametrize("instrument", ["flute", "clarinet"])
def test_the_ghost_of_your_note_is_its_distance_from_the_tone_that_stays(key: str, instrument: str) -> None:
    block = 'drill = "octave scale"\ntempo = 60\nspeeds = [100, 100]'
    own = f'instrument = "{instrument}"'
    made = composed(f'{block}\ndrone = "your difference tone"', key=key, top=own, played=manner("one a beat"))
    low, *ghosts = made.score.drone
    assert low.plain
    assert low.length == made.score.length
    heard = set()
    for ghost in ghosts:
        note = next(one for one in made.score.solo if one.onset + one.length > ghost.onset)
        assert ghost.hz == pytest.approx(abs(note.hz - low.hz), rel=1e-12)
        assert abs(1200 * log2(ghost.hz / 440) - 100 * (ghost.pitch.midi - 69)) <= 50, "named by the nearest pitch"
        heard.add(note.pitch.midi)
    assert len(heard) > 4
    for repeat in made.item.performance.repeats:
        bar_nine = repeat.phrases[0].onset + made.item.meter.bar * 8
        again = [one.onset for one in made.item.performance.repeats if one.onset > repeat.onset]
        later = [one for one in ghosts if repeat.onset <= one.onset < min(again, default=made.score.length)]
        assert later
        assert all(one.onset + one.length <= bar_nine for one in later)


@pytest.mark.parametrize(
    "tuned", ['chords = "anchored"', 'chords = "free"', 'chords = "spread"', 'temperament = "equal"']
)
def test_the_ghost_follows_a_note_that_a_chord_has_moved(tuned: str) -> None:
    """Upper less lower of what sounds, wherever the chord has taken the note: free, the round sinks by 81/80 a lap."""
    block = 'drill = "turning scale"\ntempo = 90\nchanges = "round by two"\ndrone = "your difference tone"'
    score = composed(block, key="C major", played=manner("one a beat"), top=f"[tuning]\n{tuned}").score
    low, *ghosts = score.drone
    places: dict[str, set[int]] = {}
    for ghost in ghosts:
        note = next(one for one in score.solo if one.onset + one.length > ghost.onset)
        assert ghost.hz == pytest.approx(abs(note.hz - low.hz), rel=1e-12)
        places.setdefault(str(note.pitch), set()).add(round(1200 * log2(note.hz / low.hz)))
    assert len(places) > 4
    furthest = max(max(cents) - min(cents) for cents in places.values())
    assert furthest >= 21 or "free" not in tuned
    assert furthest == 0 or "equal" not in tuned


def test_a_pair_is_high_and_its_difference_is_heard_in_every_key() -> None:
    """F5 is MIDI 77. A difference below 60 Hz or above 2000 Hz would be none to a loudspeaker or no help."""
    for key in MAJOR_KEYS + MINOR_KEYS:
        score = with_drone("two high tones", 'drill = "swell"', key).score
        assert 77 <= score.drone[0].pitch.midi < 89
        differences = {tone.hz for tone in score.drone if tone.course}
        assert len(differences) == 3
        assert all(60 <= hz <= 2000 for hz in differences)


@pytest.mark.parametrize(
    ("cents", "words"),
    [(0.0, "in tune"), (4.0, "4 cents sharp"), (-8.0, "8 cents flat"), (1.0, "1 cent sharp"), (-1.0, "1 cent flat")],
)
def test_an_answer_is_said_as_players_do(cents: float, words: str) -> None:
    """Sharp is high and flat is low: the trade's words."""
    assert heard_words(cents) == words


def test_a_drone_gets_softer_from_session_to_session_and_then_stays_so() -> None:
    """Twenty decibels over forty sessions: half a decibel each."""
    made = with_drone("softer each session")
    gains = [{tone.gain_db for tone in compose(made.item, made.session, before).drone} for before in (0, 1, 20, 40, 90)]
    assert gains == [{0.0}, {-0.5}, {-10.0}, {-20.0}, {-20.0}]


@given(
    st.sampled_from(sorted(patterns().drills)),
    st.sampled_from(sorted(patterns().drones)),
    st.sampled_from(MAJOR_KEYS + MINOR_KEYS),
    st.sampled_from(rows()),
    st.sampled_from(("flute", "clarinet", "bassoon")),
    st.integers(0, 2),
    st.integers(0, 10_000),
)
@settings(max_examples=EXAMPLES, deadline=None)
def test_every_drone_of_every_day_lies_inside_every_score_in_order(
    drill: str, drone: str, key: str, played: Variant, instrument: str, count_in: int, sessions_before: int
) -> None:
    keyed = patterns().drills[drill].keyed
    block = f'drill = "{drill}"\ntempo = 80\ncount_in = {count_in}\ndrone = "{drone}"'
    level = 'level = "advanced"'
    top = f'instrument = "{instrument}"\n{level}'
    made = drawn(block, key=key if keyed else None, played=played, top=top)
    score = compose(made.item, made.session, sessions_before)
    onsets = [tone.onset for tone in score.drone]
    assert onsets == sorted(onsets)
    assert bool(onsets) == (drone != "none")
    for tone in score.drone:
        assert tone.length > Beats(0)
        assert Beats(0) <= tone.onset
        assert tone.onset + tone.length <= score.length
    cues = [cue.onset for cue in score.cues]
    assert cues == sorted(cues)
    assert all(onset < score.length for onset in cues)
