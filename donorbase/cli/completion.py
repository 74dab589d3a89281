"""``donorbase completion``."""

import sys

import click

INSTALL = {
    "bash": 'Put this line into ~/.bashrc: eval "$(donorbase completion bash)"',
    "zsh": 'Put this line into ~/.zshrc, after compinit: eval "$(donorbase completion zsh)"',
    "fish": "Type this once: donorbase completion fish > ~/.config/fish/completions/donorbase.fish",
}


@click.command(epilog='\b\nExample:\n    eval "$(donorbase completion bash)"')
@click.argument("shell", type=click.Choice(tuple(INSTALL)))
@click.pass_context
def completion(ctx: click.Context, shell: str) -> None:
    """Print the script by which a shell completes commands, options, builds, candidates, tags, keys and names.

    It proposes what your database holds at that moment; of a database on a server the shipped names alone.
    """
    from click.shell_completion import get_completion_class

    from donorbase.cli import shells
    from donorbase.cli.output import show_file, tell

    made = get_completion_class(shell)
    assert made is not None
    root = ctx.find_root().command
    show_file(made(root, {}, "donorbase", shells.VARIABLE).source())
    if sys.stdout.isatty():
        tell(INSTALL[shell], err=True)
