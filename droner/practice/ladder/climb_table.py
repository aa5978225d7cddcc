"""List the climbs: in which order a ladder is climbed, and the steps of those that stay at their target.

Rule    one row a climb, with what it is in a plain sentence for the player. No order of tempos has been shown to be the
        best one, so none is praised here. Rhythms and clicks are rows of the pattern library, by name.
Units   counts of rungs and of breaths.
Source  steady, rising and alternating tempos did not differ in 60 school winds: Henley 2001, J. Res. Music Educ., doi
        10.2307/3345868. The climbs and their counts: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

STRAIGHT, TWO_UP, TERRACES, IN_TURN = "straight", "two up, one down", "terraces", "slow and target in turn"
BURSTS, MORE_NOTES, FEWER_CLICKS, COLD = "growing bursts", "more notes a beat", "fewer clicks", "one cold run"

CLIMBS: Mapping[str, str] = MappingProxyType(
    {
        STRAIGHT: "From slow to target, one tempo after another.",
        TWO_UP: "Two tempos up, one back, so that each is met again before you leave it.",
        TERRACES: "Four tempos up, two back, and on from there.",
        IN_TURN: "From slow to target, and each slow run is followed by one at the target.",
        BURSTS: "Always at the target: one breath of the drill, then two, until it is all of it.",
        MORE_NOTES: "The click stays at the target: one note a beat, then two, three and four.",
        FEWER_CLICKS: "The tempo stays at the target, and less and less of the click is heard.",
        COLD: "One run at the target, without a slower one before it and without a second try.",
    }
)
BY_TEMPO = frozenset({STRAIGHT, TWO_UP, TERRACES, IN_TURN})
"""The climbs that get faster. The others stay at their target and have steps with names."""
WAVES: Mapping[str, tuple[int, int]] = MappingProxyType({TWO_UP: (2, 1), TERRACES: (4, 2)})
"""So many rungs up, then so many back."""
MOST_BREATHS = 8
"""The longest burst that is counted in breaths; after it comes all of the drill."""
NOTES_A_BEAT = ("one a beat", "even in two", "even in three", "even in four")
CLICKS = ("every beat", "half bar", "one a bar", "two bars on, two off", "one bar on, three off")
