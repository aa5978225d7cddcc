"""Scores that need no session: a drone, a click.

Rule    the same records as a day's items, so that every output takes them. A drone is measured in seconds, so its
        tempo is one quarter a second. A click starts at once, without a count-in. Here nobody breathes, so a
        click heard only on breaths is silent.
"""

from __future__ import annotations

from random import Random
from typing import TYPE_CHECKING

from droner.score.clicks import bar_clicks, heard_in_bar
from droner.score.score import Bar, Click, Cue, Marker, Score, Tone
from droner.score.tempo_map import tempo_map
from droner.theory.meter import meter as read_meter
from droner.theory.tempo import us_per_quarter
from droner.units import Beats

if TYPE_CHECKING:
    from collections.abc import Iterator
    from fractions import Fraction

    from droner.practice.pattern import ClickPattern
    from droner.theory.meter import Meter
    from droner.theory.pitch import Pitch
    from droner.theory.tuning import Tuning

ONE_SECOND_US = 1_000_000
USUAL_SEED = 1


def drone_score(pitches: tuple[Pitch, ...], tuned: Tuning, seconds: Fraction) -> Score:
    """Tones held together for so many seconds."""
    length = Beats(seconds)
    title = "drone " + " ".join(map(str, pitches))
    tones = tuple(Tone(Beats(0), length, pitch, tuned.hz(pitch)) for pitch in pitches)
    return _score(title, tuned.a4_hz, length, ONE_SECOND_US, (), tones, ())


def click_score(
    meter: Meter, pattern: ClickPattern, bpm: Fraction, bars: int, a4_hz: float, *, seed: int = USUAL_SEED
) -> Score:
    """So many bars of a click pattern at a tempo. `seed` draws the clicks that a pattern drops."""
    clicks = () if pattern.only else tuple(_bars_of_clicks(meter, pattern, bars, Random(f"{seed}")))
    bar_lines = tuple(Bar(number + 1, meter.bar * number, meter) for number in range(bars))
    title = f"click {meter}, {pattern.name}, {float(bpm):g}"
    return _score(title, a4_hz, meter.bar * bars, us_per_quarter(bpm, meter.beat), bar_lines, (), clicks)


def _bars_of_clicks(meter: Meter, pattern: ClickPattern, bars: int, draw: Random) -> Iterator[Click]:
    for bar in range(bars):
        yield from heard_in_bar(pattern, bar, bar_clicks(meter, pattern, meter.bar * bar), draw)


def _score(
    title: str,
    a4_hz: float,
    length: Beats,
    quarter_us: int,
    bars: tuple[Bar, ...],
    drone: tuple[Tone, ...],
    clicks: tuple[Click, ...],
) -> Score:
    start = Beats(0)
    return Score(
        title=title,
        a4_hz=a4_hz,
        length=length,
        tempo_map=tempo_map([(start, quarter_us)]),
        bars=bars or (Bar(1, start, read_meter("4/4")),),
        keys=(),
        markers=(Marker(start, title),),
        cues=(Cue(start, title, title),),
        breaths=(),
        solo=(),
        drone=drone,
        changes=(),
        clicks=clicks,
    )
