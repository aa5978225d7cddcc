"""Listen first: the guide plays one time through, then leaves the player alone.

Referee hearing a model first helped (Henley 2001, J. Res. Music Educ., doi 10.2307/3345868); what is counted here is
        worked by hand: two times through for one run, three for two.
"""

from __future__ import annotations

from droner.score.heard import heard
from tests.score.composed import composed, manner

SCALE = 'drill = "octave scale"'


def test_the_first_time_through_is_one_more_and_alone_is_heard() -> None:
    usual = composed(SCALE, played=manner("one a beat"))
    first = composed(f"{SCALE}\nlisten_first = true", played=manner("one a beat"))
    assert len(first.item.performance.repeats) == len(usual.item.performance.repeats) + 1 == 2
    assert len(first.score.solo) == 2 * len(usual.score.solo)
    listened = heard(first.score, first.item, guide=False)
    assert [note.pitch for note in listened.solo] == [note.pitch for note in usual.score.solo]
    assert listened.clicks == first.score.clicks
    assert heard(first.score, first.item, guide=True) == first.score
    assert heard(usual.score, usual.item, guide=False).solo == ()


def test_it_is_played_at_the_speed_of_the_first_run() -> None:
    made = composed(f"{SCALE}\nlisten_first = true\nspeeds = [80, 100]", played=manner("one a beat"))
    assert [repeat.speed for repeat in made.item.performance.repeats] == [80, 80, 100]
