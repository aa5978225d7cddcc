"""Every drill in every key on every instrument lies inside the compass, or says which note does not.

Referee  the compass itself; the tonic of the key; the rule of the stream (no note struck twice in a row); a scale goes
         by seconds, major, minor or, in harmonic scales only, augmented. The sweep is thinned by a number that shares
         no factor with the counts, so that every drill, instrument, level, key and turn comes.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain, islice, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from droner.practice.drill import Drill, Material, Order, Path, Staple, Strain
from droner.practice.layout.lay_out import Ground, lay_out
from droner.practice.layout.line import DoesNotFit, Line
from droner.theory.instrument import INSTRUMENTS, LEVELS, Range
from droner.theory.key import Key, key, usual_keys
from droner.theory.pitch import NoteName, Pitch, note_name
from droner.units import Beats
from tests.practice.lines import patterns

TURNS = ("low tonic", "top", "5")
THINNED = 17
"""One layout in so many of all there are."""
EXAMPLES = 250
HOMEWARD = (Path.TURNING, Path.OCTAVE, Path.TWO_OCTAVES, Path.HALF_STEPS)
MODES = tuple(key(f"{tonic} {mode}") for tonic in ("D", "F#", "Bb") for mode in ("dorian", "phrygian", "lydian"))
ALL_KEYS = (*usual_keys(), *MODES)
DRILLS = tuple(patterns().drills.values())
NAMES = tuple(note_name(text) for text in ("C", "C#", "D", "Eb", "E", "F", "F#", "G", "G#", "A", "Bb", "B"))
LOWEST_MIDI, WIDEST = 12, 48
"""C0, and four octaves."""


def grounds(drill: Drill) -> Iterator[Ground]:
    """The drill on every instrument at every level, in every key and turn."""
    for one in INSTRUMENTS.values():
        for level in LEVELS:
            for tonality in usual_keys() if drill.keyed else (None,):
                for turn in TURNS:
                    yield Ground(tonality, one.ranges[level], one, turn)


def is_streaming(drill: Drill) -> bool:
    return not drill.study and all(
        not strain.lengths and strain.material in (Material.SCALE, Material.CHROMATIC, Material.CHORD)
        for strain in drill.strains
    )


def check(drill: Drill, ground: Ground) -> None:
    found = lay_out(drill, ground)
    if isinstance(found, DoesNotFit):
        check_reason(found, drill, ground)
        return
    assert found.notes
    assert all(note.pitch in ground.compass for note in found.notes)
    check_cells(found)
    if is_streaming(drill):
        check_stream(found, drill)
        if drill.strains[-1].path in HOMEWARD:
            assert found.notes[-1].pitch.name == ground.tonality.tonic
            assert found.notes[-1].pitch == found.home


def check_stream(found: Line, drill: Drill) -> None:
    """No note is struck twice; but on half-steps each cell is whole, and in phrygian its last note is the next root."""
    struck_twice = [two for one, two in pairwise(found.notes) if one.pitch.midi == two.pitch.midi]
    if drill.strains[0].path is Path.HALF_STEPS:
        assert all(note.opens for note in struck_twice)
    else:
        assert not struck_twice


def check_reason(found: DoesNotFit, drill: Drill, ground: Ground) -> None:
    assert found.drill == drill.name
    assert found.key == (str(ground.key) if ground.key else "")
    assert found.needed not in ground.compass
    assert found.limit == (ground.compass.high if found.needed.midi > found.limit.midi else ground.compass.low)


def check_cells(found: Line) -> None:
    """Cells count up from 0, and each has one first note."""
    assert found.notes[0].cell == 0
    assert found.notes[0].opens
    for one, two in pairwise(found.notes):
        assert two.cell - one.cell == (1 if two.opens else 0)


def test_a_thinned_sweep_of_everything() -> None:
    every = chain.from_iterable(((drill, ground) for ground in grounds(drill)) for drill in DRILLS)
    seen = set()
    for drill, ground in islice(every, 0, None, THINNED):
        check(drill, ground)
        seen.add((drill.name, ground.turn))
    assert {name for name, _ in seen} == set(patterns().drills)


def spelled(midi: int) -> Pitch:
    return NAMES[midi % 12].in_octave(midi // 12 - 1)


@st.composite
def any_ground(draw: st.DrawFn) -> tuple[Drill, Ground]:
    """Any drill over any compass from a half-step to four octaves."""
    drill = draw(st.sampled_from(DRILLS))
    low = draw(st.integers(LOWEST_MIDI, 100))
    compass = Range(spelled(low), spelled(low + draw(st.integers(1, WIDEST))))
    tonality: Key | None = draw(st.sampled_from(ALL_KEYS)) if drill.keyed else None
    turn = draw(st.sampled_from((*TURNS, "2", "3", "4", "6", "7")))
    return drill, Ground(tonality, compass, draw(st.sampled_from(list(INSTRUMENTS.values()))), turn)


@given(any_ground())
@settings(max_examples=EXAMPLES, deadline=None)
def test_over_any_compass(asked: tuple[Drill, Ground]) -> None:
    check(*asked)


STEPS = tuple(step for step in range(-15, 16) if step not in (-1, 0))
"""Two octaves either way, as players count them."""
OF = {
    Material.SCALE: ("", "whole tone", "major pentatonic", "blues"),
    Material.CHROMATIC: ("",),
    Material.CHORD: ("I i", "V7", "viio7", "IV iv"),
}
WHOLE_CELLS = (Path.HALF_STEPS, Path.OCTAVE, Path.TWO_OCTAVES)
"""Paths that take no stride."""


@st.composite
def own_strain(draw: st.DrawFn) -> Strain:
    """What a player may write of one strain: any cells, with or without the note itself."""
    material = draw(st.sampled_from(list(OF)))
    path = draw(st.sampled_from([path for path in Path if path is not Path.STAY]))
    most = 1 if path is Path.HALF_STEPS else 3
    cells = draw(
        st.lists(st.lists(st.sampled_from(STEPS), min_size=1, max_size=4).map(tuple), min_size=1, max_size=most)
    )
    own_lengths = path is not Path.HALF_STEPS and draw(st.booleans())
    return Strain(
        material,
        draw(st.sampled_from(OF[material])),
        tuple(cells),
        path,
        Order.WRITTEN if path is Path.HALF_STEPS else draw(st.sampled_from(Order)),
        1 if path in WHOLE_CELLS else draw(st.integers(1, 5)),
        tuple((Beats(1),) * len(cell) for cell in cells) if own_lengths else (),
    )


@st.composite
def own_drill(draw: st.DrawFn) -> tuple[Drill, Ground]:
    """A drill that a player may write, over any compass or an instrument's own."""
    strains = draw(st.lists(own_strain(), min_size=1, max_size=2))
    count, keyed = draw(st.integers(1, 2)), draw(st.booleans())
    one = draw(st.sampled_from(list(INSTRUMENTS.values())))
    low = draw(st.integers(LOWEST_MIDI, 100))
    any_compass = Range(spelled(low), spelled(low + draw(st.integers(1, WIDEST))))
    compass = draw(st.sampled_from((any_compass, *one.ranges.values())))
    tonality: Key | None = draw(st.sampled_from(ALL_KEYS)) if keyed else None
    turn = draw(st.sampled_from((*TURNS, "2", "7")))
    return Drill("mine", "", Staple.SCALES, tuple(strains), count=count, keyed=keyed), Ground(
        tonality, compass, one, turn
    )


@given(own_drill())
@settings(max_examples=2 * EXAMPLES, deadline=None)
def test_a_drill_of_the_players_own_stays_inside_the_compass_or_says_what_does_not_fit(
    asked: tuple[Drill, Ground],
) -> None:
    drill, ground = asked
    found = lay_out(drill, ground)
    if isinstance(found, DoesNotFit):
        check_reason(found, drill, ground)
        return
    assert found.notes
    assert found.home in ground.compass
    assert all(note.pitch in ground.compass for note in found.notes)
    check_cells(found)


LARGEST_SECOND = {"turning scale": 2, "octave scale": 2, "two-octave scale": 2, "whole-tone scale": 2,
                  "octatonic scale": 2, "running chromatic": 1}  # fmt: skip


@pytest.mark.parametrize("drill", LARGEST_SECOND)
@given(st.data())
@settings(max_examples=60, deadline=None)
def test_a_scale_goes_by_step(drill: str, data: st.DataObject) -> None:
    low = data.draw(st.integers(LOWEST_MIDI, 90))
    compass = Range(spelled(low), spelled(low + data.draw(st.integers(12, WIDEST))))
    ground = Ground(
        data.draw(st.sampled_from(usual_keys())), compass, INSTRUMENTS["flute"], data.draw(st.sampled_from(TURNS))
    )
    found = lay_out(patterns().drills[drill], ground)
    assert isinstance(found, Line) or drill in ("octave scale", "two-octave scale")
    if isinstance(found, Line):
        moves = [abs(two.pitch.midi - one.pitch.midi) for one, two in pairwise(found.notes)]
        assert 1 <= min(moves) <= max(moves) <= LARGEST_SECOND[drill]
        reached = {note.pitch.midi for note in found.notes}
        if drill == "running chromatic":
            assert reached == set(range(compass.low.midi, compass.high.midi + 1))


@given(st.sampled_from(usual_keys()), st.integers(36, 72), st.integers(12, WIDEST))
@settings(max_examples=60, deadline=None)
def test_a_turning_scale_shows_all_the_key_has_in_the_compass(tonality: Key, low: int, width: int) -> None:
    compass = Range(spelled(low), spelled(low + width))
    found = lay_out(patterns().drills["turning scale"], Ground(tonality, compass, INSTRUMENTS["flute"]))
    assert isinstance(found, Line)
    names: set[NoteName] = {note.pitch.name for note in found.notes}
    top, bottom = max(note.pitch.midi for note in found.notes), min(note.pitch.midi for note in found.notes)
    # the largest second of melodic minor between two of its notes is two half-steps
    assert compass.high.midi - top <= 2
    assert bottom - compass.low.midi <= 2
    # a line that turns round on its sixth or seventh may show it raised only
    assert set(tonality.notes[: 5 if tonality.is_minor else 7]) <= names
