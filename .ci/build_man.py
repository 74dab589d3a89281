"""Puts the manual page donorbase(1) into the wheel's share/man: hatchling calls this when it builds one."""

import sys
from pathlib import Path
from tempfile import mkdtemp
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class ManPage(BuildHookInterface):  # type: ignore[type-arg]
    """Makes the page of the help, so that it is never older than the program."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Write the page and say where it goes."""
        sys.path.insert(0, self.root)
        try:
            from donorbase.cli.main import cli
            from donorbase.cli.manual import manual

            page = Path(mkdtemp(), "donorbase.1")
            page.write_text(manual(cli), "utf-8")
        finally:
            sys.path.remove(self.root)
        build_data["shared_data"][str(page)] = "share/man/man1/donorbase.1"
