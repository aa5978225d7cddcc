"""A run that is played once is marked once, however often its pedal is pressed.

Referee  SQLite, which reads the logbook without us; the counts, by hand.
"""

from __future__ import annotations

import sqlite3
from dataclasses import replace
from pathlib import Path

from droner.cli.day import Day
from droner.cli.play_board import Board
from droner.cli.play_clerk import Clerk
from droner.cli.play_marks import Marks
from droner.cli.play_runs import Run
from droner.units import Beats


def test_the_last_mark_of_a_run_holds_and_counts_once(laddered: Day, tmp_path: Path) -> None:
    kept = tmp_path / "own.logbook"
    board, clerk, news = Board(lambda: None, lambda: ""), Clerk(replace(laddered, logbook=kept)), list[Run]()
    marks = Marks(board, clerk, news.append)
    planned = laddered.plan.items[0]
    first, second, _ = planned.item.performance.repeats
    at, later = first.phrases[0].onset, second.phrases[0].onset
    marks.begins(planned)
    marks.mark(at, clean=True)
    marks.mark(at, clean=True)  # a foot that is not sure
    marks.mark(at, clean=False)  # and corrects itself
    marks.mark(later, clean=True)  # the next time through
    marks.leaves(later)
    marks.mark(Beats(0), clean=True)  # in the breath: the same run once more
    marks.begins(planned)
    marks.mark(at, clean=True)  # the item again
    clerk.close(lambda: None)
    with sqlite3.connect(kept) as connection:
        rows = connection.execute("SELECT name, clean, total, corrects FROM entry ORDER BY number").fetchall()
    names = [name for name, *_ in rows]
    assert [row[1:] for row in rows] == [(1, 1, ""), (0, 1, names[0]), (1, 1, ""), (1, 1, "")]
    assert [entry.clean for entry in clerk.written] == [0, 1, 1]
    assert len(news) == 4, "what stands already is no news to the ladder"


def test_the_page_says_what_became_of_a_mark(laddered: Day, tmp_path: Path) -> None:
    board = Board(lambda: None, lambda: "")
    said: list[str] = []
    for presses in ([True], [True, True], [True, False]):
        clerk = Clerk(replace(laddered, logbook=tmp_path / f"{len(said)}.logbook"))
        marks = Marks(board, clerk)
        planned = laddered.plan.items[0]
        marks.begins(planned)
        for clean in presses:
            marks.mark(planned.item.performance.repeats[0].phrases[0].onset, clean=clean)
        clerk.close(lambda: None)
        said.append(board.mark.rpartition(": ")[2])
    assert said == ["clean", "clean, once", "not yet, corrected"]
