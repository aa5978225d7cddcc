"""Say what a track is called, for the player's lists on phone and computer.

Units   track and total count from 1; 0 leaves them out. date is "2026-01-31". Empty text is left out.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Tags:
    """The words that travel inside an audio file."""

    title: str = ""
    album: str = ""
    track: int = 0
    total: int = 0
    artist: str = ""
    comment: str = ""
    date: str = ""

    @property
    def track_of_total(self) -> str:
        """Number and total as players show them: 3/24, or 3 when nobody knows of how many."""
        if not self.track:
            return ""
        return f"{self.track}/{self.total}" if self.total else str(self.track)
