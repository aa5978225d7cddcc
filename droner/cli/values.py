"""Read the values that options and arguments bring: numbers, days, items, forms.

Rule    a value is read exactly or refused with what is allowed; nothing is guessed, rounded or cut.
Units   numbers are exact fractions in the unit that the option names.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING

import click

from droner.cli.form_table import FORMS

if TYPE_CHECKING:
    from fractions import Fraction
    from pathlib import Path

MOST_ITEMS = 1000
"""No plan has as many; a longer stretch is a slip of the hand."""
_NUMBER = re.compile(r"-?[0-9]{1,9}(?:\.[0-9]{1,9})?")
_WHOLE = re.compile(r"-?[0-9]{1,18}")
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_STRETCH = re.compile(r"(?P<first>[0-9]{1,4})(?:-(?P<last>[0-9]{1,4}))?")


def number(lowest: int, highest: int) -> Callable[[str], Fraction]:
    """A reader of numbers within bounds."""

    def read(text: str) -> Fraction:
        from fractions import Fraction  # noqa: PLC0415 - help reads no numbers

        if not _NUMBER.fullmatch(text):
            raise click.BadParameter(f"{text!r} is not a number such as {lowest} or {lowest}.5")
        found = Fraction(text)
        if not lowest <= found <= highest:
            raise click.BadParameter(f"{text} lies outside {lowest} to {highest}")
        return found

    return read


def whole(lowest: int, highest: int) -> Callable[[str], int]:
    """A reader of whole numbers within bounds."""

    def read(text: str) -> int:
        if not _WHOLE.fullmatch(text):
            raise click.BadParameter(f"{text!r} is not a whole number from {lowest} to {highest}")
        found = int(text)
        if not lowest <= found <= highest:
            raise click.BadParameter(f"{text} lies outside {lowest} to {highest}")
        return found

    return read


def day(text: str) -> date:
    """A date as YYYY-MM-DD."""
    if _DAY.fullmatch(text):
        try:
            return date.fromisoformat(text)
        except ValueError:
            raise click.BadParameter(f"there is no day {text}") from None
    raise click.BadParameter(f"{text!r} is not a date such as 2026-11-25")


def path(text: str) -> Path:
    """A file or folder that is named at all."""
    from pathlib import Path  # noqa: PLC0415 - help opens no files

    if not text.strip():
        raise click.BadParameter("the name is empty")
    return Path(text)


def items(text: str) -> tuple[int, ...]:
    """The item numbers in "1,3-5", once each."""
    numbers: list[int] = []
    for part in text.replace(" ", "").split(","):
        found = _STRETCH.fullmatch(part)
        if not found:
            raise click.BadParameter(f"{part!r} is not an item number such as 2, or a stretch such as 2-4")
        first, last = int(found["first"]), int(found["last"] or found["first"])
        if not 1 <= first <= last <= MOST_ITEMS:
            raise click.BadParameter(f"{part} is no stretch of items: write the lower number first, from 1 on")
        numbers += range(first, last + 1)
    return tuple(dict.fromkeys(numbers))


def is_items(text: str) -> bool:
    """Whether a text is written as item numbers are."""
    return all(_STRETCH.fullmatch(part) for part in text.split(","))


def forms(text: str) -> tuple[str, ...]:
    """The forms named in "wav,mid", once each."""
    found = tuple(dict.fromkeys(form.strip().lower().lstrip(".") for form in text.split(",") if form.strip()))
    for form in found:
        if form not in FORMS:
            from droner.errors import nearest  # noqa: PLC0415 - only after a slip of the hand

            close = nearest(form, FORMS)
            hint = f"; did you mean {close}?" if close else ""
            raise click.BadParameter(f"{form!r} is not one of {', '.join(FORMS)}{hint}")
    if not found:
        raise click.BadParameter(f"name at least one of {', '.join(FORMS)}")
    if {"wav", "wav24"} <= set(found):
        raise click.BadParameter("wav and wav24 would be the same file: choose one")
    return found
