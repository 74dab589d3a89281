"""A click group that loads a command only when it is run, so that ``--help`` costs no more than click itself."""

from collections.abc import Mapping
from importlib import import_module
from typing import Any

import click
from click.shell_completion import CompletionItem

CONTACTS = "donorbase.contacts"
"""Where the context of a command says whether contacts are left in what it writes for others."""


class LazyGroup(click.Group):
    """Knows its commands as ``{name: ("module:function", "one line of help")}``.

    Help and completion are made from those lines; click would load every command to read its help.
    """

    def __init__(self, *args: Any, lazy: Mapping[str, tuple[str, str]], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.lazy = lazy

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names in the order in which the job goes."""
        return list(self.lazy)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Load one command."""
        if cmd_name not in self.lazy:
            return None
        module, _, function = self.lazy[cmd_name][0].partition(":")
        command: click.Command = getattr(import_module(module), function)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The list of commands, loading none."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, line) for name, (_, line) in self.lazy.items()])

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """As click does, but name the near commands on a slip, which click looks for among loaded ones only."""
        if not ctx.resilient_parsing and args and not args[0].startswith("-") and args[0] not in self.lazy:
            from difflib import get_close_matches

            near = get_close_matches(args[0], self.lazy, n=3, cutoff=0.5)
            hint = f" Did you mean {' or '.join(near)}?" if near else ""
            ctx.fail(f"No such command {args[0]!r}.{hint}")
        return super().resolve_command(ctx, args)

    def shell_complete(self, ctx: click.Context, incomplete: str) -> list[CompletionItem]:
        """Completion from the lines of help; click would load every command."""
        names = [CompletionItem(n, help=line) for n, (_, line) in self.lazy.items() if n.startswith(incomplete)]
        return names + click.Command.shell_complete(self, ctx, incomplete)
