"""List what to change on a plateau, where the tempo has stopped leading on.

Rule    none of them is a tempo. Which one a day brings is decided by its date alone, so that each comes in turn.
Source  listening first helped 60 school winds: Henley 2001, J. Res. Music Educ., doi 10.2307/3345868. The others:
        common practice, no source.
"""

from __future__ import annotations

from datetime import date

SUGGESTIONS: tuple[str, ...] = (
    "another rhythm, dotted and then reversed",
    "another articulation, all slurred or all short",
    "fewer notes, half a phrase and the first note after it",
    "another click, one a bar",
    "another loudness, soft throughout",
    "another beginning, from the last notes back",
    "another climb, bursts at the target that grow by a breath",
    "a first time without playing, only listening to it at the target",
)


def suggestion(today: date) -> str:
    """The one for a day."""
    return SUGGESTIONS[today.toordinal() % len(SUGGESTIONS)]
