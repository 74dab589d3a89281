"""``donorbase yard``."""

import click


@click.group()
def yard() -> None:
    """Keep yards' lists, and walk the rows that hold what a build needs."""
