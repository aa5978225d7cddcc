"""Complete values for the shell: files, forms, temperaments, click patterns, instruments, kinds of patterns.

Rule    a name of several words is completed with hyphens, which need no quotes, and is read the same way. Tables are
        loaded only when the shell asks; what cannot be read completes to nothing.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import click
from click.shell_completion import CompletionItem

from droner.cli.form_table import FORMS
from droner.cli.kind_table import KINDS
from droner.errors import MachineError, MistakesFound

Completed = list[CompletionItem]


def files(_: click.Context, __: click.Parameter, incomplete: str) -> Completed:
    return [CompletionItem(incomplete, type="file")]


def folders(_: click.Context, __: click.Parameter, incomplete: str) -> Completed:
    return [CompletionItem(incomplete, type="dir")]


def forms(_: click.Context, __: click.Parameter, incomplete: str) -> Completed:
    """The form after the last comma."""
    before, comma, begun = incomplete.rpartition(",")
    named = before.split(",")
    abouts = {name: about for name, (_, about) in FORMS.items() if name not in named}
    return [CompletionItem(before + comma + item.value, help=item.help) for item in _begun(abouts, begun)]


def kinds(_: click.Context, __: click.Parameter, incomplete: str) -> Completed:
    return _begun(KINDS, incomplete)


def temperaments(_: click.Context, __: click.Parameter, incomplete: str) -> Completed:
    from droner.theory.temperament import TEMPERAMENTS  # noqa: PLC0415 - only when the shell asks

    return _begun(TEMPERAMENTS, incomplete)


def instruments(_: click.Context, __: click.Parameter, incomplete: str) -> Completed:
    from droner.theory.instrument import INSTRUMENTS  # noqa: PLC0415 - only when the shell asks

    return _begun({name: row.family for name, row in INSTRUMENTS.items()}, incomplete)


def clicks(_: click.Context, __: click.Parameter, incomplete: str) -> Completed:
    from droner.practice.reading.files import load_patterns  # noqa: PLC0415 - only when the shell asks

    try:
        found = load_patterns(Path("patterns")).clicks
    except (MistakesFound, MachineError):
        return []
    return _begun({name: row.about for name, row in found.items()}, incomplete)


def _begun(abouts: Mapping[str, str], incomplete: str) -> Completed:
    """The names that go on as begun."""
    wanted = hyphened(incomplete).casefold()
    named = ((hyphened(name), about) for name, about in abouts.items())
    return [CompletionItem(name, help=about) for name, about in named if name.casefold().startswith(wanted)]


def hyphened(name: str) -> str:
    """A name in one word: "every beat" is every-beat."""
    return "-".join(name.split())
