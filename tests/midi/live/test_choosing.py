"""Referee: none outside; a list of ports such as systems give, typed by hand, and what a person means by a name."""

from __future__ import annotations

import builtins
import sys
from types import ModuleType
from typing import Any

import pytest

from droner.errors import MachineError
from droner.midi.live.choosing import Port, Ports, again, chosen
from droner.midi.live.port import input_ports, output_ports

FLUID = Port("ALSA", "FLUID Synth (4711):Synth input port (4711:0) 128:0")
THROUGH = Port("ALSA", "Midi Through:Midi Through Port-0 14:0")
STAGE = Port("ALSA", "Stage Piano:Stage Piano MIDI 1 20:0")
STAGE_TWO = Port("ALSA", "Stage Piano:Stage Piano MIDI 2 20:1")
BRIDGED = Port("JACK", "a bridge:Stage Piano MIDI 1")
PORTS = Ports((THROUGH, FLUID, STAGE, STAGE_TWO, BRIDGED))


@pytest.mark.parametrize("wanted", ["fluid", "FLUID", "synth input", FLUID.name, FLUID.lasting, "  fluid "])
def test_a_part_of_a_name_will_do(wanted: str) -> None:
    assert chosen(wanted, PORTS) == FLUID


def test_the_exact_name_wins_over_a_part() -> None:
    short, long = Port("CoreMIDI", "Synth"), Port("CoreMIDI", "Synth Two")
    assert chosen("synth", Ports((long, short))) == short


def test_two_that_fit_are_both_named() -> None:
    with pytest.raises(MachineError) as refused:
        chosen("stage piano", PORTS)
    assert "'stage piano' fits 2 MIDI output ports" in str(refused.value)
    assert STAGE.name in str(refused.value)
    assert STAGE_TWO.name in str(refused.value)
    assert FLUID.name not in str(refused.value)


def test_of_two_systems_with_one_instrument_the_first_decides() -> None:
    assert chosen("piano midi 1", PORTS) == STAGE
    assert chosen("bridge", PORTS) == BRIDGED


def test_none_that_fits_lists_what_there_is() -> None:
    with pytest.raises(MachineError) as refused:
        chosen("organ", PORTS)
    assert "no MIDI output port is called 'organ'" in str(refused.value)
    for port in PORTS.found:
        assert str(port) in str(refused.value)


def test_a_machine_without_ports_says_which_systems_are_silent() -> None:
    with pytest.raises(MachineError, match="no MIDI input port\n    ALSA did not start"):
        chosen("", Ports((), ("ALSA did not start",)), "input")


def test_a_single_port_needs_no_words_and_several_do() -> None:
    assert chosen("", Ports((FLUID,))) == FLUID
    with pytest.raises(MachineError, match="there are 4 MIDI output ports"):
        chosen("", PORTS)


def test_a_port_that_comes_back_under_new_numbers_is_known_again() -> None:
    back = Port("ALSA", "Stage Piano:Stage Piano MIDI 1 24:0")
    assert again(STAGE, "stage", [THROUGH, back]) == back
    assert again(STAGE, "stage", [THROUGH, FLUID]) is None


def test_a_synthesiser_started_anew_is_known_by_the_words_that_chose_it() -> None:
    anew = Port("ALSA", "FLUID Synth (4800):Synth input port (4800:0) 129:0")
    assert again(FLUID, "fluid", [THROUGH, anew]) == anew
    assert again(FLUID, "", [THROUGH, anew]) is None


def test_without_the_library_the_extra_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    real = builtins.__import__

    def without(name: str, *others: Any, **more: Any) -> ModuleType:
        if name == "rtmidi":
            raise ModuleNotFoundError(name)
        return real(name, *others, **more)

    monkeypatch.delitem(sys.modules, "rtmidi", raising=False)
    monkeypatch.setattr(builtins, "__import__", without)
    for asked in (output_ports, input_ports):
        with pytest.raises(MachineError, match=r"pip install 'droner\[live\]'"):
            asked()
