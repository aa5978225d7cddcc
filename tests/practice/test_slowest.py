"""A block that can come to a tempo too slow for a MIDI file is refused at the key that makes it so, and no other is.

Referee  SMF 1.0, set-tempo meta event: 24 bits of microseconds a quarter, so at least 60 000 000 / 16 777 215 = 3.5763
         quarter notes a minute; which tempo a block comes to is worked out by hand beside it. The rhythms of the
         set "thirty" have up to four notes a beat; of "sixty" up to seven, which take four sevenths of the tempo.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from droner.errors import Mistake, MistakesFound
from droner.practice.items import Items
from droner.practice.layout.line import DoesNotFit
from droner.practice.reading.session_reading import read_session
from droner.theory.key import key
from tests.practice.lines import patterns

LONGEST_QUARTER_US = 2**24 - 1
SLOW = """
[drill.slow]
about = "Mine."
staple = "tone"
material = "note"
lengths = ["1"]
meter = "4/32"
tempo = 20
[drill.quick]
about = "Mine."
staple = "tone"
material = "note"
lengths = ["1"]
meter = "4/32"
tempo = 60
"""


def mistakes_in(block: str, variants: str = "none") -> tuple[Mistake, ...]:
    text = f'[rotation]\nvariants = "{variants}"\n[[block]]\n{block}\n'
    try:
        read_session(text, "s.toml", patterns(SLOW))
    except MistakesFound as found:
        return found.mistakes
    return ()


ENOUGH = (
    ('drill = "fourths"\ntempo = 20\nspeeds = [17.9]', "none"),  # 3.58 crotchets
    ('drill = "fourths"\ntempo = 20\nspeeds = [17.9]', "thirty"),
    ('drill = "fourths"\ntempo = 20\nspeeds = [17.9]\nmeter = "4/8"', "none"),  # the rhythm's 4/4 is played
    ('drill = "fourths"\ntempo = 20\nspeeds = [31.3]', "sixty"),  # 20 x 4/7 x 0.313 = 3.577
    ('drill = "fourths"\ntempo = 20\nspeeds = [17.9]\nvariant = "plain"', "sixty"),
    ('drill = "fourths"\ntempo = 20\nspeeds = [17.9]\nvariant = 1', "sixty"),  # even in four
    ('drill = "measured vibrato"\ntempo = 20\nspeeds = [10]\nmeter = "4/2"', "sixty"),  # its own lengths: 4 crotchets
    ('drill = "quick"\ntempo = 28.7', "none"),  # 28.7 / 8 = 3.5875
    ('drill = "quick"', "none"),
)


@pytest.mark.parametrize(("block", "variants"), ENOUGH)
def test_what_a_midi_file_can_hold_is_no_mistake(block: str, variants: str) -> None:
    assert mistakes_in(block, variants) == ()


TOO_SLOW = (
    ('drill = "fourths"\ntempo = 20\nspeeds = [17.8]', "none", 6, "speeds", "3.56 beats a minute in 4/4"),
    ('drill = "fourths"\ntempo = 20\nspeeds = [31.2]', "sixty", 5, "tempo", "3.57 beats a minute in 4/4"),  # else 80
    ('drill = "fourths"\ntempo = 20\nspeeds = [10, 100]\nmeter = "4/2"', "none", 6, "speeds", "2 beats"),
    ('drill = "fourths"\nspeeds = [100]\ntempo = 20\nglide = [100, 15]', "none", 7, "glide", "3 beats"),
    ('drill = "fourths"\ntempo = 40\nspeeds = [20]\nglide = [40, 100]', "none", 6, "speeds", "3.2 beats"),
    ('drill = "fourths"\nladder = { from = 20, to = 90 }\nspeeds = [15]', "none", 6, "speeds", "3 beats"),
    ('drill = "measured vibrato"\ntempo = 28\nmeter = "4/32"', "none", 6, "meter", "28 beats a minute in 4/32"),
    ('drill = "quick"\ntempo = 28.6', "none", 5, "tempo", "28.6 beats a minute in 4/32"),
    ('drill = "quick"\nladder = { from = 20, to = 90 }', "none", 5, "ladder", "20 beats"),
    ('drill = "slow"\nspeeds = [100]', "none", 4, "drill", "20 beats a minute in 4/32"),
)


@pytest.mark.parametrize(("block", "variants", "line", "name", "words"), TOO_SLOW)
def test_what_is_too_slow_is_named_at_the_key_that_makes_it_so(
    block: str, variants: str, line: int, name: str, words: str
) -> None:
    (mistake,) = mistakes_in(block, variants)
    assert (mistake.line, mistake.key) == (line, f"block[1].{name}")
    assert words in mistake.found


@st.composite
def any_block(draw: st.DrawFn) -> str:
    """A block near the slow end."""
    lines = [f'drill = "{draw(st.sampled_from(["fourths", "measured vibrato", "curving study", "quick", "slow"]))}"']
    choices = {
        "tempo": ("20", "25", "40"),
        "speeds": ("[10, 100]", "[30]", "[150]"),
        "glide": ("[10, 100]", "[100, 60]"),
        "meter": ('"4/2"', '"4/8"', '"12/8"', '"4/32"', '"2/1"'),
    }
    lines += [f"{name} = {draw(st.sampled_from(values))}" for name, values in choices.items() if draw(st.booleans())]
    return "\n".join(lines)


@given(any_block(), st.sampled_from(["none", "sixty", "thirty", "twelve"]))
@settings(max_examples=60, deadline=None)
def test_what_is_accepted_can_be_written_whatever_the_variant(block: str, variants: str) -> None:
    library = patterns(SLOW)
    if mistakes_in(block, variants):
        return
    text = f'[rotation]\nvariants = "{variants}"\n[[block]]\n{block}\n'
    session = read_session(text, "s.toml", library)
    items = Items(session, library)
    for variant in (None,) if variants == "none" else library.variants_of(variants):
        item = items.item(session.blocks[0], key("C major"), variant)
        assert not isinstance(item, DoesNotFit)
        assert max(Fraction(us) for _, us in item.performance.tempos) <= LONGEST_QUARTER_US
