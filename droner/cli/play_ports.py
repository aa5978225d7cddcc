"""Say what a day could be played on here, and what could be heard: MIDI ports, and loudspeakers.

Rule    that there is none of a kind is an answer too, with the reason as far as the machine tells it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from droner.cli.screen import show, show_json
from droner.errors import MachineError

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from droner.midi.live.choosing import Ports

NONE = "none"


def show_ports(*, as_json: bool) -> None:
    """Print them."""
    outputs, inputs, speakers = _midi("output_ports"), _midi("input_ports"), _speakers()
    if as_json:
        show_json({"outputs": outputs[0], "inputs": inputs[0], "speakers": speakers[0]})
        return
    kinds = (
        ("MIDI outputs, for --port", outputs),
        ("MIDI inputs, for --pedal and --keyboard", inputs),
        ("loudspeakers, for --speaker", speakers),
    )
    show("\n\n".join(_page(head, found, why) for head, (found, why) in kinds))


Found = tuple[list[dict[str, str]], tuple[str, ...]]
"""Name and system of each, and the reasons for what is missing."""


def _midi(kind: str) -> Found:
    def look() -> Found:
        from droner.midi.live import port  # noqa: PLC0415 - help looks for nothing

        ports: Ports = getattr(port, kind)()
        return _rows(ports.found), ports.silent

    return _or_why(look)


def _speakers() -> Found:
    def look() -> Found:
        from droner.sound.live.device import output_devices  # noqa: PLC0415 - as above

        return _rows(output_devices()), ()

    return _or_why(look)


def _or_why(look: Callable[[], Found]) -> Found:
    try:
        return look()
    except MachineError as missing:
        return [], (str(missing),)


def _rows(found: Sequence[Any]) -> list[dict[str, str]]:
    return [{"name": each.name, "system": each.system} for each in found]


def _page(head: str, found: list[dict[str, str]], why: tuple[str, ...]) -> str:
    lines = [f"    {each['name']} ({each['system']})" for each in found] or [f"    {NONE}"]
    return "\n".join((head, *lines, *(f"    {reason}" for reason in why)))
