"""The manual page donorbase(1), made from the help of the commands in the macros of man(7); click is all it needs."""

import re
from collections.abc import Iterator

import click

from donorbase import __version__

_ENVIRONMENT = (
    ("DONORBASE_DB", "The database to use instead of the one in your data folder: a file, or the URL of a server."),
    ("DONORBASE_WHO", "The name that stands beside changes; your login's name where it is not set."),
    ("NO_COLOR", "Set to anything: no colours. Where the output is no terminal there are none anyway."),
    ("COLUMNS", "How wide lines may be; where it is not set, as wide as the terminal, at most 110."),
    ("VISUAL, EDITOR", "The editor of donorbase build edit."),
)


def manual(root: click.Command, path: tuple[str, ...] = ()) -> str:
    """The page of a command and all below it; ``path`` are the names that lead to it."""
    ctx = _context(root, path)
    title = "-".join(("donorbase", *path))
    lines = [f'.TH "{_plain(title.upper())}" 1 "" "donorbase {__version__}" "donorbase"', ".SH NAME"]
    lines += [f"{_plain(title)} \\- {_plain(_first_line(ctx.command))}", ".SH SYNOPSIS", *_usage(ctx)]
    lines += [".SH DESCRIPTION", *_prose(ctx.command.help or ""), *_options(ctx, ".SH OPTIONS")]
    below = list(_below(ctx))
    if below:
        lines += [".SH COMMANDS", *(line for inner in below for line in _section(inner))]
    lines += _epilog(ctx.command, ".SH EXAMPLES")
    lines += [".SH ENVIRONMENT", *(line for name, about in _ENVIRONMENT for line in _item(name, about))]
    # A heading begins a paragraph by itself.
    told = [line for before, line in zip(["", *lines], lines, strict=False) if line and not _idle(before, line)]
    return "\n".join(told) + "\n"


def _idle(before: str, line: str) -> bool:
    return line == ".PP" and before.startswith(".SH")


def _context(root: click.Command, path: tuple[str, ...]) -> click.Context:
    ctx = click.Context(root, info_name="donorbase", resilient_parsing=True)
    for name in path:
        group = ctx.command
        inner = group.get_command(ctx, name) if isinstance(group, click.Group) else None
        if inner is None:
            raise click.UsageError(f"There is no command donorbase {' '.join(path)}: donorbase --help lists them.")
        ctx = click.Context(inner, info_name=name, parent=ctx, resilient_parsing=True)
    return ctx


def _below(ctx: click.Context) -> Iterator[click.Context]:
    """The commands in a group, and those in the groups in it."""
    if not isinstance(ctx.command, click.Group):
        return
    for name in ctx.command.list_commands(ctx):
        inner = ctx.command.get_command(ctx, name)
        if inner is not None:
            made = click.Context(inner, info_name=name, parent=ctx, resilient_parsing=True)
            yield made
            yield from _below(made)


def _section(ctx: click.Context) -> list[str]:
    lines = [f'.SS "{_plain(ctx.command_path)}"', *_usage(ctx), *_prose(ctx.command.help or "")]
    return [*lines, *_options(ctx), *_epilog(ctx.command)]


def _usage(ctx: click.Context) -> list[str]:
    pieces = " ".join(ctx.command.collect_usage_pieces(ctx))
    return [f".B {_plain(ctx.command_path)}", _plain(pieces)]


def _options(ctx: click.Context, title: str = "") -> list[str]:
    options = (param for param in ctx.command.get_params(ctx) if isinstance(param, click.Option))
    records = [record for param in options if (record := param.get_help_record(ctx))]
    listed = [line for names, about in records for line in _item(names, about)]
    return [title, *listed] if listed else []


def _item(names: str, about: str) -> list[str]:
    return [".TP", f".B {_plain(names)}", _plain(" ".join(about.split()))]


def _epilog(command: click.Command, title: str = "") -> list[str]:
    told = _prose(command.epilog or "")
    return [title, *told] if told else []


def _prose(text: str) -> list[str]:
    r"""Paragraphs; one that begins with ``\b`` keeps its lines."""
    lines = []
    for paragraph in filter(None, (part.strip("\n ") for part in re.split(r"\n\s*\n", text))):
        if paragraph.startswith("\b"):
            kept = paragraph.removeprefix("\b").strip("\n").splitlines()
            lines += [".PP", ".nf", *(_plain(line) for line in kept), ".fi"]
        else:
            lines += [".PP", _plain(" ".join(paragraph.split()))]
    return lines


def _first_line(command: click.Command) -> str:
    return (command.help or "").strip().partition("\n")[0].rstrip(".")


def _plain(text: str) -> str:
    r"""Words as troff prints them: a hyphen that can be copied, no escapes, no request at the beginning of a line.

    >>> _plain("--all of .5in")
    '\\-\\-all of .5in'
    """
    told = text.replace("\\", "\\e").replace("-", "\\-").replace('"', "\\(dq")
    return f"\\&{told}" if told[:1] in (".", "'") else told
