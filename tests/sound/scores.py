"""Invented scores for the tests of sound: no music of anybody's, only what a measurement needs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from droner.score.score import Attack, Bar, ChordEvent, Click, ClickKind, Score, SoloNote, Tone
from droner.score.tempo_map import TempoMap, glide, tempo_map
from droner.theory.meter import Meter
from droner.theory.pitch import pitch
from droner.units import Beats

ONE_A_SECOND_US = 1_000_000
"""Quarter = 60: beats and seconds run alike."""


def hertz(name: str, a4_hz: float = 442.0) -> float:
    """A pitch in equal temperament: 2^(1/12) a semitone (the definition)."""
    return float(a4_hz * 2 ** ((pitch(name).midi - 69) / 12))


def steady(quarter_us: int = ONE_A_SECOND_US) -> TempoMap:
    return tempo_map([(Beats(0), quarter_us)])


def hour_long_ramp() -> TempoMap:
    """From 60 to 120 in a stair of 5,400 beats: an hour when integrated, about."""
    return tempo_map(glide(Beats(0), Beats(5_400), 1_000_000, 500_000, Beats(1)))


def score(
    length: Beats,
    *,
    drone: Iterable[Tone] = (),
    changes: Iterable[ChordEvent] = (),
    clicks: Iterable[Click] = (),
    solo: Iterable[SoloNote] = (),
    tempos: TempoMap | None = None,
    meter: Meter | None = None,
) -> Score:
    return Score(
        title="invented",
        a4_hz=442.0,
        length=length,
        tempo_map=tempos or steady(),
        bars=(Bar(1, Beats(0), meter),) if meter else (),
        keys=(),
        markers=(),
        cues=(),
        breaths=(),
        solo=tuple(solo),
        drone=tuple(drone),
        changes=tuple(changes),
        clicks=tuple(clicks),
    )


def tone(onset: Fraction | int, length: Fraction | int, name: str, hz: float | None = None) -> Tone:
    return Tone(Beats(onset), Beats(length), pitch(name), hertz(name) if hz is None else hz)


def chord(onset: Fraction | int, length: Fraction | int, names: Sequence[str]) -> ChordEvent:
    tones = tuple(tone(onset, length, name) for name in names)
    return ChordEvent(Beats(onset), Beats(length), "", "", tones)


def click(onset: Fraction | int, kind: ClickKind = ClickKind.BEAT, gain: float = 1.0) -> Click:
    return Click(Beats(onset), kind, gain)


def note(
    onset: Fraction | int,
    length: Fraction | int,
    name: str,
    *,
    sounded: Fraction | int | None = None,
    velocity: int = 80,
    attack: Attack = Attack.TONGUE,
    accent: bool = False,
    shape: tuple[tuple[Fraction, int], ...] = (),
    pulses: int = 0,
) -> SoloNote:
    return SoloNote(
        onset=Beats(onset),
        length=Beats(length),
        sounded=Beats(length if sounded is None else sounded),
        written=pitch(name),
        pitch=pitch(name),
        hz=hertz(name),
        velocity=velocity,
        attack=attack,
        accent=accent,
        shape=shape,
        pulses=pulses,
    )


def day_of_work(minutes: int, quarter_us: int = 500_000) -> Score:
    """Everything at once: tonic and fifth, a chord a bar, clicks on every half beat, a scale in eighths."""
    beats = minutes * 60_000_000 // quarter_us
    steps = ("D4", "E4", "F#4", "G4", "A4", "B4", "C#5", "D5", "E5", "F#5", "G5", "A5", "B5", "C#6", "D6")
    up_and_down = steps + steps[-2:0:-1]
    chords = (("D4", "F#4", "A4"), ("D4", "G4", "B4"), ("C#4", "E4", "A4"), ("D4", "F#4", "A4"))
    half = Fraction(1, 2)
    return score(
        Beats(beats),
        drone=[tone(bar, 4, name) for bar in range(0, beats, 4) for name in ("D3", "A3")],
        changes=[chord(bar, 4, chords[bar // 4 % 4]) for bar in range(0, beats, 4)],
        clicks=[
            click(half * eighth, ClickKind.SUBDIVISION if eighth % 2 else ClickKind.BEAT) for eighth in range(2 * beats)
        ],
        solo=[
            note(
                half * eighth,
                half,
                up_and_down[eighth % len(up_and_down)],
                attack=Attack.SLUR if eighth % 4 else Attack.TONGUE,
            )
            for eighth in range(2 * beats)
        ],
        tempos=steady(quarter_us),
    )
