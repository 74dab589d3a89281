"""Who works the blocks of a screening: this process, processes beside it, or a Dask cluster; always in order."""

import signal
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from typing import Any

from donorbase.errors import BadInput
from donorbase.services.screening import Block, Setup, judge_block

_AHEAD = 2
"""Blocks handed over for each worker before the first of them is back: none is idle, and memory stays flat."""

Worked = Iterator[list[str]]


def work_here(setup: Setup, blocks: Iterable[Block]) -> Worked:
    """Work the blocks in this process."""
    return (judge_block(setup, block) for block in blocks)


def work_beside(setup: Setup, blocks: Iterable[Block], workers: int) -> Worked:
    """Work the blocks in processes of their own on this machine."""
    # Spawned, so that no worker shares an open database with this process.
    pool = ProcessPoolExecutor(workers, get_context("spawn"), initializer=_deaf)
    try:
        yield from _in_order(lambda block: pool.submit(judge_block, setup, block), blocks, _AHEAD * workers)
    finally:
        pool.shutdown(cancel_futures=True)


def work_on_cluster(setup: Setup, blocks: Iterable[Block], address: str) -> Worked:
    """Work the blocks on the workers of a Dask scheduler; one that dies has its blocks worked by another."""
    try:
        from distributed import Client
    except ImportError:
        raise BadInput("Dask is not installed", "pip install 'donorbase[dask]'") from None
    try:
        client: Any = Client(address, timeout=10)  # type: ignore[no-untyped-call]
    except (OSError, ValueError) as wrong:
        raise BadInput(f"no Dask scheduler answers at {address} ({wrong})", "Name it as tcp://HOST:PORT.") from None
    with client:
        workers = max(1, len(client.scheduler_info()["workers"]))
        yield from _in_order(lambda block: client.submit(judge_block, setup, block), blocks, _AHEAD * workers)


def _in_order(submit: Callable[[Block], Any], blocks: Iterable[Block], ahead: int) -> Worked:
    waiting: deque[Any] = deque()
    for block in blocks:
        waiting.append(submit(block))
        if len(waiting) >= ahead:
            yield waiting.popleft().result()
    while waiting:
        yield waiting.popleft().result()


def _deaf() -> None:
    """A worker does not hear Ctrl-C: whoever gave it the work says when to stop."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
