"""Count the beats between a drone and a note, and say which octave of the drone lets them be counted.

Rule    partial n of the drone and partial m of the player beat |m f - n d| times a second; the lowest pair that
        would coincide if the note were pure rules. The sign is kept: + the note is high, - low.
        An error grows m times faster in hertz on partial m, so the slowest beat, at whatever error, comes from
        the drone octave with the smallest m. That is the best octave; of two alike the nearer to the note.
        Only octaves whose pair lies within the clear partials are asked; where none is, within the faint ones.
Units   hz and beats in 1/s; errors in cents.
Source  beats of partials: by arithmetic. Counting limits: Teki et al., J. Neurosci. 32:12251 (tuners work with
        0.6 to 16 a second); a drone's partials are clear to about the tenth; countable to about 6: common
        practice, no source. Difference tone f2 - f1: acoustics.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import log

from droner.theory.cents import OCTAVE_CENTS, cents_of, factor_of
from droner.theory.just import Just, just_ratio
from droner.theory.pitch import OCTAVE, Interval, Pitch
from droner.theory.tuning import Tuning, equal_hz

CLEAR_PARTIAL = 10
FAINT_PARTIAL = 16
LOWEST_DRONE = 36
"""C2: below it a loudspeaker gives little but high partials."""
HIGHEST_DRONE = 84
"""C6: above it a held tone is hard to bear."""
SLOWEST_BEAT_HZ = 0.2
"""A slower beat does not fit into a breath."""
FASTEST_COUNTED_HZ = 6.0
ROUGH_HZ = 15.0
PER_CENT = log(2) / OCTAVE_CENTS
"""Relative change of frequency for one cent: 0.000578."""


def beat_hz(lower_hz: float, upper_hz: float, lower_partial: int, upper_partial: int) -> float:
    """Beats a second between two partials: + the interval is wide, - narrow."""
    return upper_partial * upper_hz - lower_partial * lower_hz


def coinciding(target: Fraction | Interval) -> tuple[int, int]:
    """The lowest partials of the lower and of the upper tone that coincide when the interval is pure.

    A spelled interval stands for its usual just ratio: a major third gives (5, 4).
    """
    if isinstance(target, Interval):
        target = pure_ratio(target)
    return target.numerator, target.denominator


def pure_ratio(interval: Interval) -> Fraction:
    """The usual just ratio of a spelled interval, upwards or downwards."""
    return just_ratio(interval.fifths) * Fraction(2) ** interval.octaves


def heard_as(rate_hz: float) -> str:
    """What a beat of this rate is to the ear: "still", "countable", "fast" or "rough"."""
    rate_hz = abs(rate_hz)
    if rate_hz < SLOWEST_BEAT_HZ:
        return "still"
    if rate_hz <= FASTEST_COUNTED_HZ:
        return "countable"
    return "fast" if rate_hz <= ROUGH_HZ else "rough"


@dataclass(frozen=True, slots=True)
class DegreeBeats:
    """What a player hears of one note against a drone.

    `ratio` is the just target over the drone, `target_cents` where it lies against equal temperament.
    `drone_partial` and `player_partial` coincide at the target. The equal minor third has no ratio of its own:
    it keeps 6/5 and its partials, and beats at `target_beat_hz` even when it is hit.
    `equal_beat_hz` sounds if the player stays where a tuner shows 0, `tuned_beat_hz` if the note sits where
    this tuning puts it. `difference_hz` is the difference tone at the target.
    """

    drone: Pitch
    note: Pitch
    drone_hz: float
    target_hz: float
    ratio: Fraction
    target_cents: float
    drone_partial: int
    player_partial: int
    target_beat_hz: float
    equal_beat_hz: float
    tuned_beat_hz: float
    beat_hz_per_cent: float
    best_drone_octave: int | None
    difference_hz: float

    @property
    def clear(self) -> bool:
        """Whether both partials are among the clear ones of a drone."""
        return max(self.drone_partial, self.player_partial) <= CLEAR_PARTIAL

    @property
    def heard_as(self) -> str:
        """What the note in equal temperament sounds like: "still", "countable", "fast" or "rough"."""
        return heard_as(self.equal_beat_hz)

    def beat_hz_at(self, error_cents: float) -> float:
        """Beats a second when the player misses the target by so many cents."""
        return self.player_partial * self.target_hz * factor_of(error_cents) - self.drone_partial * self.drone_hz


def beats_against(drone: Pitch, note: Pitch, tuning: Tuning) -> DegreeBeats:
    """The beats of a note over (or under) a drone, the drone where this tuning puts it.

    The target is the just interval from the drone, with the tuning's choices of third, second and seventh.
    """
    interval = note - drone
    ratio, factor, exact = _target(interval, tuning)
    drone_partial, player_partial = coinciding(ratio)
    drone_hz = tuning.hz(drone)
    target_hz = drone_hz * factor

    def beat_of(note_hz: float) -> float:
        return beat_hz(drone_hz, note_hz, drone_partial, player_partial)

    return DegreeBeats(
        drone=drone,
        note=note,
        drone_hz=drone_hz,
        target_hz=target_hz,
        ratio=ratio,
        target_cents=cents_of(factor) - 100 * interval.semitones,
        drone_partial=drone_partial,
        player_partial=player_partial,
        target_beat_hz=0.0 if exact else beat_of(target_hz),
        equal_beat_hz=beat_of(equal_hz(tuning.a4_hz, note)),
        tuned_beat_hz=beat_of(tuning.hz(note)),
        beat_hz_per_cent=player_partial * target_hz * PER_CENT,
        best_drone_octave=best_drone_octave(drone, note, ratio),
        difference_hz=abs(target_hz - drone_hz),
    )


def _target(interval: Interval, tuning: Tuning) -> tuple[Fraction, float, bool]:
    """The ratio whose partials are heard, the factor that is aimed at, and whether they agree exactly."""
    just = tuning.temperament if isinstance(tuning.temperament, Just) else Just()
    exact = just.ratio(interval)
    return exact or pure_ratio(interval), just.factor(interval), exact is not None


def best_drone_octave(drone: Pitch, note: Pitch, ratio: Fraction) -> int | None:
    """The octave of the drone's note that gives the slowest beat, None where no partials are within reach.

    `ratio` is the target over the drone as given.
    """
    for last in (CLEAR_PARTIAL, FAINT_PARTIAL):
        within = []
        for shift in range(-8, 9):
            moved = drone + OCTAVE * shift
            drone_partial, player_partial = coinciding(ratio / Fraction(2) ** shift)
            usual = shift == 0 or LOWEST_DRONE <= moved.midi <= HIGHEST_DRONE
            if usual and max(drone_partial, player_partial) <= last:
                within.append((player_partial, abs(note.midi - moved.midi), moved.octave))
        if within:
            return min(within)[2]
    return None
