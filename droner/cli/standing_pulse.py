"""Keep a click as the player has it now: slower or faster, in another pattern or meter.

Rule    what sounds is always what `droner click` would click with what is shown. Slower and faster go to the next
        number of the traditional metronome; beyond its ends, to the double or the half of a number. Patterns are those
        that need no drill; meters the usual ones, after the player's own.
Units   bpm: beats of the meter a minute, as the meter counts them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from droner.cli.standing_face import Column, Face
from droner.cli.standing_wishes import Held, Wish
from droner.theory.meter import Meter, meter
from droner.theory.metronome import FASTEST_BPM, SLOWEST_BPM, stepped_bpm
from droner.theory.tempo import us_per_quarter

if TYPE_CHECKING:
    from droner.live.words import Place
    from droner.practice.pattern import ClickPattern

LOWEST_BPM, HIGHEST_BPM = 20, 400
METERS = ("2/4", "3/4", "4/4", "5/4", "3/8", "6/8", "7/8", "9/8", "12/8")
CLICKS = {Wish.SLOWER: -1, Wish.FASTER: 1}
NO_NUMBER = "the metronome has no further number"
NOT_OF_A_CLICK = "a click has no pitch"


@dataclass(frozen=True, slots=True)
class Pulse:
    """Meter, pattern and tempo; the player's own meter, and the patterns to go through."""

    meter: Meter
    pattern: ClickPattern
    bpm: Fraction
    own: Meter
    patterns: tuple[ClickPattern, ...]

    def after(self, wish: Wish | Held) -> Pulse | str:
        """The click after a wish, or in words why there is none such."""
        if wish is Wish.PATTERN:
            return replace(self, pattern=self._next_pattern())
        if wish is Wish.METER:
            return self._if_playable(meter=self._next_meter())
        if wish in CLICKS and isinstance(wish, Wish):
            bpm = next_number(self.bpm, CLICKS[wish])
            return NO_NUMBER if bpm == self.bpm else self._if_playable(bpm=bpm)
        return NOT_OF_A_CLICK

    def _if_playable(self, **changes: Any) -> Pulse | str:
        changed = replace(self, **changes)
        try:
            us_per_quarter(changed.bpm, changed.meter.beat)
        except ValueError:
            return NO_NUMBER
        return changed

    def _next_pattern(self) -> ClickPattern:
        return self.patterns[(self.patterns.index(self.pattern) + 1) % len(self.patterns)]

    def _next_meter(self) -> Meter:
        usual = [each for each in map(meter, METERS) if each != self.own]
        meters = (self.own, *usual)
        return meters[(meters.index(self.meter) + 1) % len(meters)]

    @property
    def line(self) -> str:
        """The whole of it in one line."""
        return f"{self.meter}  {self._shown_bpm} {self.meter.beat_name} a minute  {self.pattern.name}"

    def face(self, place: Place | None) -> Face:
        """What the screen shows."""
        bar, beat = (place.bar, place.beat) if place is not None and not place.paused else (0, 0)
        first = (
            Column("tempo", (self._shown_bpm,)),
            Column("bar", (str(bar or "-"),)),
            Column("beat", (str(beat or "-"),)),
        )
        where = f"  {bar}.{beat}" if bar else ""
        return Face(
            "click", first, (Column("meter", (str(self.meter),)),),
            (f"{self._shown_bpm} {self.meter.beat_name} a minute, {self.meter}; click: {self.pattern.name}",),
            self.line + where,
        )  # fmt: skip

    @property
    def data(self) -> dict[str, Any]:
        """For programs."""
        return {
            "kind": "click",
            "meter": str(self.meter),
            "pattern": self.pattern.name,
            "tempo_bpm": float(self.bpm),
        }

    @property
    def _shown_bpm(self) -> str:
        return f"{round(float(self.bpm), 1):g}"


def needs_no_drill(pattern: ClickPattern) -> bool:
    """Whether a pattern can be heard by itself."""
    return not (pattern.silent or pattern.only or pattern.on_rhythm)


def next_number(bpm: Fraction, clicks: int) -> Fraction:
    """The next number of the metronome up (1) or down (-1), doubled or halved beyond its ends; the same at the last."""
    ends = FASTEST_BPM if clicks > 0 else SLOWEST_BPM
    is_above, is_below = bpm > FASTEST_BPM, bpm < SLOWEST_BPM
    if is_above or (clicks > 0 and bpm == ends):
        found = Fraction(2 * stepped_bpm(bpm / 2, clicks))
    elif is_below or (clicks < 0 and bpm == ends):
        found = Fraction(stepped_bpm(bpm * 2, clicks), 2)
    else:
        found = Fraction(stepped_bpm(bpm, clicks))
    return min(max(found, Fraction(LOWEST_BPM)), Fraction(HIGHEST_BPM))
