"""Choose a loudspeaker by its name, or by a part of it.

Rule    upper and lower case are one. A name that fits exactly wins; else a part of a name will do. With no words it is
        the machine's own choice. The systems are gone through in order, and the first one with a device that fits
        decides, since two systems often offer the same device. Two that fit, or none, is an error that lists what
        there is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from droner.errors import MachineError


@dataclass(frozen=True, slots=True)
class Device:
    """An output as its system names it; `usual` marks the one that its system would choose."""

    number: int
    system: str
    name: str
    channels: int
    rate_hz: int
    latency_s: float
    usual: bool = False

    def __str__(self) -> str:
        return f"{self.name} ({self.system})"


def chosen(wanted: str, found: Sequence[Device]) -> Device:
    """The device that is meant. MachineError when none or several are."""
    if not found:
        raise MachineError("this machine has no audio output")
    fits = _fits(wanted, found)
    if len(fits) == 1:
        return fits[0]
    if not fits:
        raise MachineError(f"no audio output is called {wanted!r}; there are:{_lines(found)}")
    asked = f"{wanted!r} fits" if wanted else "there are"
    raise MachineError(f"{asked} {len(fits)} audio outputs; say more of the name:{_lines(fits)}")


def _fits(wanted: str, found: Sequence[Device]) -> tuple[Device, ...]:
    folded = wanted.casefold().strip()
    if not folded and (usual := tuple(device for device in found if device.usual)):
        return usual[:1]
    for system in dict.fromkeys(device.system for device in found):
        own = tuple(device for device in found if device.system == system)
        exact = tuple(device for device in own if device.name.casefold() == folded)
        fits = exact or tuple(device for device in own if folded in device.name.casefold())
        if fits:
            return fits
    return ()


def _lines(devices: Sequence[Device]) -> str:
    return "".join(f"\n    {device}" for device in devices)
