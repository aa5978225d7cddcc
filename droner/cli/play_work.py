"""Have work done beside the music, one thing after another. (Shore: one thread.)

Rule    what a task raises is raised where its result is asked for. At the end what is under way is finished; what still
        waits is finished or dropped. (The standard library's pool does as much, but takes 15 ms of the first tone.)
"""

from __future__ import annotations

from collections.abc import Callable
from queue import Empty, SimpleQueue
from threading import Event, Thread
from typing import Any, Generic, TypeVar

Made = TypeVar("Made")


class Task(Generic[Made]):
    """Something that is being done."""

    def __init__(self, work: Callable[[], Made]) -> None:
        self._work = work
        self._made: list[Made] = []
        self._failure: BaseException | None = None
        self._done = Event()

    def do(self) -> None:
        """Do it."""
        try:
            self._made.append(self._work())
        except BaseException as failure:  # noqa: BLE001 - raised where the result is asked for
            self._failure = failure
        self._done.set()

    def result(self) -> Made:
        """What came of it, as soon as it is done."""
        self._done.wait()
        if self._failure is not None:
            raise self._failure
        return self._made[0]


class Worker:
    """A thread that does what it is given."""

    def __init__(self, name: str) -> None:
        self._waiting: SimpleQueue[Task[Any] | None] = SimpleQueue()
        self._thread = Thread(target=self._work, name=f"droner {name}", daemon=True)
        self._thread.start()

    def submit(self, work: Callable[..., Made], *arguments: Any) -> Task[Made]:
        """Have something done as soon as all before it is."""
        task = Task(lambda: work(*arguments))
        self._waiting.put(task)
        return task

    def finish(self, within_s: float | None = None) -> bool:
        """Do what still waits, and end; False where that takes longer."""
        self._waiting.put(None)
        self._thread.join(within_s)
        return not self._thread.is_alive()

    def drop(self) -> None:
        """End after what is under way."""
        while True:
            try:
                self._waiting.get_nowait()
            except Empty:
                break
        self.finish()

    def _work(self) -> None:
        while (task := self._waiting.get()) is not None:
            task.do()
