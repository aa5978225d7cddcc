"""Take the terminal for live music: its keys and its screen.

Rule    what is taken is given back at the end, also when the interpreter ends out of order.
"""

from __future__ import annotations

import atexit
from contextlib import ExitStack
from typing import TYPE_CHECKING

from droner.cli.play_signals import Sleeper

if TYPE_CHECKING:
    from droner.cli.keys import Keys
    from droner.cli.play_screen import Screen


def taken(stack: ExitStack, keys: Keys, screen: Screen) -> Sleeper:
    """Keys and screen, started; the sleeper gives both back before Ctrl-Z."""
    for each in (keys, screen):
        stack.callback(atexit.unregister, each.close)
        stack.callback(each.close)
        atexit.register(each.close)
        each.start()
    sleeper = Sleeper(keys, screen)
    stack.callback(sleeper.close)
    sleeper.start()
    return sleeper
