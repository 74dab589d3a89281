"""The last report of each long run, kept by date in `reports/`."""

import os
import platform
import sqlite3
from datetime import date
from pathlib import Path

FOLDER = Path(__file__).with_name("reports")


def keep_report(name: str, lines: list[str]) -> Path:
    """Write and print a report, in place of the last one of that name."""
    on = f"Python {platform.python_version()}, SQLite {sqlite3.sqlite_version}, {os.cpu_count()} processors"
    head = [f"{date.today()}, {on}", ""]
    path = FOLDER / f"{name}.txt"
    FOLDER.mkdir(exist_ok=True)
    path.write_text("\n".join([*head, *lines, ""]), "utf-8")
    print(path.read_text("utf-8"))
    return path
