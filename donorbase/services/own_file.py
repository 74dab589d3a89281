"""A file that its owner alone may read, there whole or not at all."""

from pathlib import Path

from donorbase.errors import BadInput
from donorbase.store.private import make_private


def write_own(path: Path, text: str) -> None:
    """Write the text, in place of what was there; BadInput where it cannot be written, and nothing was changed."""
    part = path.with_name(f"{path.name}.part")
    try:
        if path.exists() and not path.is_file():  # a pipe or a terminal by its name
            path.write_text(text, "utf-8")
            return
        part.unlink(missing_ok=True)
        make_private(part)
        part.write_text(text, "utf-8")
        part.replace(path)
    except OSError as wrong:
        raise BadInput(f"{path} cannot be written: {wrong.strerror}", "Name another place for it.") from None
    finally:
        part.unlink(missing_ok=True)
