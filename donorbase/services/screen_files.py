"""The file that a screening writes: it grows by whole blocks, is gone on with after a stop, and stands when done."""

import os
from collections.abc import Iterable, Iterator, Sequence
from contextlib import ExitStack
from hashlib import sha256
from itertools import islice
from pathlib import Path
from typing import BinaryIO

from donorbase.errors import BadInput
from donorbase.services.screening import BLOCK
from donorbase.services.sources import Source
from donorbase.store.private import make_private


class Growing:
    """The lines written so far for one output: they stand in ``OUTPUT.<digest>.part`` until all are there.

    The digest is of all that they rest on, so that lines of another build, other words or other files are never
    taken for a beginning of these.
    """

    def __init__(self, output: Path, ground: str, size: int = BLOCK) -> None:
        self.output, self.size = output, size
        self.part = output.with_name(f"{output.name}.{ground}.part")

    def finished_blocks(self) -> int:
        """How many whole blocks stand there; what was half-written behind them is cut off."""
        if not self.part.exists():
            return 0
        with self.part.open("r+b") as file:
            blocks, end = _whole_blocks(file, self.size)
            file.truncate(end)
        return blocks

    def write(self, blocks: Iterable[Sequence[str]]) -> Iterator[int]:
        """Add the lines of each block, telling how many they were; the output stands when all are there."""
        try:
            make_private(self.part)
            with self.part.open("ab") as file:
                for lines in blocks:
                    file.write("".join(f"{line}\n" for line in lines).encode())
                    file.flush()
                    yield len(lines)
            os.replace(self.part, self.output)
        except OSError as wrong:
            what = f"{self.part} cannot be written: {wrong.strerror}"
            raise BadInput(what, "What stands there is kept: make room, then give the same command again.") from None


def _whole_blocks(file: BinaryIO, size: int) -> tuple[int, int]:
    blocks = end = 0
    while True:
        lines = list(islice(file, size))
        if len(lines) < size or not lines[-1].endswith(b"\n"):
            return blocks, end
        blocks, end = blocks + 1, end + sum(map(len, lines))


def ground_of(judged_by: str, sources: Sequence[Source], shard: tuple[int, int], size: int) -> str:
    """A digest of all that the lines rest on: what the verdicts rest on, and the files as they lie."""
    files = [(str(s.path.resolve()), s.form, sorted(s.columns.items()), *_as_it_lies(s.path)) for s in sources]
    told = (judged_by, files, shard, size)
    return sha256(repr(told).encode()).hexdigest()[:12]


def _as_it_lies(path: Path) -> tuple[int, int]:
    try:
        found = path.stat()
    except OSError as wrong:
        raise BadInput(f"{path} cannot be read: {wrong.strerror}", "Check the name.") from None
    return found.st_size, found.st_mtime_ns


def joined(shards: Sequence[Path], size: int = BLOCK) -> Iterator[list[str]]:
    """The lines of the outputs of shards 1/n to n/n, as one screening would have written them, block by block."""
    with ExitStack() as stack:
        files = [stack.enter_context(path.open(encoding="utf-8")) for path in shards]
        while lines := [line.rstrip("\n") for file in files for line in islice(file, size)]:
            yield lines
