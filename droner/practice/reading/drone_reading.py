"""Check a row of drones: that each of its keys has something to do.

Rule    a key that another one makes useless is a mistake, not passed over in silence: the player meant something by
        it. What a drone holds comes first, then its silences, its high tones, how it gets softer.
Units   bars; cents; decibels.
"""

from __future__ import annotations

from droner.practice.reading.library_reading import Values
from droner.practice.reading.sheet_reading import Place
from droner.practice.reading.shown_fields import shown

OF_TONES = ("bars_on", "bars_off", "returns", "only", "softer_over", "softer_db")
"""Keys that need tones; those of high tones say so themselves."""
BARS_OFF = "bars_off = 1, or more, beside it"


def check_drone(row: Values, written: Values, place: Place) -> None:
    """Report the keys of a drone that do not go together."""
    if row.get("degrees") == () and not ("pairs" in written or row.get("ghost_bars")):
        _check_none(row, written, place)
        return
    _check_silences(row, written, place)
    _check_softer(row, place)
    if "pairs" in written or row.get("ghost_bars"):
        _check_high_tones(row, written, place)
    elif "pair_bars" in written:
        place["pair_bars"].wrong("there are no pairs", allowed="pairs = [3, 6, 5] beside it")


def _check_none(row: Values, written: Values, place: Place) -> None:
    """What holds no tone has nothing that could move, fall silent or get softer."""
    wishes = [key for key in (*OF_TONES, "pair_bars") if key in written]
    for key in (*wishes, *(["moves"] if row.get("moves", "never") != "never" else [])):
        place[key].wrong("this drone holds no tone", found=shown(written[key]), allowed="degrees = [1], or no such key")


def _check_silences(row: Values, written: Values, place: Place) -> None:
    off = row.get("bars_off", 0)
    if "bars_on" in written and not off:
        place["bars_on"].wrong("this drone is never silent", found=shown(written["bars_on"]), allowed=BARS_OFF)
    if "returns" in written and not off:
        place["returns"].wrong("a drone comes back only after a silence", allowed=BARS_OFF)
    if row.get("returns") == (0,):
        allowed = "other cents beside 0, or no returns"
        place["returns"].wrong("this drone always comes back in tune", found="[0]", allowed=allowed)
    if "only" in written and off:
        place["only"].wrong("this drone is silent anyhow when you play", allowed="only or bars_off")


def _check_softer(row: Values, place: Place) -> None:
    over = row.get("softer_over", 0)
    if bool(over) != bool(row.get("softer_db", 0)):
        place["softer_db" if over else "softer_over"].wrong(
            "a drone gets softer by so much over so many sessions", allowed="softer_over and softer_db"
        )


def _check_high_tones(row: Values, written: Values, place: Place) -> None:
    """High tones stand on one degree, and stay; pairs come in turn while the player plays, and ghosts fade then."""
    if len(row.get("degrees", "1")) != 1:
        place["degrees"].wrong("a difference tone is one of two tones", allowed="one degree, the first of them")
    if row.get("moves", "never") != "never":
        place["moves"].wrong("high tones stay where they are", found=row["moves"], allowed="never")
    if "only" in written:
        problem = "high tones change, and their difference fades, while you play"
        place["only"].wrong(problem, found=shown(written["only"]), allowed="high tones that sound throughout")
    if "pair_bars" in written and "pairs" not in written:
        place["pair_bars"].wrong("there are no pairs", allowed="pairs = [3, 6, 5] beside it")
    ghost = row.get("ghost_bars", 0)
    pair = row.get("pair_bars", ghost)
    if "pairs" in written and ghost > pair:
        problem = f"a difference tone fades away under its pair, and this pair lasts {pair} bar{'s' * (pair != 1)}"
        place["ghost_bars"].wrong(problem, found=str(ghost), allowed=f"at most {pair}, or more pair_bars")
