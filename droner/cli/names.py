"""Find the thing that a name on the command line means.

Rule    names are the same in any case, with spaces or with hyphens; a wrong one is refused with the nearest.
"""

from __future__ import annotations

from collections.abc import Iterable

import click

from droner.errors import nearest


def folded(name: str) -> str:
    """A name as it is compared."""
    return " ".join(name.casefold().replace("-", " ").split())


def pick(asked: str, names: Iterable[str], what: str) -> str:
    """The name that is meant. UsageError where there is none such."""
    known = {folded(name): name for name in names}
    if folded(asked) in known:
        return known[folded(asked)]
    close = nearest(folded(asked), known)
    hint = f"Did you mean {known[close]}?" if close else f"There are: {'; '.join(known.values())}."
    raise click.UsageError(f"There is no {what} {asked!r}. {hint}")


def temperament_name(asked: str) -> str:
    """The temperament's plain name, also for its other names."""
    from droner.theory.temperament import TEMPERAMENTS, temperament  # noqa: PLC0415 - only when one is named

    try:
        return temperament(asked).name
    except ValueError:
        return pick(asked, TEMPERAMENTS, "temperament")
