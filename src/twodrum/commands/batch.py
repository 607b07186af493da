"""Many workbooks, several at once: each in its order, and none lost with a process that dies."""

from __future__ import annotations

import os
import signal
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from concurrent.futures import Future, ProcessPoolExecutor

Result = TypeVar("Result")
Work = Callable[[Path], Result]
# For fewer workbooks another process takes longer to start than it saves.
FEW = 4
# So many workbooks for each process wait in line, so that few results wait for an earlier one.
IN_LINE = 4


def processes(asked: int, files: int) -> int:
    """How many processes to work in: as asked, or as many as there are cores."""
    usual = 1 if files < FEW else os.cpu_count() or 1
    return max(1, min(asked or usual, files))


def each(
    work: Work[Result],
    files: Sequence[Path],
    jobs: int,
    died: Work[Result],
    cluster: str = "",
) -> Iterator[Result]:
    """What became of each workbook, in the order of the files.

    With a ``cluster``, the address of a scheduler, others do the work; else it is done here.

    With more than one job ``work`` is a function of a module, run in processes of their own.
    Where one dies, what it may have had in hand is done again, each workbook by itself; what
    became of one that takes its process with it again, ``died`` says.
    """
    if cluster:
        from .cluster import each_on

        yield from each_on(cluster, work, files, died)
        return
    if jobs < 2:
        yield from map(work, files)
        return
    # What several processes need takes longer to import than a job to fill.
    from concurrent.futures.process import BrokenProcessPool

    waiting = deque(files)
    while waiting:
        in_hand: deque[tuple[Path, Future[Result]]] = deque()
        with _pool(jobs) as pool:
            try:
                while waiting or in_hand:
                    while waiting and len(in_hand) < IN_LINE * jobs:
                        in_hand.append((waiting[0], pool.submit(work, waiting[0])))
                        waiting.popleft()
                    result = in_hand[0][1].result()
                    in_hand.popleft()
                    yield result
            except BrokenProcessPool:
                pass
            except BaseException:
                # Whoever stops it waits for what is in work, and for nothing in line.
                pool.shutdown(cancel_futures=True)
                raise
        for file, future in in_hand:
            if future.done() and not future.cancelled() and future.exception() is None:
                yield future.result()
            else:
                yield _alone(work, file, died)


def _alone(work: Work[Result], file: Path, died: Work[Result]) -> Result:
    """One workbook in a process that it can only take itself along with."""
    from concurrent.futures.process import BrokenProcessPool

    with _pool(1) as pool:
        try:
            return pool.submit(work, file).result()
        except BrokenProcessPool:
            return died(file)


def _pool(jobs: int) -> ProcessPoolExecutor:
    import multiprocessing
    from concurrent.futures import ProcessPoolExecutor

    # A process that is started anew holds no lock and no thread of this one.
    return ProcessPoolExecutor(jobs, multiprocessing.get_context("spawn"), _left_to_the_first)


def _left_to_the_first() -> None:
    """Only the process that was started by a person is stopped by one."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
