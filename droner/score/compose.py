"""Write an item out as a score.

Rule    everything is placed from the item's performance; nothing here invents a moment. The written key serves
        the page and the cues, the sounding key the ear.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.practice.alone import sounds_alone
from droner.score.agreeing import agreeing
from droner.score.answers import answer_cues
from droner.score.changes import tuned_changes
from droner.score.clicks import click_part
from droner.score.held_solo import parted
from droner.score.partner import partner_tones
from droner.score.score import Bar, Breath, Cue, KeyMark, Marker, Score
from droner.score.solo import solo_notes
from droner.score.sounding import sounding
from droner.score.tasks import drone_part, held_tones
from droner.score.tempo_map import tempo_map
from droner.score.tunings import ItemTuning
from droner.score.words import shown_cue, spoken_cue
from droner.theory.meter import Meter
from droner.units import Beats

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from droner.practice.item import Item
    from droner.practice.performance import Repeat
    from droner.practice.session import Session
    from droner.score.score import Tone
    from droner.score.tuned_chord import TunedChord


def compose(item: Item, session: Session, sessions_before: int = 0) -> Score:
    """The score of one item of a session; `sessions_before`: how many sessions there were before today's."""
    performance, to_sounding = item.performance, sounding(item, session)
    tunings = ItemTuning(session, item)
    held = held_tones(item, session, tunings)
    changes = changes_of(item, session, tunings, held)
    solo = agreeing(parted(item, solo_notes(item, to_sounding, tunings), changes), changes)
    drone = drone_part(item, session, tunings, held, solo, sessions_before)
    return Score(
        title=item.name,
        a4_hz=session.tuning.a4_hz,
        length=performance.length,
        tempo_map=tempo_map(performance.tempos),
        bars=bars_of(item),
        keys=(KeyMark(Beats(0), item.key, item.key.transposed(to_sounding)),) if item.key else (),
        markers=tuple(_markers(item)),
        cues=(*_cues(item), *answer_cues(item, drone.answers)),
        breaths=tuple(_breaths(performance.repeats)),
        solo=solo,
        drone=partner_tones(item, drone.tones),
        changes=tuple(chord.event for chord in changes),
        clicks=click_part(item, session.seed),
        answers=drone.answers,
    )


def changes_of(item: Item, session: Session, tunings: ItemTuning, held: Sequence[Tone]) -> tuple[TunedChord, ...]:
    """The chords that sound, in tune with what the drone holds; none where the drone sounds alone."""
    return () if sounds_alone(item) else tuned_changes(item, session, tunings, held)


def bars_of(item: Item) -> tuple[Bar, ...]:
    """The bars of an item, in order."""
    return tuple(_bars(item.meter, item.performance.repeats))


def _bars(meter: Meter, repeats: tuple[Repeat, ...]) -> Iterator[Bar]:
    number = 0
    for repeat in repeats:
        yield from _lead_in_bars(meter, repeat)
        for count in range(int(repeat.count_in.ratio(meter.bar))):
            yield Bar(0, repeat.counted + meter.bar * count, meter)
        for placed in repeat.phrases:
            for bar in range(int(placed.phrase.length.ratio(meter.bar))):
                number += 1
                yield Bar(number, placed.onset + meter.bar * bar, meter)


def _lead_in_bars(meter: Meter, repeat: Repeat) -> Iterator[Bar]:
    """The lead-in in whole bars, a shorter one first, so that the count-in stands on a bar line."""
    bars = int(repeat.lead_in.ratio(meter.bar))
    short = repeat.lead_in - meter.bar * bars
    if short:
        yield Bar(0, repeat.onset, Meter((int(short.ratio(Beats(4, meter.unit))),), meter.unit))
    for bar in range(bars):
        yield Bar(0, repeat.onset + short + meter.bar * bar, meter)


def _markers(item: Item) -> Iterator[Marker]:
    several = len(item.performance.repeats) > 1
    for repeat in item.performance.repeats:
        yield Marker(repeat.onset, f"{item.name}, {float(repeat.speed):g} %" if several else item.name)


def _cues(item: Item) -> Iterator[Cue]:
    for repeat in item.performance.repeats:
        yield Cue(repeat.onset, shown_cue(item, repeat.speed), spoken_cue(item, repeat.speed))


def _breaths(repeats: tuple[Repeat, ...]) -> Iterator[Breath]:
    for repeat in repeats:
        for placed in repeat.phrases:
            phrase = placed.phrase
            yield Breath(placed.onset + phrase.length - phrase.rest, phrase.rest)
