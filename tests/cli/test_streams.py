"""Data go to stdout, messages to stderr; a pipe that closes, a full device and a terminal are met as they come.

Referee  the operating system's pipes, devices and pseudo-terminals; a small terminal written here by ECMA-48
         (carriage return, and CSI 2 K: erase the line).
"""

from __future__ import annotations

import fcntl
import os
import pty
import re
import struct
import subprocess
import termios
from pathlib import Path

import pytest

from tests.cli.programs import DRONER, droner_in, surroundings

COLUMNS = 40
NARROWEST, WIDEST = 60, 100
FITTED = {"instruments": 93, "beats": 87}
"""Columns of tables that cannot be broken: they fit a terminal of 100."""
ERASE_LINE = "\x1b[2K"
WITH_MESSAGES = (("today",), ("rotation",), ("render", "--as", "mid", "--out", "day"), ("new",), ("check",))
WITHOUT = (("beats", "D3"), ("drone", "D3", "--seconds", "1"), ("click", "4/4"), ("patterns",), ("instruments",))


@pytest.mark.parametrize("arguments", WITH_MESSAGES)
def test_messages_stand_on_stderr_and_quiet_leaves_them_out(tmp_path: Path, arguments: tuple[str, ...]) -> None:
    assert droner_in(tmp_path, *arguments).err
    (tmp_path / "practice.toml").unlink(missing_ok=True)
    quiet = droner_in(tmp_path, *arguments, "--quiet")
    assert (quiet.code, quiet.err) == (0, "")
    assert quiet.out


@pytest.mark.parametrize("arguments", WITHOUT)
def test_without_messages_stderr_is_silent_anyhow(tmp_path: Path, arguments: tuple[str, ...]) -> None:
    for more in ((), ("--quiet",), ("-q", "--json")):
        ran = droner_in(tmp_path, *arguments, *more)
        assert (ran.code, ran.err) == (0, "")
        assert ran.out


def shell(folder: Path, line: str) -> subprocess.CompletedProcess[str]:
    """A line of bash, in which droner stands for the program; its code is the first failure of a pipe."""
    program = " ".join(f"'{part}'" for part in DRONER)
    whole = f'set -o pipefail; droner() {{ {program} "$@"; }}; {line}'
    return subprocess.run(
        ["bash", "-c", whole], cwd=folder, env=surroundings(), capture_output=True, text=True, check=False
    )


@pytest.mark.parametrize("asked", ["today --quiet", "patterns", "rotation --days 3000 --quiet", "--help"])
def test_a_reader_who_has_seen_enough_is_no_failure(tmp_path: Path, asked: str) -> None:
    for reader in ("head -1", "true"):
        ran = shell(tmp_path, f"droner {asked} | {reader}")
        assert (ran.returncode, ran.stderr) == (0, "")


def test_nobody_reading_the_progress_stops_no_work(room: Path) -> None:
    ran = shell(room, "droner render --as mid --out day 2> >(true)")
    assert ran.returncode == 0
    assert len(list((room / "day").iterdir())) == 2


@pytest.mark.parametrize("asked", ["today --quiet", "--help", "--version", "check --schema -q", "new"])
def test_a_full_device_is_said(tmp_path: Path, asked: str) -> None:
    ran = shell(tmp_path, f"droner {asked} > /dev/full")
    assert ran.returncode == 3
    assert "no space left on device" in ran.stderr
    assert "Traceback" not in ran.stderr
    assert "Exception ignored" not in ran.stderr


@pytest.mark.parametrize("closed", [">&-", "2>&-", ">&- 2>&-", "<&-"])
def test_closed_streams_change_nothing(room: Path, closed: str) -> None:
    ran = shell(room, f"droner render --as mid --out day {closed}")
    assert (ran.returncode, ran.stderr.count("Traceback")) == (0, 0)
    assert len(list((room / "day").iterdir())) == 2


def on_a_terminal(folder: Path, *arguments: str, columns: int = COLUMNS, kind: str = "xterm") -> tuple[int, str, str]:
    """The exit code, stdout, and all that came to a terminal on stderr."""
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, columns, 0, 0))
    with subprocess.Popen(
        [*DRONER, *arguments],
        cwd=folder,
        env=surroundings(TERM=kind),
        stdout=subprocess.PIPE,
        stderr=theirs,
        stdin=subprocess.DEVNULL,
    ) as running:
        os.close(theirs)
        seen = b""
        try:
            while chunk := os.read(ours, 4096):
                seen += chunk
        except OSError:  # Linux tells so that the other end has closed
            pass
        os.close(ours)
        assert running.stdout is not None
        out = running.stdout.read().decode()
    return running.returncode, out, seen.decode()


def screen_after(written: str) -> list[str]:
    """What a terminal shows: lines that are not empty."""
    lines = [""]
    for sign in re.split(r"(\r\n|\r|\n|\x1b\[2K)", written):
        if sign in ("\r\n", "\n"):
            lines.append("")
        elif sign == ERASE_LINE:
            lines[-1] = ""
        elif sign != "\r":
            lines[-1] += sign
    return [line for line in lines if line]


def test_progress_rewrites_one_line_and_leaves_it_clean(room: Path) -> None:
    code, out, seen = on_a_terminal(room, "render", "--as", "wav,flac", "--out", "day")
    drawn = [part for part in re.split(r"\r\x1b\[2K", seen) if part]
    assert code == 0
    assert len(out.splitlines()) == 4
    assert len(drawn) >= 4
    assert all(re.match(r" {0,2}\d+ %  \d of 4 files", part) for part in drawn)
    assert max(map(len, drawn)) < COLUMNS
    assert "\n" not in seen
    assert screen_after(seen) == []


def test_progress_of_one_file_speaks_of_no_files(tmp_path: Path) -> None:
    _, _, seen = on_a_terminal(tmp_path, "drone", "D3", "--seconds", "300", "--out", "d.wav")
    assert "d.wav" in seen
    assert "files" not in seen
    assert screen_after(seen) == []


def test_quiet_draws_nothing_on_a_terminal(room: Path) -> None:
    assert on_a_terminal(room, "render", "--as", "wav", "--quiet", "--out", "day")[2] == ""


def test_a_terminal_that_cannot_rewrite_gets_a_line_a_file(room: Path) -> None:
    _, _, seen = on_a_terminal(room, "render", "--as", "mid", "--out", "day", kind="dumb")
    assert [line[-6:] for line in screen_after(seen)] == ["1 of 2", "2 of 2"]
    assert "\x1b" not in seen


@pytest.mark.parametrize("wide", [60, 80, 100, 200])
@pytest.mark.parametrize("asked", [("today",), ("rotation",), ("patterns",), ("instruments",), ("beats", "D3")])
def test_pages_keep_to_the_width_of_the_terminal(tmp_path: Path, asked: tuple[str, ...], wide: int) -> None:
    page = droner_in(tmp_path, *asked, "--quiet", environment={"COLUMNS": str(wide)})
    allowed = max(FITTED.get(asked[0], NARROWEST), min(wide, WIDEST))
    assert max(map(len, page.lines)) <= allowed
