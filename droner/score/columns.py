"""Keep the events of a long part in little room.

Rule    a part repeats itself: a note comes back at the same pitch and length, and only its onset is new. So every
        different event is kept once, and of each place in the part only its onset and which event stands there. An
        event is written out anew whenever it is asked for, equal to the one that was put in. What moves along a course
        is kept as it stands: its bearings have moments of their own. A part never changes once made.
Units   onsets in whole parts of a quarter note, the same part throughout.
"""

from __future__ import annotations

from array import array
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, fields, replace
from fractions import Fraction
from functools import partial
from math import lcm
from operator import attrgetter
from typing import Any, Generic, TypeVar, overload

from droner.score.score import Bearing, ChordEvent, Click, Score, SoloNote, Tone
from droner.units import Beats

Event = TypeVar("Event", Tone, ChordEvent, SoloNote, Click)

ALL_BUT_ONSET: dict[type, Callable[[Any], tuple[Any, ...]]] = {
    kind: attrgetter(*(each.name for each in fields(kind) if each.name != "onset")) for kind in (Tone, SoloNote, Click)
}
"""Reads off an event what tells it from others."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Columns(Sequence[Event], Generic[Event]):
    """A part as a sequence of its events. Make one with `in_columns`, or with `end_to_end` out of several.

    `which` says for every place which of the `different` events stands there; `onsets` count parts of a quarter, of
    which there are `parts`. An event that is kept as it stands has its own onset, equal to that beside it.
    """

    different: tuple[Event, ...]
    which: Sequence[int]
    onsets: Sequence[int]
    parts: int

    def __len__(self) -> int:
        return len(self.which)

    def __iter__(self) -> Iterator[Event]:
        writers = [_writer(event) for event in self.different]
        for number, onset in zip(self.which, self.onsets, strict=True):
            yield writers[number](Beats(Fraction(onset, self.parts)))

    @overload
    def __getitem__(self, place: int) -> Event: ...
    @overload
    def __getitem__(self, place: slice) -> Columns[Event]: ...
    def __getitem__(self, place: int | slice) -> Event | Columns[Event]:
        if isinstance(place, slice):
            return replace(self, which=self.which[place], onsets=self.onsets[place])
        event: Event = _writer(self.different[self.which[place]])(Beats(self.onsets[place], self.parts))
        return event

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Sequence) or len(self) != len(other):
            return False
        return all(one == another for one, another in zip(self, other, strict=True))

    def __hash__(self) -> int:
        return hash(tuple(self))

    def __repr__(self) -> str:
        return f"Columns(of {len(self)} events, {len(self.different)} different)"


def different(part: Sequence[Event]) -> Sequence[Event]:
    """Every event of a part, those that differ only in their onset once, at whatever onset."""
    return part.different if isinstance(part, Columns) else part


def with_each(part: Sequence[Event], changed: Callable[[Event], Event]) -> Sequence[Event]:
    """The part with every event changed in a way that has nothing to do with its onset."""
    if isinstance(part, Columns):
        return replace(part, different=tuple(map(changed, part.different)))
    return tuple(map(changed, part))


def in_columns(part: Sequence[Event]) -> Columns[Event]:
    """The part, in little room."""
    if isinstance(part, Columns):
        return part
    kept: _Different[Event] = _Different()
    which = _whole_numbers(map(kept.number, part))
    moments = [event.onset.exact for event in part]
    parts = lcm(*{moment.denominator for moment in moments})
    onsets = _whole_numbers(moment.numerator * (parts // moment.denominator) for moment in moments)
    return Columns(tuple(kept.events), which, onsets, parts)


def score_in_columns(score: Score) -> Score:
    """The same score, its long parts in little room."""
    return replace(
        score,
        solo=in_columns(score.solo),
        drone=in_columns(score.drone),
        changes=in_columns(score.changes),
        clicks=in_columns(score.clicks),
    )


def end_to_end(pieces: Iterable[tuple[Sequence[Event], Beats]]) -> Columns[Event]:
    """Pieces of a part one after another, each so much later than it was written."""
    placed = [(in_columns(piece), by) for piece, by in pieces]
    parts = lcm(*{each.parts for each, _ in placed}, *{by.exact.denominator for _, by in placed})
    kept: _Different[Event] = _Different()
    which, onsets = list[int](), list[int]()
    for columns, shift in placed:
        numbers = list(map(kept.number, _later(columns.different, shift)))
        which.extend(map(numbers.__getitem__, columns.which))
        finer, later = parts // columns.parts, int(shift.exact * parts)
        onsets.extend(onset * finer + later for onset in columns.onsets)
    return Columns(tuple(kept.events), _whole_numbers(which), _whole_numbers(onsets), parts)


def _whole_numbers(numbers: Iterable[int]) -> Sequence[int]:
    """In as few bytes each as will do."""
    listed = list(numbers)
    for code in "hiq":
        with suppress(OverflowError):
            return array(code, listed)
    return tuple(listed)


@dataclass(slots=True)
class _Different(Generic[Event]):
    """The different events met so far."""

    events: list[Event] = field(default_factory=list)
    numbers: dict[object, int] = field(default_factory=dict)

    def number(self, event: Event) -> int:
        """Which of them this one is."""
        number = len(self.events)
        if not _stands(event):
            number = self.numbers.setdefault(_all_but_onset(event), number)
        if number == len(self.events):
            self.events.append(event)
        return number


def _tones(event: object) -> tuple[Tone, ...]:
    if isinstance(event, ChordEvent):
        return event.tones
    return (event,) if isinstance(event, Tone) else ()


def _stands(event: Event) -> bool:
    """Whether the event is kept as it stands, because it holds moments other than its onset."""
    return any(tone.course or tone.onset != event.onset for tone in _tones(event))


def _all_but_onset(event: Any) -> tuple[Any, ...]:
    if isinstance(event, ChordEvent):
        return event.length, event.symbol, event.numeral, tuple(map(_all_but_onset, event.tones))
    return ALL_BUT_ONSET[type(event)](event)


def _writer(event: Any) -> Callable[[Beats], Any]:
    """Writes the event out at an onset."""
    if _stands(event):
        return lambda _: event
    others = {each.name: getattr(event, each.name) for each in fields(event) if each.name not in {"onset", "tones"}}
    kind: Callable[..., Any] = type(event)
    written = partial(kind, **others)
    if not isinstance(event, ChordEvent):
        return written
    tones = [*map(_writer, event.tones)]
    return lambda onset: written(onset, tones=tuple(tone(onset) for tone in tones))


def _later(events: Iterable[Event], shift: Beats) -> Iterator[Event]:
    """What is kept as it stands so much later; of the rest the onset does not matter. Shared courses stay shared."""
    courses: dict[int, tuple[Bearing, ...]] = {}

    def moved(tone: Tone) -> Tone:
        if id(tone.course) not in courses:
            courses[id(tone.course)] = tuple(replace(each, onset=each.onset + shift) for each in tone.course)
        return replace(tone, onset=tone.onset + shift, course=courses[id(tone.course)])

    for event in events:
        if not _stands(event):
            yield event
        elif isinstance(event, ChordEvent):
            yield replace(event, onset=event.onset + shift, tones=tuple(map(moved, event.tones)))
        elif isinstance(event, Tone):
            yield moved(event)
