"""Say where the ladders of a session stand on a day, from what was played.

Rule    a ladder belongs to a drill on an instrument, whatever session it was played in; where the session says so, each
        group of its items climbs by itself. What a day finds is all that its items depend on: days that find the
        same share their items.
Units   tempos in felt beats a minute.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from droner.practice.items import PLAIN, with_speeds
from droner.practice.ladder.fold import climbed
from droner.practice.ladder.groups import WHOLE_DRILL, group_of
from droner.practice.ladder.standing import standing
from droner.theory.metronome import FASTEST_BPM, SLOWEST_BPM, nearest_bpm

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence
    from datetime import date

    from droner.practice.history import LoggedRun
    from droner.practice.ladder.rung import Rung
    from droner.practice.ladder.standing import Standing
    from droner.practice.ladder.state import Climb
    from droner.practice.pattern import Patterns, Variant
    from droner.practice.session import Block, LadderOrder, Session

    RunsOf = Callable[[str], Sequence[LoggedRun]]
    """All runs of a drill, in their order."""

WHOLE = Fraction(100)
Found = tuple[tuple[int, str, "Rung", "Fraction | None"], ...]
"""Block, group, rung and opening of every ladder."""


@dataclass(frozen=True, slots=True)
class LadderDay:
    """Where every ladder stands on one day, by block and group. Equal days give equal items."""

    standings: tuple[tuple[int, str, Standing], ...] = ()

    @property
    def found(self) -> Found:
        """What the items of the day depend on."""
        return tuple((block, group, each.rung, each.opening_bpm) for block, group, each in self.standings)


class Ladders:
    """The ladders of one session, each folded once."""

    def __init__(self, session: Session, patterns: Patterns, runs_of: RunsOf) -> None:
        self._patterns = patterns
        self._blocks = {block.number: block for block in session.blocks if block.ladder}
        self._climbs = self._folded(runs_of)
        self._days: dict[date, LadderDay] = {}

    @property
    def climbs(self) -> dict[tuple[int, str], Climb]:
        """What was climbed, by block and group; "" for a drill that climbs as a whole."""
        return self._climbs

    def on(self, today: date) -> LadderDay:
        """Where they stand on a day."""
        if today not in self._days:
            self._days = {today: LadderDay(tuple(self._standings(today)))}
        return self._days[today]

    def group(self, block: Block, key: str, variant: Variant | None) -> str:
        """The group of its ladder that an item of a block belongs to."""
        played = variant or PLAIN
        return group_of(block.ladder.each, key, played.rhythm, played.articulation) if block.ladder else ""

    def standing(self, block: Block, group: str, today: date) -> Standing | None:
        """Where one ladder stands on a day; None for a block without one."""
        if block.ladder is None:
            return None
        known = self._climbs.get((block.number, group)) or climbed(block.ladder, ())
        return standing(block.ladder, known, today)

    def rung(self, block: Block, key: str, variant: Variant | None, today: date, *, opens: bool) -> Rung | None:
        """The rung of an item; `opens`: it is the first of its drill today. None for a block without a ladder."""
        found = self.standing(block, self.group(block, key, variant), today)
        if found is None:
            return None
        rung = with_speeds(found.rung, block)
        if not opens or found.opening_bpm is None or min(rung.speeds) < WHOLE:
            return rung
        return replace(rung, speeds=(_opening(rung.bpm, found.opening_bpm, block), *rung.speeds))

    def _standings(self, today: date) -> list[tuple[int, str, Standing]]:
        found = []
        for (number, group), climb in self._climbs.items():
            order = self._blocks[number].ladder
            assert order is not None  # noqa: S101 - only blocks with a ladder are kept
            found.append((number, group, standing(order, climb, today)))
        return found

    def _folded(self, runs_of: RunsOf) -> dict[tuple[int, str], Climb]:
        found: dict[tuple[int, str], Climb] = {}
        for number, block in self._blocks.items():
            assert block.ladder is not None  # noqa: S101 - only blocks with a ladder are kept
            groups = self._grouped(block, block.ladder, runs_of(block.drill))
            found |= {(number, group): climbed(block.ladder, runs) for group, runs in groups.items()}
        return found

    def _grouped(
        self, block: Block, order: LadderOrder, runs: Sequence[LoggedRun]
    ) -> Mapping[str, Sequence[LoggedRun]]:
        """The runs of each group."""
        if order.each == WHOLE_DRILL:
            return {"": runs} if runs else {}
        groups: dict[str, list[LoggedRun]] = defaultdict(list)
        for run in runs:
            groups[self.group(block, run.key, self.variant(run.variant))].append(run)
        return groups

    def variant(self, number: int) -> Variant | None:
        """The variant of an entry, as far as the patterns still have it."""
        known = 0 < number <= len(self._patterns.variants)
        return self._patterns.variants[number - 1] if known else None


def _opening(bpm: Fraction, opening_bpm: Fraction, block: Block) -> Fraction:
    """The speed of a run that opens a day: the metronome's number nearest to it, never slower than the ladder."""
    number = nearest_bpm(opening_bpm) if SLOWEST_BPM <= opening_bpm <= FASTEST_BPM else opening_bpm
    slowest = block.ladder.from_bpm if block.ladder else number
    return min(max(Fraction(number), slowest), bpm) * WHOLE / bpm
