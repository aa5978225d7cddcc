"""Lay the day's plan out as a page: block by block what sounds, the items, and why.

Rule    a block's drill and what sounds under it are said once; its items are rows of the same columns all down the
        page. What differs from item to item stands in the row, what does not stands under the block. An item that is
        played in the same manner as an earlier one says so: "as 2".
"""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from droner.cli.logging_day import logged, logged_words
from droner.cli.table import column_widths, minutes_seconds, table, wrapped
from droner.practice.alone import sounds_alone
from droner.practice.reasons import reasons
from droner.practice.remarks import remarks
from droner.score.words import manner_words, shown_bpm
from droner.theory.pitch import OCTAVE

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from fractions import Fraction

    from droner.cli.day import Day
    from droner.practice.item import Item
    from droner.practice.plan import PlannedItem
    from droner.practice.session import Session

HEADS = ("", "key", "tempo", "time", "variant", "how")
RIGHT = frozenset({0, 2, 3, 4})
INDENT = "    "
NOT_ADVICE = "Not medical advice: see a clinician for pain, numbness or ringing."


def page(day: Day, wide: int) -> str:
    """The whole page."""
    rows = _rows(day)
    body = _in_turn(day, rows, wide) if day.session.interleaved else _in_blocks(day, rows, wide)
    return "\n\n".join((_head(day, wide), *(body if rows else ()), *(wrapped(text, wide) for text in _remarks(day))))


def _in_blocks(day: Day, rows: dict[int, tuple[str, ...]], wide: int) -> Iterator[str]:
    """The items block by block, under what their block says."""
    widths = column_widths([HEADS, *rows.values()])
    yield table([], HEADS, RIGHT, widths=widths)
    for items in _blocks(day):
        own = [rows[planned.number] for planned in items]
        yield f"{_about(items, day, wide)}\n{table(own, (), RIGHT, page=wide, widths=widths)}"


def _in_turn(day: Day, rows: dict[int, tuple[str, ...]], wide: int) -> Iterator[str]:
    """The items as they are played, with their drills; then what each block says."""
    named = [(rows[one.number][0], one.item.drill.name, *rows[one.number][1:]) for one in day.plan.items]
    yield table(named, ("", "drill", *HEADS[1:]), {0, *(column + 1 for column in RIGHT if column)}, page=wide)
    yield from (_about(items, day, wide) for items in _blocks(day))


def _blocks(day: Day) -> Iterator[list[PlannedItem]]:
    by_block = sorted(day.plan.items, key=lambda planned: planned.item.block.number)
    for _, items in groupby(by_block, key=lambda planned: planned.item.block.number):
        yield list(items)


def _head(day: Day, wide: int) -> str:
    plan, session = day.plan, day.session
    tuning = f"A4 = {session.tuning.a4_hz:g} Hz, {session.tuning.temperament} tuning{_policy(session)}"
    spent = f"{minutes_seconds(float(plan.seconds))} of {float(session.minutes):g} minutes"
    return "\n".join(
        (
            wrapped(f"{session.title}: {plan.day:%A} {plan.day.day} {plan.day:%B} {plan.day.year}", wide),
            wrapped(
                "; ".join((f"{session.instrument.name}, {session.level}", *_reading(session), tuning, spent)), wide
            ),
        )
    )


def _policy(session: Session) -> str:
    """How its chords follow one another, where they do not stand on the tonic."""
    usual = session.tuning.chords == "anchored" or session.tuning.temperament != "just"
    return "" if usual else f", {session.tuning.chords} chords"


def _reading(session: Session) -> Iterator[str]:
    """For an instrument that sounds in other keys than it reads: which of them are shown."""
    if session.instrument.sounding.semitones % OCTAVE.semitones:
        yield "keys as you read them"


def _about(items: Sequence[PlannedItem], day: Day, wide: int) -> str:
    """A block's drill, what sounds under it, and why."""
    first = items[0].item
    ground, why = (
        wrapped(f"{_ground(first)}.", wide, INDENT),
        wrapped(f"Why: {'; '.join(_why(items, day))}.", wide, INDENT),
    )
    return f"{first.drill.name}\n{ground}\n{why}"


def _ground(item: Item) -> str:
    """What sounds under a drill."""
    drone = "no drone" if item.drone.name == "none" else f"drone: {item.drone.name}{_octave(item)}"
    chords = "no chords" if item.changes.name == "none" or sounds_alone(item) else f"chords: {item.changes.name}"
    click = f"click: {'as each row says' if _own_click(item) else item.click.name}"
    partner = item.block.partner
    plays = (f"partner: {partner.kind}, {partner.cents} cents, you {partner.role}",) if partner else ()
    return "; ".join((drone, chords, click, *plays))


def _octave(item: Item) -> str:
    """Where the drone lies, if the block says so."""
    octave = item.block.drone_octave
    if octave is None:
        return ""
    return ", where beats can be counted" if octave == "best" else f", octave {octave}"


def _own_click(item: Item) -> bool:
    """Whether the click comes with the variant, so that it differs from item to item."""
    return item.variant is not None and not item.block.click


def _why(items: Sequence[PlannedItem], day: Day) -> Iterator[str]:
    """The reasons of a block: its turns in the rotation together, the others once."""
    places = [planned.place for planned in items if planned.place is not None]
    cycle = day.planner.rotation.cycle
    if len(places) > 1:
        yield f"turns {_in_stretches(places, cycle)} of {cycle} in the rotation"
    said = (reasons(planned, day.planner, day.plan.day)[_said_elsewhere(planned, places) :] for planned in items)
    yield from dict.fromkeys(reason for each in said for reason in each)


def _said_elsewhere(planned: PlannedItem, places: Sequence[int]) -> int:
    """How many of its reasons the page says elsewhere: its turn with the others', why it comes back in its row."""
    return int(bool(planned.again) or (planned.place is not None and len(places) > 1))


def _in_stretches(places: Sequence[int], cycle: int) -> str:
    """Places, as a player counts them, in stretches of neighbours: "3 to 8", "3 to 5, 9"."""
    stretches: list[list[int]] = []
    for place in places:
        if stretches and place == stretches[-1][-1] + 1 and place % cycle:
            stretches[-1].append(place)
        else:
            stretches.append([place])
    ends = [(stretch[0] % cycle + 1, stretch[-1] % cycle + 1) for stretch in stretches]
    return ", ".join(str(first) if first == last else f"{first} to {last}" for first, last in ends)


def _rows(day: Day) -> dict[int, tuple[str, ...]]:
    """The row of each item by its number."""
    first: dict[str, int] = {}
    rows: dict[int, tuple[str, ...]] = {}
    for planned in day.plan.items:
        how = _how(planned.item)
        like = first.setdefault(how, planned.number) if planned.item.variant else planned.number
        words = [how if like == planned.number else f"as {like}"]
        if planned.again:
            words.append(planned.again)
        if known := logged(planned, day):
            words.append(f"written down: {logged_words(known)}")
        rows[planned.number] = _row(planned, "; ".join(words))
    return rows


def _row(planned: PlannedItem, how: str) -> tuple[str, ...]:
    item = planned.item
    return (
        str(planned.number),
        str(item.key) if item.key else "no key",
        shown_bpm(_tempos(item)[0]),
        minutes_seconds(float(item.seconds)),
        str(item.variant.number) if item.variant else "",
        how,
    )


def _tempos(item: Item) -> Sequence[Fraction]:
    """Every tempo it goes at, a glide's both ends."""
    return [item.bpm * speed * end / 10_000 for speed in item.runs for end in item.block.glide or (100,)]


def _how(item: Item) -> str:
    """The manner in words, the click where it is the item's own, and every tempo where there are several."""
    words = [*manner_words(item)] or ["plain"]
    if _own_click(item):
        words.append(f"click {item.click.name}")
    if item.block.listen_first:
        words.append("listen first")
    tempos = [shown_bpm(tempo) for tempo in _tempos(item)]
    if item.block.glide:
        words.append(
            "gliding " + ", ".join(f"{low} to {high}" for low, high in zip(tempos[::2], tempos[1::2], strict=True))
        )
    elif len(tempos) > 1 and len(set(tempos)) == 1:
        words.append(f"{len(tempos)} times")
    elif len(tempos) > 1:
        words.append(f"tempos {' '.join(tempos)}")
    return "; ".join(words)


def _remarks(day: Day) -> Iterator[str]:
    if not day.plan.items:
        yield "There is nothing to play on this day."
    if day.plan.left_out:
        yield "Left out: " + " ".join(f"{gone.drill}: {gone.why}." for gone in day.plan.left_out)
    if told := remarks(day.plan, day.planner):
        yield " ".join(told)
    cautions = dict.fromkeys(planned.item.drill.caution for planned in day.plan.items if planned.item.drill.caution)
    if cautions:
        yield " ".join((*cautions, NOT_ADVICE))
