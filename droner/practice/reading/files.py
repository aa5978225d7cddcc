"""Read session and pattern files from the disk: the shore of this floor.

Rule    what the player can put right (a missing file, a folder, a file in another encoding) is a mistake; what
        only the machine can (no permission, a broken disk) is a MachineError. The player's own patterns, in a
        folder `patterns` beside the session, are read after droner's and may replace them by name. A file that the
        player named may be a pipe (a shell's `<(...)`): it is read as it comes. In the folder only files are read,
        links to them too; a pipe or device there is a mistake, since droner would wait on it for ever.
Units   sizes in bytes.
Source  TOML 1.0.0: a file is UTF-8. A byte order mark before it is passed over.
"""

from __future__ import annotations

import codecs
import errno
import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from pathlib import Path

from droner.errors import MachineError, Mistake, MistakesFound, nearest
from droner.practice.pattern import Patterns
from droner.practice.reading.pattern_reading import read_patterns
from droner.practice.reading.session_reading import read_session
from droner.practice.session import Session

LARGEST = 1_000_000
"""Bytes; a year of hand-written patterns is a twentieth of it."""
BUILT_IN = "the built-in session"
OWN_FOLDER = "patterns"
_PACKAGE = Path(__file__).resolve().parents[2]
_OTHER_MARKS = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)
_KEPT: ContextVar[dict[Path, str] | None] = ContextVar("_KEPT", default=None)
"""The texts of named files, inside `each_read_once`."""


def patterns_folder() -> Path:
    """Droner's own patterns: inside the installed package, else beside it in the repository."""
    installed = _PACKAGE / OWN_FOLDER
    return installed if installed.is_dir() else _PACKAGE.parent / OWN_FOLDER


def own_patterns_folder(session: Path) -> Path:
    """Where the player's own patterns lie: beside the session file."""
    return session.parent / OWN_FOLDER


def load_patterns(own_folder: Path | None = None) -> Patterns:
    """Droner's patterns, then the player's own. MistakesFound or MachineError."""
    ours = patterns_folder()
    files = [(path, f"{OWN_FOLDER}/{path.name}") for path in pattern_files(ours)]
    if own_folder is not None and real_path(own_folder) != real_path(ours):
        files += [(path, str(path)) for path in pattern_files(own_folder)]
    return read_patterns(_texts(files))


def load_session(path: Path | None, patterns: Patterns | None = None) -> Session:
    """The session in a file; the built-in one for None. MistakesFound or MachineError."""
    if path is None:
        built_in = patterns_folder() / "session" / "practice.toml"
        return read_session(file_text(built_in), BUILT_IN, patterns or load_patterns())
    return read_session(named_text(path), str(path), patterns or load_patterns(own_patterns_folder(path)))


def real_path(path: Path) -> Path:
    """Where a path leads, as far as it can be followed. Links in a circle are told when the file is opened."""
    return Path(os.path.realpath(path))


def pattern_files(folder: Path) -> list[Path]:
    """The pattern files of a folder, in the order of their names; none where there is no such folder."""
    try:
        found = sorted(folder.iterdir())
    except (FileNotFoundError, NotADirectoryError):
        return []
    except OSError as error:
        raise _refused(str(folder), error) from error
    return [path for path in found if path.suffix == ".toml" and not path.name.startswith(".")]


def _texts(files: list[tuple[Path, str]]) -> list[tuple[str, str]]:
    """The name and text of each file; the mistakes of all files that are no text, together."""
    texts: list[tuple[str, str]] = []
    mistakes: list[Mistake] = []
    for path, name in files:
        try:
            texts.append((name, file_text(path, name)))
        except MistakesFound as found:
            mistakes += found.mistakes
    if mistakes:
        raise MistakesFound(mistakes)
    return texts


@contextmanager
def each_read_once() -> Iterator[None]:
    """Inside the block a named file is read once, however often its text is asked for: a pipe gives it only once."""
    token = _KEPT.set({})
    try:
        yield
    finally:
        _KEPT.reset(token)


def named_text(path: Path) -> str:
    """The text of a file that the player named, which may be a pipe. Raises as `file_text` does."""
    kept = _KEPT.get()
    if kept is None:
        kept = {}
    if path not in kept:
        kept[path] = text_of(_bytes(path, str(path)), str(path))
    return kept[path]


def file_text(path: Path, shown_as: str = "", largest: int = LARGEST) -> str:
    """The text of a file. MistakesFound when it is none, MachineError when the machine will not give it."""
    name = shown_as or str(path)
    return text_of(_bytes(path, name, only_a_file=True, largest=largest), name, largest)


def file_bytes(path: Path, largest: int) -> bytes:
    """What a file holds, and a byte more than `largest` of one that is larger. Fails as `file_text` does."""
    return _bytes(path, str(path), only_a_file=True, largest=largest)


def _bytes(path: Path, name: str, *, only_a_file: bool = False, largest: int = LARGEST) -> bytes:
    try:
        if only_a_file and not _is_file_or_folder(path):
            raise _mistake(name, "this is a pipe or a device", allowed="a file")
        with path.open("rb") as opened:
            return opened.read(largest + 1)
    except (FileNotFoundError, NotADirectoryError, ValueError):
        raise _not_there(path, name) from None
    except IsADirectoryError:
        raise _mistake(name, "this is a folder", allowed="a file") from None
    except OSError as error:
        raise _refused(name, error) from error


def _is_file_or_folder(path: Path) -> bool:
    kind = path.stat().st_mode
    return stat.S_ISREG(kind) or stat.S_ISDIR(kind)


def text_of(data: bytes, name: str, largest: int = LARGEST) -> str:
    """The bytes of a file as text. MistakesFound, with the line, when they are no text in UTF-8."""
    if len(data) > largest:
        raise _mistake(name, "this file is too large", allowed=f"at most {largest:,} bytes")
    if data.startswith(_OTHER_MARKS):
        raise _mistake(name, "this file is saved as UTF-16", allowed="UTF-8: choose it when you save the file")
    data = data.removeprefix(codecs.BOM_UTF8)
    if b"\x00" in data:
        line = _line(data, data.index(b"\x00"))
        raise _mistake(name, "this is no text: it holds a zero byte", allowed="a text file in UTF-8", line=line)
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        line, found = _line(data, error.start), f"byte {data[error.start]:#04x}"
        allowed = "UTF-8: choose it when you save the file"
        raise _mistake(name, "this line is not saved as UTF-8", line=line, found=found, allowed=allowed) from None


def _line(data: bytes, offset: int) -> int:
    return data.count(b"\n", 0, offset) + 1


def _mistake(
    name: str, problem: str, *, line: int = 0, found: str = "", allowed: str = "", nearest: str = ""
) -> MistakesFound:
    return MistakesFound([Mistake(name, line, "", problem, found, allowed, nearest)])


def _not_there(path: Path, name: str) -> MistakesFound:
    if path.is_symlink():
        return _mistake(name, "this is a link to a file that is not there", found=str(path.readlink()))
    return _mistake(name, "there is no such file", nearest=_near(path))


def _refused(name: str, error: OSError) -> MachineError:
    why = "its links lead round in a circle" if error.errno == errno.ELOOP else error.strerror or error
    return MachineError(f"{name}: {why}")


def _near(path: Path) -> str:
    """A file in the same folder that could have been meant."""
    try:
        names = [each.name for each in path.parent.glob("*.toml") if each.is_file()]
    except (OSError, ValueError):
        return ""
    close = nearest(path.name, names)
    return str(path.with_name(close)) if close else ""
