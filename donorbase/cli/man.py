"""``donorbase man``."""

import click


@click.command(epilog="\b\nExamples:\n    donorbase man | man -l -\n    donorbase man part split")
@click.argument("command", nargs=-1)
@click.pass_context
def man(ctx: click.Context, command: tuple[str, ...]) -> None:
    """Print the manual page, of all or of one COMMAND, for man, groff or mandoc.

    An installed donorbase has the whole of it in share/man, where `man donorbase` finds it.
    """
    from donorbase.cli.manual import manual
    from donorbase.cli.output import show_file

    show_file(manual(ctx.find_root().command, command))
