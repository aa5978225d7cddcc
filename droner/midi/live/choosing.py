"""Choose a MIDI port by its name, or by a part of it.

Rule    upper and lower case are one. A name that fits exactly wins; else a part of a name will do, and no words at all
        are part of every name: with a single port nothing need be said. The systems are gone through in order, and the
        first one with a port that fits decides, since two systems may offer the same instrument. Two that fit, or
        none, is an error that lists what there is. The numbers that ALSA puts behind a name change from one day to
        the next, and do not count when a port is looked for again.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from droner.errors import MachineError

_ALSA_NUMBERS = re.compile(r" \d+:\d+$")


@dataclass(frozen=True, slots=True)
class Port:
    """A port as its system names it."""

    system: str
    name: str

    @property
    def lasting(self) -> str:
        """The name without the numbers that ALSA gives anew each time."""
        return _ALSA_NUMBERS.sub("", self.name)

    def __str__(self) -> str:
        return f"{self.name} ({self.system})"


@dataclass(frozen=True, slots=True)
class Ports:
    """What there is, in the order of the systems, and which systems did not answer, with the reason."""

    found: tuple[Port, ...]
    silent: tuple[str, ...] = ()


def chosen(wanted: str, ports: Ports, kind: str = "output") -> Port:
    """The port that is meant. MachineError when none or several are."""
    fits = _fits(wanted, ports.found)
    if len(fits) == 1:
        return fits[0]
    if not fits:
        raise MachineError(_none_fits(wanted, ports, kind))
    asked = f"{wanted!r} fits" if wanted else "there are"
    raise MachineError(f"{asked} {len(fits)} MIDI {kind} ports; say more of the name:{_lines(fits)}")


def again(before: Port, wanted: str, found: Sequence[Port]) -> Port | None:
    """The port that was open, or what alone fits the words that chose it; None while it is away."""
    for port in found:
        if port.lasting == before.lasting:
            return port
    fits = _fits(wanted, found) if wanted else ()
    return fits[0] if len(fits) == 1 else None


def _fits(wanted: str, found: Sequence[Port]) -> tuple[Port, ...]:
    folded = wanted.casefold().strip()
    for system in dict.fromkeys(port.system for port in found):
        own = tuple(port for port in found if port.system == system)
        exact = tuple(port for port in own if folded in (port.name.casefold(), port.lasting.casefold()))
        fits = exact or tuple(port for port in own if folded in port.name.casefold())
        if fits:
            return fits
    return ()


def _none_fits(wanted: str, ports: Ports, kind: str) -> str:
    why = "".join(f"\n    {reason}" for reason in ports.silent)
    if not ports.found:
        return f"this machine has no MIDI {kind} port{why}"
    return f"no MIDI {kind} port is called {wanted!r}; there are:{_lines(ports.found)}{why}"


def _lines(ports: Sequence[Port]) -> str:
    return "".join(f"\n    {port}" for port in ports)
