"""Choose the meter that an item goes in: the block's, the rhythm's or the drill's.

Rule    a study stands in its own meter. Over other notes the block's meter holds where it counts the same beat as
        the rhythm; where it does not, the rhythm's own. A drill with lengths of its own has no rhythm to ask.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.theory.meter import Meter, meter

if TYPE_CHECKING:
    from droner.practice.drill import Drill
    from droner.practice.pattern import Rhythm


def chosen_meter(asked: str | None, drill: Drill, rhythm: Rhythm | None) -> Meter:
    """The meter of a drill in a rhythm. `asked`: the block's, None where it names none."""
    if drill.study:
        return meter(drill.meter)
    own = meter(rhythm.meter if rhythm else drill.meter)
    named = meter(asked) if asked else own
    return named if rhythm is None or named.beat == own.beat else own
