"""Make an item of a block: find its drill, key and manner, lay it out, place it in time.

Rule    what the session says comes first, then the variant, then the drill. The same order gives the same item,
        and is worked out once: a day of a later lap costs a look in a dictionary. Items that differ only in how the
        notes are spoken share one line and one performance. A dense rhythm slows the beat, see `density`.
Source  two thirds of the air where a line is loud throughout (12 s medium, 8 s loud): from memory.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from droner.practice.chosen_meter import chosen_meter
from droner.practice.density import slowed_bpm
from droner.practice.item import Item, Manner, Portion
from droner.practice.ladder.rung import Rung, rungs
from droner.practice.layout.lay_out import Ground, lay_out
from droner.practice.layout.line import DoesNotFit
from droner.practice.pattern import Variant
from droner.practice.performance import Course, perform
from droner.units import Seconds

if TYPE_CHECKING:
    from droner.practice.drill import Drill
    from droner.practice.layout.line import Line
    from droner.practice.pattern import ClickPattern, Patterns, Rhythm
    from droner.practice.performance import Performance
    from droner.practice.session import Block, Session
    from droner.theory.key import Key
    from droner.theory.meter import Meter

PLAIN = Variant(0, "even in four", "all slurred", "medium", "no accent", click="every beat", turn="from the low tonic")
"""What a varying drill is played as without a variant."""
LOUD_SIGNS = frozenset({"f", "ff", "fff"})
LOUD_AIR = Fraction(2, 3)


class Items:
    """The items of one session, each made once."""

    def __init__(self, session: Session, patterns: Patterns) -> None:
        self.session = session
        self.patterns = patterns
        self._made: dict[tuple[int, Key | None, int, Rung], Item | DoesNotFit] = {}
        self._lines: dict[tuple[str, Key | None, str], Line | DoesNotFit] = {}
        self._courses: dict[tuple[int, str, bool, Rung], Course] = {}
        self._usual_rungs: dict[int, Rung] = {}
        self._performed: dict[tuple[int, int], Performance] = {}
        self._parts: dict[tuple[int, int, int], Item] = {}

    def item(
        self, block: Block, key: Key | None, variant: Variant | None, rung: Rung | None = None
    ) -> Item | DoesNotFit:
        """The item of a block in a key (of the rotation, None for none) and a variant.

        `rung`: where its ladder stands; None for the first, or for the tempo of a block without a ladder.
        """
        taken = self.taken(block, variant)
        rung = rung or self._usual_rung(block)
        known = (block.number, key, taken.number if taken else 0, rung)
        if known not in self._made:
            self._made[known] = self._make(block, key, taken, rung)
        return self._made[known]

    def taken(self, block: Block, variant: Variant | None) -> Variant | None:
        """The variant in which a block is played where the day brings this one."""
        return variant if self.drill(block).varies else None

    def part(self, item: Item, start: int, count: int) -> Item:
        """`count` phrases of a divisible item, from phrase `start`."""
        known = (id(item), start, count)
        if known not in self._parts:
            course = replace(item.course, portion=(start, count))
            portion = Portion(start, count, len(item.performance.repeats[0].phrases))
            performance = perform(item.line, course)
            self._parts[known] = replace(item, course=course, performance=performance, portion=portion)
        return self._parts[known]

    def drill(self, block: Block) -> Drill:
        """The drill that a block asks for."""
        return self.patterns.drills[block.drill]

    def _make(self, block: Block, key: Key | None, variant: Variant | None, rung: Rung) -> Item | DoesNotFit:
        drill, written = self.drill(block), self.written(key)
        manner = self._manner(drill, variant, rung)
        line = self._line(drill, written, manner.turn.start)
        if isinstance(line, DoesNotFit):
            return line
        course = self._course(block, drill, manner, rung)
        return Item(
            block=block,
            drill=drill,
            key=written,
            variant=variant,
            bpm=course.bpm,
            rung=rung,
            meter=course.meter,
            manner=manner,
            drone=self.patterns.drones[block.drone or drill.drone],
            changes=self.patterns.changes[block.changes or drill.changes],
            click=self._click(block, drill, variant, rung),
            line=line,
            course=course,
            performance=self._perform(line, course),
        )

    def _line(self, drill: Drill, written: Key | None, start: str) -> Line | DoesNotFit:
        known = (drill.name, written, start)
        if known not in self._lines:
            ground = Ground(written, self.session.compass, self.session.instrument, start)
            self._lines[known] = lay_out(drill, ground)
        return self._lines[known]

    def _course(self, block: Block, drill: Drill, manner: Manner, rung: Rung) -> Course:
        loud = {manner.dynamic.low, manner.dynamic.high} <= LOUD_SIGNS
        known = (block.number, manner.rhythm.name if manner.rhythm else "", loud, rung)
        if known not in self._courses:
            felt = _meter(block, drill, manner)
            self._courses[known] = Course(
                felt,
                slowed_bpm(rung.bpm, manner.rhythm, felt.beat),
                manner.rhythm,
                drill.breath_cells,
                Seconds(self.session.air_seconds * (LOUD_AIR if loud else 1)),
                (rung.speeds[0], *rung.speeds) if block.listen_first else rung.speeds,
                block.glide,
                block.count_in_bars,
                self._lead_in(block, drill),
                (0, rung.phrases) if rung.phrases else None,
            )
        return self._courses[known]

    def _usual_rung(self, block: Block) -> Rung:
        """The tempo that is asked for where no ladder has been climbed, found once for each block."""
        if block.number not in self._usual_rungs:
            self._usual_rungs[block.number] = (
                with_speeds(rungs(block.ladder)[0], block)
                if block.ladder
                else Rung(block.tempo_bpm or self.drill(block).tempo, speeds=block.speeds)
            )
        return self._usual_rungs[block.number]

    def _lead_in(self, block: Block, drill: Drill) -> Seconds:
        """How long the drone sounds alone before the first count; no time is lost where there is none."""
        drone = self.patterns.drones[block.drone or drill.drone]
        return Seconds(self.session.lead_in_seconds if drone.degrees else 0)

    def _perform(self, line: Line, course: Course) -> Performance:
        known = (id(line), id(course))
        if known not in self._performed:
            self._performed[known] = perform(line, course)
        return self._performed[known]

    def _manner(self, drill: Drill, variant: Variant | None, rung: Rung) -> Manner:
        """A variant's factors; without one the plain ones, with the drill's own rhythm and articulation."""
        factors, patterns = variant or PLAIN, self.patterns
        return Manner(
            rhythm_of(drill, rung.rhythm or factors.rhythm, patterns),
            patterns.articulations[drill.articulation or factors.articulation],
            patterns.dynamics[factors.dynamic],
            patterns.accents[factors.accent],
            patterns.turns[factors.turn],
        )

    def _click(self, block: Block, drill: Drill, variant: Variant | None, rung: Rung) -> ClickPattern:
        return self.patterns.clicks[rung.click or block.click or (variant.click if variant else drill.click)]

    def written(self, key: Key | None) -> Key | None:
        """The key as the player reads it."""
        if key is None or not self.session.concert_keys:
            return key
        return key.transposed(-self.session.instrument.sounding)


def rhythm_of(drill: Drill, name: str, patterns: Patterns) -> Rhythm | None:
    """The rhythm of a drill where the manner asks for one by name; None where it has lengths of its own."""
    own_lengths = bool(drill.study) or any(strain.lengths for strain in drill.strains)
    return None if own_lengths else patterns.rhythms[name]


def with_speeds(rung: Rung, block: Block) -> Rung:
    """The rung with the block's own speeds, where neither its ladder nor its climb asks for several runs."""
    return replace(rung, speeds=block.speeds) if len(rung.speeds) == 1 else rung


def _meter(block: Block, drill: Drill, manner: Manner) -> Meter:
    return chosen_meter(block.meter, drill, manner.rhythm)
