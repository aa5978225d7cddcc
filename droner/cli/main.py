"""The command `droner`: find the command asked for, and say plainly what went wrong.

Rule    a command's module is imported only when that command runs; the list of commands is a table here, so that
        `--help` costs no more than click itself.
Exit    0 done, 1 a mistake in the player's files, 2 wrong usage, 3 a device or file the machine would not give,
        130 stopped by Ctrl-C.
"""

from __future__ import annotations

import sys
from importlib import import_module

import click

COMMANDS = {
    "new": "Write a starter session file, with a comment beside every line.",
    "check": "Read session and pattern files; report every mistake.",
    "today": "Show the day's plan: keys, variants, tempo, minutes, and why.",
    "render": "Make the day's tracks and MIDI files.",
    "rotation": "Show which keys and variants are played when, and the proof.",
    "beats": "Beats per second against a drone, degree by degree.",
    "drone": "A still drone, right now, to a file.",
    "click": "A click, right now, to a file.",
    "patterns": "List the drills, rhythms, clicks, chords and drones there are.",
    "instruments": "List the instruments, their ranges and transpositions.",
}
EXIT_MISTAKE, EXIT_MACHINE, EXIT_STOPPED = 1, 3, 130
EXAMPLES = """\b
Examples:
  droner today                         what to practise now
  droner render                        today's tracks as MP3, in a folder here
  droner render --as wav,mid --long    audio and MIDI, and one long file of the day
  droner new                           a session of your own: practice.toml
  droner beats D3                      how every note beats against a D
"""


class CommandTable(click.Group):
    """The commands of `COMMANDS`, each in `droner.cli.NAME_command`, imported when called."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 - click's signature
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = import_module(f"droner.cli.{cmd_name}_command").command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        name = args[0]
        if name not in COMMANDS and not name.startswith("-"):
            from droner.errors import nearest  # noqa: PLC0415 - costs nothing until a slip of the hand

            close = nearest(name, COMMANDS)
            hint = f" Did you mean {close}?" if close else f" There are: {', '.join(COMMANDS)}."
            raise click.UsageError(f"There is no command {name!r}.{hint}", ctx)
        return super().resolve_command(ctx, args)


@click.group(
    cls=CommandTable,
    help="The ground under your daily fundamentals: drones, chords and clicks for today's drills.",
    epilog=EXAMPLES,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(package_name="droner", message="%(prog)s %(version)s")
def cli() -> None:
    """Hold the commands together."""


def main() -> None:
    """Run the command line; every failure ends in one plain message and its exit code."""
    from droner.errors import MachineError, MistakesFound  # noqa: PLC0415 - after click, so that help stays cheap

    try:
        code = cli.main(standalone_mode=False)
    except click.Abort:
        _end("stopped", EXIT_STOPPED)
    except click.ClickException as wrong:
        wrong.show()
        sys.exit(wrong.exit_code)
    except MistakesFound as found:
        count = len(found.mistakes)
        _end(f"{found}\n\n{count} mistake{'s' if count != 1 else ''}; nothing was written", EXIT_MISTAKE)
    except MachineError as failed:
        _end(str(failed), EXIT_MACHINE)
    except KeyboardInterrupt:
        _end("stopped", EXIT_STOPPED)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(0)
    sys.exit(code if isinstance(code, int) else 0)


def _end(message: str, code: int) -> None:
    click.echo(message, err=True)
    sys.exit(code)
