"""Find the thing that a name on the command line means.

Rule    names are the same in any case, with spaces or with hyphens; a wrong one is refused with the nearest.
"""

from __future__ import annotations

from collections.abc import Iterable

import click


def folded(name: str) -> str:
    """A name as it is compared."""
    return " ".join(name.casefold().replace("-", " ").split())


def pick(asked: str, names: Iterable[str], what: str, also: Iterable[str] = ()) -> str:
    """The name that is meant, or one of `also`, which are not listed. UsageError where there is none such."""
    listed = tuple(names)
    known = {folded(name): name for name in (*also, *listed)}
    if folded(asked) in known:
        return known[folded(asked)]
    from droner.errors import nearest  # noqa: PLC0415 - only after a slip of the hand

    close = nearest(folded(asked), known)
    hint = f"Did you mean {known[close]}?" if close else f"There are: {'; '.join(listed)}."
    raise click.UsageError(f"There is no {what} {asked!r}. {hint}")


def temperament_name(asked: str) -> str:
    """The temperament's plain name, also for its other names."""
    from droner.theory.temperament import TEMPERAMENTS, temperament  # noqa: PLC0415 - only when one is named
    from droner.theory.temperament_table import ALIASES  # noqa: PLC0415

    return temperament(pick(asked, TEMPERAMENTS, "temperament", dict(ALIASES))).name
