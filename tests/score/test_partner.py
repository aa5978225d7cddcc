"""A partner strays the way partners do, by as much as the player asks, and says who it is.

Referee  directions: flutes and brass go sharp when louder and flat when softer, clarinets and the other reeds the
         opposite (published as directions, without sizes); a warming room raises wind instruments (speed of sound).
         That a tired player sinks: common practice, no source. Sizes: what the player types. Drills are drawn by
         hypothesis.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from droner.errors import MistakesFound
from droner.practice.pattern import DroneKind
from droner.score.partner import CurvePoint, curve
from droner.score.score import Bearing, Score
from droner.score.tempo_map import tempo_map
from droner.units import Beats, Seconds
from tests.score.composed import Composed, composed, patterns

SWELLING = ("reed-like", "flute-like")
SLOW = ("warming room", "tired low")
ROLES = ("follow", "hold", "meet half-way")
SCALE = 'drill = "octave scale"\ndrone = "tonic and fifth"'
FLOAT_CENTS = 1e-9


def with_partner(kind: str, cents: int = 8, role: str = "follow", block: str = SCALE) -> Composed:
    return composed(f'{block}\npartner = {{ kind = "{kind}", cents = {cents}, role = "{role}" }}')


def course_of(score: Score) -> tuple[Bearing, ...]:
    """The one course that all tones of the drone go."""
    (course,) = {tone.course for tone in score.drone}
    return course


def loudest(score: Score) -> Bearing:
    return max(course_of(score), key=lambda bearing: bearing.gain_db)


def softest(score: Score) -> Bearing:
    return min(course_of(score), key=lambda bearing: bearing.gain_db)


def test_a_flute_like_partner_is_sharp_when_loud_and_flat_when_soft() -> None:
    score = with_partner("flute-like").score
    assert (loudest(score).cents, softest(score).cents) == (8, -8)


def test_a_reed_like_partner_is_flat_when_loud_and_sharp_when_soft() -> None:
    score = with_partner("reed-like").score
    assert (loudest(score).cents, softest(score).cents) == (-8, 8)


def test_a_warming_room_rises_from_the_first_note_to_the_end() -> None:
    made = with_partner("warming room", 20)
    first, last = course_of(made.score)
    assert (first.onset, first.cents) == (made.score.solo[0].onset, 0)
    assert (last.onset, last.cents) == (made.score.length, 20)


def test_a_tired_lip_sinks_from_the_first_note_to_the_end() -> None:
    made = with_partner("tired low", 20)
    first, last = course_of(made.score)
    assert (first.onset, first.cents) == (made.score.solo[0].onset, 0)
    assert (last.onset, last.cents) == (made.score.length, -20)


@pytest.mark.parametrize("kind", SLOW)
def test_what_comes_slowly_does_not_swell(kind: str) -> None:
    assert {bearing.gain_db for bearing in course_of(with_partner(kind).score)} == {0.0}


@pytest.mark.parametrize("kind", SWELLING)
def test_a_swell_is_as_far_off_as_it_is_louder_or_softer(kind: str) -> None:
    """Cents per decibel, the measure of a swell, are the same all along."""
    bearings = [bearing for bearing in course_of(with_partner(kind).score) if bearing.gain_db]
    assert len({round(bearing.cents / bearing.gain_db, 9) for bearing in bearings}) == 1


@pytest.mark.parametrize("kind", SWELLING)
def test_each_phrase_is_one_swell_and_the_breath_is_soft(kind: str) -> None:
    made = with_partner(kind)
    levels = {bearing.onset: bearing.gain_db for bearing in course_of(made.score)}
    soft, loud = softest(made.score).gain_db, loudest(made.score).gain_db
    for repeat in made.item.performance.repeats:
        for placed in repeat.phrases:
            end = placed.onset + placed.phrase.length - placed.phrase.rest
            inside = [gain_db for onset, gain_db in levels.items() if placed.onset < onset < end]
            assert (levels[placed.onset], inside, levels[end]) == (soft, [loud], soft)


@pytest.mark.parametrize("kind", [*SWELLING, *SLOW])
def test_the_lead_in_begins_at_true_pitch(kind: str) -> None:
    first = course_of(with_partner(kind).score)[0]
    assert (first.cents, first.gain_db) == (0.0, 0.0)
    assert first.onset > Beats(0)  # and so it stands there until then


@pytest.mark.parametrize("role", ROLES)
def test_the_task_changes_nothing_in_what_the_partner_does(role: str) -> None:
    assert course_of(with_partner("reed-like", 8, role).score) == course_of(with_partner("reed-like").score)


def test_the_partner_plays_what_the_drone_holds() -> None:
    block = 'drill = "five-note cells"\ndrone = "under each degree"'
    still, moving = composed(block).score, with_partner("reed-like", block=block).score
    assert [(t.onset, t.length, t.pitch, t.hz) for t in moving.drone] == [
        (t.onset, t.length, t.pitch, t.hz) for t in still.drone
    ]
    assert not any(tone.course for tone in still.drone)


def test_nothing_else_with_a_pitch_sounds_where_the_player_holds() -> None:
    """The drill brings chords of its own: they would give the true pitch away."""
    block = 'drill = "every triad of each note"\ndrone = "tonic"'
    assert with_partner("reed-like", role="follow", block=block).score.changes
    held = with_partner("reed-like", role="hold", block=block).score
    assert not held.changes
    assert held.drone
    assert held.clicks


@pytest.mark.parametrize(
    ("kind", "role", "words"),
    [
        ("reed-like", "follow", ("sharp when soft and flat when loud", "by 8 cents at most", "follow it")),
        ("flute-like", "hold", ("flat when soft and sharp when loud", "by 8 cents at most", "hold the pitch")),
        ("warming room", "meet half-way", ("rises", "by 8 cents at most", "half-way")),
        ("tired low", "hold", ("sinks", "by 8 cents at most", "hold the pitch")),
    ],
)
def test_the_cue_says_who_the_partner_is_and_what_the_task_is(kind: str, role: str, words: tuple[str, ...]) -> None:
    cue = with_partner(kind, 8, role).score.cues[0]
    assert all(each in cue.shown for each in words)
    assert all(each.replace("8", "eight") in cue.spoken for each in words)
    assert not set(cue.spoken) & set("0123456789#%")


def test_a_block_without_a_partner_says_nothing_of_one() -> None:
    assert "partner" not in composed(SCALE).score.cues[0].shown


@pytest.mark.parametrize("task", ["pairs = [3, 5]", "ghost_bars = 4", "bars_off = 1, returns = [-4, 4]"])
def test_a_drone_whose_task_needs_a_still_pitch_plays_no_partner(task: str) -> None:
    own = f'[drone]\n"of tasks" = {{ about = "Invented.", degrees = [1], {task} }}\n'
    with pytest.raises(MistakesFound, match="needs a drone that does not stray"):
        composed('drill = "octave scale"\ndrone = "of tasks"\npartner = { kind = "reed-like" }', own=own)


def plays_partner(kind: DroneKind) -> bool:
    return bool(kind.degrees) and not (kind.returns or kind.pairs or kind.ghost_bars)


@st.composite
def partners(draw: st.DrawFn) -> tuple[Composed, int]:
    library = patterns()
    drone = draw(st.sampled_from(sorted(name for name, kind in library.drones.items() if plays_partner(kind))))
    cents = draw(st.integers(0, 50))
    block = [
        f'drill = "{draw(st.sampled_from(sorted(library.drills)))}"',
        f'drone = "{drone}"',
        f"tempo = {draw(st.integers(40, 160))}",
        f"count_in = {draw(st.integers(0, 2))}",
        f"speeds = {draw(st.lists(st.integers(50, 120), min_size=1, max_size=3))}",
    ]
    top = f"lead_in_seconds = {draw(st.integers(0, 4))}"
    kind, role = draw(st.sampled_from([*SWELLING, *SLOW])), draw(st.sampled_from(ROLES))
    block.append(f'partner = {{ kind = "{kind}", cents = {cents}, role = "{role}" }}')
    keyed = library.drills[block[0].split('"')[1]].keyed
    return composed("\n".join(block), key="D major" if keyed else None, top=top), cents


@settings(deadline=None, max_examples=60)
@given(partners())
def test_every_course_runs_forward_inside_the_score_and_never_beyond_its_size(drawn: tuple[Composed, int]) -> None:
    made, cents = drawn
    for course in {tone.course for tone in made.score.drone}:
        onsets = [bearing.onset for bearing in course]
        assert all(before < after for before, after in pairwise(onsets))
        assert Beats(0) <= onsets[0]
        assert onsets[-1] <= made.score.length
        assert max(abs(bearing.cents) for bearing in course) == cents


BEATS = st.fractions(0, 40, max_denominator=12)


@settings(deadline=None, max_examples=100)
@given(
    points=st.lists(st.tuples(BEATS, st.floats(-50, 50), st.floats(-12, 6)), min_size=1, max_size=6),
    moments=st.lists(st.fractions(0, 30, max_denominator=1000), max_size=8),
    looked_at=st.fractions(0, 30, max_denominator=997),
)
def test_between_two_points_of_a_curve_nothing_bends(
    points: list[tuple[Fraction, float, float]], moments: list[Fraction], looked_at: Fraction
) -> None:
    """A straight line is the same whichever of its points are written down (geometry)."""
    course = tuple(Bearing(Beats(onset), *rest) for onset, *rest in sorted({p[0]: p for p in points}.values()))
    tempos = tempo_map([(Beats(0), 500_000), (Beats(12), 750_000)])
    few, more = curve(course, tempos, ()), curve(course, tempos, [Seconds(moment) for moment in moments])
    assert {point.moment for point in few} <= {point.moment for point in more}
    assert read(few, looked_at) == pytest.approx(read(more, looked_at), abs=FLOAT_CENTS)


def read(points: tuple[CurvePoint, ...], moment: Fraction) -> float:
    """The cents at a second, read off the straight lines; beyond the ends as there."""
    if moment <= points[0].moment.exact:
        return points[0].cents
    for before, after in pairwise(points):
        if moment <= after.moment.exact:
            share = (moment - before.moment.exact) / (after.moment - before.moment).exact
            return before.cents + float(share) * (after.cents - before.cents)
    return points[-1].cents


def test_a_curve_in_seconds_follows_the_tempo() -> None:
    """At half a second a beat: two beats are a second, and half-way in time is half-way in cents (arithmetic)."""
    course = (Bearing(Beats(2), 0.0, 0.0), Bearing(Beats(6), 10.0, -6.0))
    points = curve(course, tempo_map([(Beats(0), 500_000)]), [Seconds(0), Seconds(2), Seconds(9)])
    assert [(float(point.moment), point.cents, point.gain_db) for point in points] == [
        (0, 0, 0), (1, 0, 0), (2, 5, -3), (3, 10, -6), (9, 10, -6),
    ]  # fmt: skip
