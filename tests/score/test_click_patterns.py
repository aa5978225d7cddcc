"""Every click pattern there is, bar by bar, drawn as a player would: A the first of the bar, x a beat, s between.

Referee  common practice, no source: where beats, off-beats and groups lie in each meter. One sign is a sixteenth; the
         triplet bars have their own grid. A pattern added to the file must be drawn here.
"""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from fractions import Fraction

import pytest

from droner.practice.reading.files import patterns_folder
from droner.score.plain import click_score
from droner.score.score import Click, ClickKind
from droner.theory.meter import meter
from tests.score.composed import patterns

SIGNS = {ClickKind.ACCENT: "A", ClickKind.BEAT: "x", ClickKind.SUBDIVISION: "s", ClickKind.COUNT: "c"}
SIXTEENTH = Fraction(1, 4)
NOTHING = "................"

DRAWN = [
    # pattern, meter, bars, spaces between beats
    ("every beat", "4/4", ["A... x... x... x..."]),
    ("every beat", "3/4", ["A... x... x..."]),
    ("every beat", "2/2", ["A....... x......."]),
    ("every beat", "3/8", ["A. x. x."]),
    ("every beat", "6/8", ["A..... x....."]),
    ("every beat", "12/8", ["A..... x..... x..... x....."]),
    ("every beat", "7/8", ["A... x... x....."]),
    ("every beat", "3+2+2/8", ["A..... x... x..."]),
    ("every beat", "5/8", ["A..... x..."]),
    ("every beat", "5/4", ["A... x... x... x... x..."]),
    ("subdivisions", "4/4", ["A.s. x.s. x.s. x.s."]),
    ("subdivisions", "6/8", ["A.s.s. x.s.s."]),
    ("subdivisions", "7/8", ["A.s. x.s. x.s.s."]),
    ("subdivisions", "3/8", ["As xs xs"]),
    ("in four", "4/4", ["Asss xsss xsss xsss"]),
    ("in four", "7/8", ["Asss xsss xsssss"]),
    ("half bar", "4/4", ["A... .... x... ...."]),
    ("half bar", "12/8", ["A..... ...... x..... ......"]),
    ("one a bar", "4/4", ["A... .... .... ....", "A... .... .... ...."]),
    ("one a bar", "7/8", ["A... .... ......"]),
    ("two and four", "4/4", [".... x... .... x..."]),
    ("two and four", "12/8", ["...... x..... ...... x....."]),
    ("off-beats", "4/4", ["..x. ..x. ..x. ..x."]),
    ("off-beats", "6/8", ["....x. ....x."]),
    ("off-beats", "7/8", ["..x. ..x. ....x."]),
    ("off-beats", "2/2", ["....x... ....x..."]),
    ("last sixteenth", "4/4", ["...x ...x ...x ...x"]),
    ("last sixteenth", "6/8", [".....x .....x"]),
    ("last sixteenth", "7/8", ["...x ...x .....x"]),
    (
        "two bars on, two off",
        "4/4",
        ["A... x... x... x...", "A... x... x... x...", NOTHING, NOTHING, "A... x... x... x..."],
    ),
    (
        "one bar on, three off",
        "3/4",
        ["A... x... x...", "............", "............", "............", "A... x... x..."],
    ),
    ("the rhythm", "4/4", ["A... x... x... x..."]),  # and on the drill's notes: tried with a drill
    ("silent", "4/4", [NOTHING]),
    ("only on breaths", "4/4", [NOTHING]),  # nobody breathes in a click alone
    ("fading", "4/4", ["A... x... x... x..."] * 8 + [NOTHING] * 2),
]
NOT_DRAWN = {"drops"}
"""Left to chance: counted in test_clicks."""


def drawn(clicks: Sequence[Click], bar: Fraction, bars: int) -> list[str]:
    """The clicks on a grid of sixteenths; a click beside the grid is an error."""
    cells = int(bar / SIXTEENTH)
    grid = [["."] * cells for _ in range(bars)]
    for click in clicks:
        number, within = divmod(click.onset.exact, bar)
        place = within / SIXTEENTH
        assert place.denominator == 1, f"a click at {within} is on no sixteenth"
        grid[int(number)][int(place)] = SIGNS[click.kind]
    return ["".join(cells) for cells in grid]


@pytest.mark.parametrize(("name", "asked", "bars"), DRAWN, ids=[f"{name} in {asked}" for name, asked, _ in DRAWN])
def test_it_clicks_as_a_player_would_draw_it(name: str, asked: str, bars: list[str]) -> None:
    in_meter = meter(asked)
    score = click_score(in_meter, patterns().clicks[name], Fraction(90), len(bars), 440.0)
    assert drawn(score.clicks, in_meter.bar.exact, len(bars)) == [bar.replace(" ", "") for bar in bars]


def test_every_pattern_of_the_file_is_drawn_here() -> None:
    text = (patterns_folder() / "clicks.toml").read_text(encoding="utf-8")
    assert {name for name, _, _ in DRAWN} | NOT_DRAWN == set(tomllib.loads(text)["click"])


def test_a_fading_click_loses_an_eighth_with_every_bar() -> None:
    score = click_score(meter("4/4"), patterns().clicks["fading"], Fraction(90), 12, 440.0)
    gains = {int(click.onset.exact // 4): click.gain for click in score.clicks}
    assert gains == {bar: 1 - bar / 8 for bar in range(8)}


OWN = """
[click]
"late thirds"  = { about = "On the second third.", offset = "1/3" }
"two, late"    = { about = "Two to a beat, half a beat late.", offset = "1/2", divide = 2 }
"three to two" = { about = "Three to a beat.", divide = 3 }
"""


@pytest.mark.parametrize(
    ("name", "asked", "onsets"),
    [
        # thirds are meant as they are written, in every meter
        ("late thirds", "2/4", ["1/3", "4/3"]),
        ("late thirds", "6/8", ["1/2", "2"]),
        ("three to two", "2/4", ["0", "1/3", "2/3", "1", "4/3", "5/3"]),
        # no click leaves its beat, so none leaves the bar
        ("two, late", "2/4", ["0", "1/2", "1", "3/2"]),
    ],
)
def test_a_players_own_pattern_stays_inside_its_beats(name: str, asked: str, onsets: list[str]) -> None:
    score = click_score(meter(asked), patterns(OWN).clicks[name], Fraction(60), 1, 440.0)
    assert [str(click.onset.exact) for click in score.clicks] == onsets
