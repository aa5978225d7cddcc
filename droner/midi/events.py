"""Flatten a score into one ordered list of channel messages, for a file or a port.

Rule    pure and deterministic: the same score gives the same list. `setting` comes before `music`; a live port may
        send the two apart. Every note ends, and nothing is due outside the score.
Units   moments in quarter notes (Beats); the tempo map turns them into seconds.
"""

from __future__ import annotations

from droner.midi.balance import EVEN_BALANCE, Balance
from droner.midi.channel_table import Part
from droner.midi.clicks import click_messages
from droner.midi.held import changes_tones, held_channels, held_messages
from droner.midi.message import TimedMessage, in_order
from droner.midi.setting_up import AT_ONCE, setting_messages
from droner.midi.solo import solo_messages
from droner.score.score import Score


def timed_messages(score: Score, balance: Balance = EVEN_BALANCE) -> tuple[TimedMessage, ...]:
    """All channel messages of a score, in the order they are to be sent."""
    return in_order((*setting(score, balance), *music(score)))


def setting(score: Score, balance: Balance = EVEN_BALANCE) -> tuple[TimedMessage, ...]:
    """What sets the instrument up, due at beat 0."""
    return in_order(setting_messages(score, balance))


def music(score: Score) -> tuple[TimedMessage, ...]:
    """The notes, with the bends and expression that belong to them. ValueError if one lies outside the score."""
    held = held_channels(score)
    messages = in_order(
        (
            *solo_messages(score),
            *held_messages(Part.DRONE, score.drone, held.drone, score),
            *held_messages(Part.CHANGES, changes_tones(score), held.changes, score),
            *click_messages(score),
        )
    )
    if messages and (messages[0].moment < AT_ONCE or messages[-1].moment > score.length):
        raise ValueError(f"{score.title!r} has notes outside its {score.length.exact} beats")
    return messages
