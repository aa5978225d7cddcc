"""The click of an item: the count-in, what is heard while playing, drops by seed, clicks on notes and pulses.

Referee  the drill's own notes and breaths as the score shows them; the binomial law for drops.
"""

from __future__ import annotations

from fractions import Fraction
from math import sqrt

import pytest

from droner.score.plain import click_score
from droner.score.score import Click, ClickKind, Score
from droner.theory.meter import meter
from droner.units import Beats
from tests.score.composed import composed, manner, patterns

SCALE = 'drill = "octave scale"\ntempo = 92'
DEVIATIONS = 4
"""A share of chance may stray four standard deviations: once in 15,000 seeds."""
SLOW = 'drill = "slow chromatic"'


def played(score: Score) -> list[Click]:
    return [click for click in score.clicks if click.kind is not ClickKind.COUNT]


@pytest.mark.parametrize(
    ("rhythm", "bars", "counts"),
    [
        # at 92 the drone is alone for four beats, 2.6 s; then 4/4: four counts; 12/8: four dotted beats
        ("even in four", 1, ["4", "5", "6", "7"]),
        ("even in three", 1, ["6", "15/2", "9", "21/2"]),
        ("even in four", 2, ["4", "5", "6", "7", "8", "9", "10", "11"]),
        ("even in four", 0, []),
    ],
)
def test_the_count_in_counts_every_beat_with_its_own_sound(rhythm: str, bars: int, counts: list[str]) -> None:
    for click in sorted(patterns().clicks):
        score = composed(f'{SCALE}\nclick = "{click}"\ncount_in = {bars}', played=manner(rhythm)).score
        counted = [one for one in score.clicks if one.kind is ClickKind.COUNT]
        assert [str(one.onset.exact) for one in counted] == counts


def test_the_first_count_of_a_bar_is_heard_above_the_others() -> None:
    score = composed(f"{SCALE}\ncount_in = 2").score
    gains = [one.gain for one in score.clicks if one.kind is ClickKind.COUNT]
    assert [gain == max(gains) for gain in gains] == [True, False, False, False] * 2


def test_each_time_through_is_counted_in() -> None:
    made = composed(f"{SCALE}\nspeeds = [60, 80, 100]")
    for repeat in made.item.performance.repeats:
        end = repeat.counted + repeat.count_in
        counted = [one for one in made.score.clicks if repeat.onset <= one.onset < end]
        assert [one.kind for one in counted] == [ClickKind.COUNT] * 4


def test_the_rhythm_is_the_beat_and_a_quiet_click_on_every_note() -> None:
    score = composed(f'{SCALE}\nclick = "the rhythm"', played=manner("even in five")).score
    by_moment = {click.onset: click.kind for click in played(score)}
    beats = {
        click.onset for click in played(composed(f'{SCALE}\nclick = "every beat"', played=manner("even in five")).score)
    }
    for note in score.solo:
        assert note.onset in by_moment
        assert (by_moment[note.onset] is ClickKind.SUBDIVISION) == (note.onset not in beats)
    assert set(by_moment) == beats | {note.onset for note in score.solo}


def test_only_on_breaths_is_silent_under_every_note_and_counts_through_every_breath() -> None:
    score = composed(
        'drill = "turning scale"\ntempo = 60\nclick = "only on breaths"', played=manner("long short")
    ).score
    for click in played(score):
        assert not [note for note in score.solo if note.onset <= click.onset < note.onset + note.length]
    assert len(score.breaths) > 1
    for breath in score.breaths:
        inside = [click for click in played(score) if breath.onset <= click.onset < breath.onset + breath.length]
        assert len(inside) == breath.length.exact, "a click on each beat of the breath"


def test_the_click_divides_the_beat_for_measured_vibrato() -> None:
    """Two, three, four, five, six pulses a beat for seven beats each, and the click marks every one."""
    score = composed('drill = "measured vibrato"').score
    for pulses, note in zip((2, 3, 4, 5, 6), score.solo, strict=True):
        inside = [click for click in played(score) if note.onset <= click.onset < note.onset + note.length]
        assert [click.onset - note.onset for click in inside] == [Beats(place, pulses) for place in range(7 * pulses)]
        on_beats = [click for click in inside if (click.onset - note.onset).exact.denominator == 1]
        assert all(click.kind is not ClickKind.SUBDIVISION for click in on_beats)
        assert sum(click.kind is ClickKind.SUBDIVISION for click in inside) == 7 * (pulses - 1)


@pytest.mark.parametrize("click", ["two bars on, two off", "one bar on, three off", "only on breaths", "fading"])
def test_pulses_are_silent_where_the_pattern_is_silent(click: str) -> None:
    score = composed(f'drill = "measured vibrato"\nclick = "{click}"').score
    first = next(bar.onset for bar in score.bars if bar.number)
    for one in played(score):
        bar = int((one.onset - first).exact // 4)
        if click == "two bars on, two off":
            assert bar % 4 < 2
        elif click == "one bar on, three off":
            assert bar % 4 == 0
        elif click == "only on breaths":
            assert not [note for note in score.solo if note.onset <= one.onset < note.onset + note.length]
        else:
            assert one.gain == 1 - bar / 8


def test_the_bars_on_and_off_are_counted_from_the_start_of_each_time_through() -> None:
    made = composed('drill = "turning scale"\nclick = "two bars on, two off"\nspeeds = [50, 100]\ncount_in = 1')
    for repeat in made.item.performance.repeats:
        start = repeat.counted + repeat.count_in
        end = repeat.phrases[-1].onset + repeat.phrases[-1].phrase.length
        heard = {int((one.onset - start).exact // 4) for one in played(made.score) if start <= one.onset < end}
        bars = int((end - start).exact / 4)
        assert heard == {bar for bar in range(bars) if bar % 4 < 2}


def dropped(seed: int, bars: int) -> frozenset[int]:
    """Which beats of so many bars are not heard."""
    score = click_score(meter("4/4"), patterns().clicks["drops"], Fraction(90), bars, 440.0, seed=seed)
    return frozenset(range(4 * bars)) - {int(click.onset.exact) for click in score.clicks}


def test_drops_leave_out_a_quarter_of_the_clicks() -> None:
    beats = 4 * 1000
    allowed = DEVIATIONS * sqrt(beats * 0.25 * 0.75)
    for seed in range(5):
        assert abs(len(dropped(seed, 1000)) - beats / 4) < allowed


def test_drops_are_the_same_for_one_seed_and_others_for_another() -> None:
    assert dropped(1, 50) == dropped(1, 50)
    assert len({dropped(seed, 50) for seed in range(20)}) == 20


def test_an_items_drops_come_from_the_sessions_seed() -> None:
    def beats(seed: int, key: str = "C major") -> tuple[Beats, ...]:
        made = composed(f'{SLOW.replace("slow chromatic", "octave scale")}\nclick = "drops"\ntempo = 40', key=key,
                        played=manner("one a beat"), top=f"seed = {seed}")  # fmt: skip
        return tuple(click.onset for click in played(made.score))

    assert beats(1) == beats(1)
    assert len({beats(seed) for seed in range(8)}) == 8
    assert beats(1) != beats(1, "D major"), "another key, other gaps"


def test_what_is_dropped_on_a_pulse_is_not_put_back_by_a_quieter_click_there() -> None:
    """Measured vibrato marks each beat twice, as a beat and as a pulse: dropped is dropped."""
    full = len(played(composed('drill = "measured vibrato"').score))
    score = composed('drill = "measured vibrato"\nclick = "drops"').score
    share = 1 - len(played(score)) / full
    assert abs(share - 0.25) < DEVIATIONS * sqrt(0.25 * 0.75 / full)
    on_beats = [click for click in played(score) if click.onset.exact.denominator == 1]
    assert all(click.kind is not ClickKind.SUBDIVISION for click in on_beats)


def test_silent_leaves_the_count_in_alone() -> None:
    score = composed(f'{SCALE}\nclick = "silent"').score
    assert {click.kind for click in score.clicks} == {ClickKind.COUNT}
