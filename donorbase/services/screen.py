"""A screening from beginning to end: files of listings and a build in, a file of verdicts out."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

from donorbase.errors import BadInput
from donorbase.services.builds import build_text
from donorbase.services.grounds import judged_by
from donorbase.services.house import House
from donorbase.services.screen_files import Growing, ground_of, joined
from donorbase.services.screening import BLOCK, Block, Setup, blocks_of
from donorbase.services.sources import Source

WHOLE = (1, 1)
Work = Callable[[Setup, Iterable[Block]], Iterator[list[str]]]
Progress = Callable[[int], None]


@dataclass(frozen=True, slots=True)
class Screening:
    """What is to be screened: for which build, from where, whereto, which shard of it, how many rows a block."""

    house: House
    build: str
    sources: Sequence[Source]
    output: Path
    this_year: int
    shard: tuple[int, int] = WHOLE
    size: int = BLOCK

    def rows(self) -> int:
        """How many rows there are; BadInput where a file cannot be read at all."""
        return sum(len(block.rows) for block in self._blocks())

    def run(self, work: Work, progress: Progress) -> int:
        """Write the verdicts, going on where an earlier run was stopped; how many rows were done before.

        ``progress`` is told how many rows are done each time a block is written. The output is written over only
        when all is done.
        """
        toml = build_text(self.house, self.build)
        ground = ground_of(judged_by(self.house, self.this_year, toml), self.sources, self.shard, self.size)
        growing = Growing(self.output, ground, self.size)
        finished = growing.finished_blocks()
        if finished:
            progress(finished * self.size)
        setup = Setup(self.house.place, self.build, toml, self.this_year)
        left = islice(self._blocks(), finished, None)
        for count in growing.write(work(setup, left)):
            progress(count)
        return finished * self.size

    def _blocks(self) -> Iterator[Block]:
        return blocks_of(self.sources, self.shard, self.size)


def join(shards: Sequence[Path], output: Path, size: int = BLOCK) -> int:
    """Join the outputs of shards 1/n to n/n, in that order, to what one screening would have written; its rows."""
    missing = [str(path) for path in shards if not path.is_file()]
    if missing:
        raise BadInput(f"there is no file {missing[0]}", "Name the outputs of all shards, 1/n to n/n in their order.")
    return sum(Growing(output, "joining").write(joined(shards, size)))
