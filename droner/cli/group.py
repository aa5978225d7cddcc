"""Find the command asked for, help with slips of the hand, and complete words for the shell.

Rule    a command's module is imported only when that command runs; help and completion read the table of commands, so
        that they cost no more than click itself.
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

import click

from droner import __version__
from droner.cli.command_table import COMMANDS
from droner.cli.screen import plain_endings, show

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

    def make_context(self, *args: Any, **options: Any) -> click.Context:
        with plain_endings():
            return super().make_context(*args, **options)

    def invoke(self, ctx: click.Context) -> Any:
        with plain_endings():
            return super().invoke(ctx)

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
        if name not in COMMANDS and not name.startswith("-") and not ctx.resilient_parsing:
            from droner.errors import nearest  # noqa: PLC0415 - costs nothing until a slip of the hand

            close = nearest(name, COMMANDS)
            hint = f"Did you mean {close}?" if close else f"There are: {', '.join(COMMANDS)}."
            raise click.UsageError(f"There is no command {name!r}. {hint}", ctx)
        return super().resolve_command(ctx, args)

    def shell_complete(self, ctx: click.Context, incomplete: str) -> list[Any]:
        from click.shell_completion import CompletionItem  # noqa: PLC0415 - only when a shell asks

        named = [CompletionItem(name, help=about) for name, about in COMMANDS.items() if name.startswith(incomplete)]
        return [*named, *click.Command.shell_complete(self, ctx, incomplete)]


@click.group(
    cls=CommandTable,
    help="The ground under your daily fundamentals: drones, chords and clicks for today's drills.",
    epilog=EXAMPLES,
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(__version__, message="%(prog)s %(version)s")
@click.pass_context
def cli(ctx: click.Context) -> None:
    """Hold the commands together; alone, show the help."""
    if ctx.invoked_subcommand is None:
        show(ctx.get_help())
