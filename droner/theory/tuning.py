"""Give every spelled pitch its hertz: from an A4, a temperament and a reference note, and from nothing else.

Rule    the reference is the note that the temperament starts from: the tonic in just tuning, the first note of
        the circle in a well temperament (C unless the player moves it).
        anchor "equal"  the reference note sits where equal temperament at this A4 puts it. Usual for just: a
                        tonic in tune with a tuner, and everything above it pure.
        anchor "a4"     A4 itself sounds at the A4 asked for; for just, the tonic's own A (so on E flat the
                        augmented fourth). Usual for all others: the A that everyone tunes to.
        In equal temperament the two agree. Pythagorean and meantone walk the spelled line, alike from every
        note, so there the reference matters only under "equal".
Units   a4_hz and hz in hertz; cents as offset from equal temperament at the same A4.
Source  A4 = MIDI key 69 (ISO 16; MIDI Tuning Standard).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from droner.theory.cents import cents_between
from droner.theory.just_table import MINOR_THIRDS, SECONDS, SEVENTHS
from droner.theory.pitch import NoteName, Pitch
from droner.theory.temperament import Equal, Temperament
from droner.theory.temperament import temperament as temperament_named

LOWEST_A4_HZ = 380.0
HIGHEST_A4_HZ = 480.0
USUAL_A4_HZ = 440.0
A4 = Pitch(33, 69)
C = NoteName(0)
ANCHORS = ("equal", "a4")


@dataclass(frozen=True, slots=True)
class Tuning:
    """Where every pitch sounds. Make one with `tuning`."""

    a4_hz: float
    temperament: Temperament
    reference: NoteName
    anchor: str

    def __post_init__(self) -> None:
        if not LOWEST_A4_HZ <= self.a4_hz <= HIGHEST_A4_HZ:
            raise ValueError(f"A4 lies between {LOWEST_A4_HZ:g} and {HIGHEST_A4_HZ:g} Hz, not at {self.a4_hz:g}")
        if self.anchor not in ANCHORS:
            raise ValueError(f"{self.anchor!r} is not an anchor; choose one of {', '.join(ANCHORS)}")

    def hz(self, pitch: Pitch) -> float:
        """The frequency at which the pitch sounds."""
        return _hz(self, pitch)

    def cents(self, pitch: Pitch) -> float:
        """How far above equal temperament at the same A4 the pitch sounds; negative below."""
        return cents_between(equal_hz(self.a4_hz, pitch), self.hz(pitch))

    def on(self, reference: NoteName) -> Tuning:
        """The same tuning from another reference note: a drone that follows moves its tonic so."""
        return Tuning(self.a4_hz, self.temperament, reference, self.anchor)


@lru_cache(maxsize=8192)
def _hz(tuning: Tuning, pitch: Pitch) -> float:
    if isinstance(tuning.temperament, Equal):
        return equal_hz(tuning.a4_hz, pitch)
    reference, factor = tuning.reference.in_octave(4), tuning.temperament.factor
    if tuning.anchor == "equal":
        return equal_hz(tuning.a4_hz, reference) * factor(pitch - reference)
    return tuning.a4_hz * (factor(pitch - reference) / factor(A4 - reference))


def equal_hz(a4_hz: float, pitch: Pitch) -> float:
    """Where equal temperament at this A4 puts a pitch: what a tuner shows as 0."""
    return a4_hz * Equal().factor(pitch - A4)


def tuning(
    a4_hz: float = USUAL_A4_HZ,
    temperament: str = "just",
    reference: NoteName = C,
    *,
    anchor: str | None = None,
    minor_third: str = MINOR_THIRDS[0],
    second: str = SECONDS[0],
    seventh: str = SEVENTHS[0],
) -> Tuning:
    """A tuning by the temperament's name. Without an anchor: "equal" for just, "a4" for every other.

    ValueError for an A4 outside 380..480 Hz, an unknown temperament or choice.
    """
    made = temperament_named(temperament, minor_third=minor_third, second=second, seventh=seventh)
    usual_anchor = "equal" if made.name == "just" else "a4"
    return Tuning(float(a4_hz), made, reference, anchor or usual_anchor)
