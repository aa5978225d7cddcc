"""Play a drone or a click as the player wishes it, until it is ended.

Rule    a wish that changes nothing is answered in words. While paused a change is only kept: it sounds when the music
        goes on. A click that was paused begins anew, with a bar.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from droner.cli.standing_ground import Ground
from droner.cli.standing_wishes import Wish
from droner.live.words import Act, ChangeTo

if TYPE_CHECKING:
    from collections.abc import Callable

    from droner.cli.play_output import Output
    from droner.cli.standing_music import State
    from droner.live.words import Asked, Deed, Place


class StandingPlayer:
    """What sounds now (`state`), and what was said last (`news`). `make` makes the piece; `say` tells of changes."""

    def __init__(self, state: State, output: Output, make: Callable[[State], Any], say: Callable[[str], None]) -> None:
        self.state = state
        self.news = ""
        self._output, self._make, self._say = output, make, say
        self._is_changed = False

    def play(self, asked: Asked) -> None:
        """Play until the end is wished."""
        piece = self._make(self.state)
        self._say(self.state.line)
        self._output.play(piece, asked, self._obey)

    @property
    def place(self) -> Place | None:
        """Where the music is."""
        return self._output.place

    @property
    def is_paused(self) -> bool:
        """Whether it waits."""
        place = self.place
        return place is not None and place.paused

    def _obey(self, wish: Any) -> Deed:
        if wish is Wish.END:
            return Act.STOP
        if wish is Wish.PAUSE:
            return self._pause()
        changed = self.state.after(wish)
        if isinstance(changed, str):
            self.news = changed
            return Act.GO_ON
        self.news = ""
        if changed == self.state:
            return Act.GO_ON
        self.state = changed
        self._say(changed.line)
        if self.is_paused:
            self._is_changed = True
            return Act.GO_ON
        return ChangeTo(self._make(changed))

    def _pause(self) -> Deed:
        begins_anew = self._is_changed or not isinstance(self.state, Ground)
        if not self.is_paused or not begins_anew:
            return Act.PAUSE
        self._is_changed = False
        return ChangeTo(self._make(self.state))
