"""Referee: what a player would expect who reads the list."""

from __future__ import annotations

import pytest

from droner.errors import MachineError
from droner.sound.live.choosing import Device, chosen


def device(number: int, system: str, name: str, *, usual: bool = False) -> Device:
    return Device(number, system, name, 2, 48_000, 0.05, usual=usual)


# Invented devices, of the kinds that a laptop shows.
BUILT_IN = device(0, "ALSA", "HDA Intel: ALC (hw:0,0)")
USB = device(1, "ALSA", "USB Audio: #1 (hw:1,0)")
USB_TWO = device(2, "ALSA", "USB Audio: #2 (hw:2,0)")
DEFAULT = device(3, "ALSA", "default", usual=True)
JACK_USB = device(4, "JACK Audio Connection Kit", "USB Audio: #1 (hw:1,0)")
ALL = (BUILT_IN, USB, USB_TWO, DEFAULT, JACK_USB)


@pytest.mark.parametrize(
    ("wanted", "found"),
    [
        ("", DEFAULT),
        ("intel", BUILT_IN),
        ("#2", USB_TWO),
        ("usb audio: #1 (hw:1,0)", USB),
        ("DEFAULT", DEFAULT),
    ],
)
def test_a_part_of_the_name_will_do(wanted: str, found: Device) -> None:
    assert chosen(wanted, ALL) == found


def test_a_name_that_fits_exactly_wins() -> None:
    short, long = device(0, "ALSA", "usb"), device(1, "ALSA", "usb two")
    assert chosen("USB", (long, short)) == short


def test_without_a_choice_of_the_machine_one_output_alone_will_do() -> None:
    assert chosen("", (BUILT_IN,)) == BUILT_IN


def test_two_that_fit_are_listed() -> None:
    with pytest.raises(MachineError, match="'usb' fits 2 audio outputs") as told:
        chosen("usb", ALL)
    assert str(USB) in str(told.value)
    assert str(USB_TWO) in str(told.value)
    assert str(BUILT_IN) not in str(told.value)


def test_none_that_fits_tells_what_there_is() -> None:
    with pytest.raises(MachineError, match="no audio output is called 'horn'") as told:
        chosen("horn", ALL)
    assert all(str(each) in str(told.value) for each in ALL)


def test_a_machine_without_outputs_says_so() -> None:
    with pytest.raises(MachineError, match="this machine has no audio output"):
        chosen("", ())
