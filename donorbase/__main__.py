"""``python -m donorbase``."""

from donorbase.cli.main import run

run()
