"""Many workbooks on the machines of a Dask scheduler: the same work, on files that all see.

A worker that is lost takes no book with it: the scheduler hands its books to another one. A book
that ends its worker again and again is named. Whatever stops, each book is the old or the new one.
"""

from __future__ import annotations

import os
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path
from typing import Any, TypeVar

from .. import __version__
from ..xlsx.files import freed_from, own_prefix
from ..xlsx.package import PackageError

Result = TypeVar("Result")
Work = Callable[[Path], Result]
# So many workbooks for each thread of a worker wait in line.
IN_LINE = 4
# Seconds to wait for the scheduler.
PATIENCE = 20
INSTALL = "pip install 'twodrum[cluster]' brings it, here and on each machine that works"


def each_on(
    address: str, work: Work[Result], files: Sequence[Path], died: Work[Result]
) -> Iterator[Result]:
    """What became of each workbook, in the order of the files, worked on by others.

    ``address`` is that of a scheduler, such as ``tcp://10.0.0.5:8786``, or the file that it wrote.
    ``work`` is a function of a module; files are named by their whole path, the same everywhere.
    PackageError says why it can't begin, or that the scheduler was lost on the way.
    """
    whole = [Path(os.path.abspath(file)) for file in files]
    with _client(address) as client:
        owners = _ready(client, address, whole[:1])
        threads = sum(client.nthreads().values())
        waiting, in_hand = deque(whole), deque[tuple[Path, Any]]()
        while waiting or in_hand:
            while waiting and len(in_hand) < IN_LINE * threads:
                file = waiting.popleft()
                in_hand.append((file, _submitted(client, work, file)))
            file, future = in_hand.popleft()
            found = _result(address, future)
            freed = freed_from(file, _gone(client, owners))
            # It ended workers, or stood in line with one that did; or it bore the mark of one.
            if found is None or freed:
                found = _result(address, _submitted(client, work, file))
            yield died(file) if found is None else found


def _client(address: str) -> Any:
    if find_spec("distributed") is None:
        raise PackageError(f"--cluster needs the package distributed; {INSTALL}")
    distributed = import_module("distributed")
    try:
        if os.path.isfile(address):
            return distributed.Client(scheduler_file=address, timeout=PATIENCE)
        return distributed.Client(address, timeout=PATIENCE)
    except (OSError, ValueError, TimeoutError) as error:
        why = str(error).split("\n", 1)[0] or type(error).__name__
        raise PackageError(
            f"no scheduler answers at {address} ({why}); start one with dask scheduler, "
            "and name the address that it says"
        ) from None


def _ready(client: Any, address: str, files: Sequence[Path]) -> dict[str, str]:
    """What each worker marks its files with, by its address; PackageError where one can't work."""
    told = client.run(_here, list(map(str, files)), on_error="return")
    if not told:
        raise PackageError(f"the scheduler at {address} has no workers; start some: dask worker")
    for worker, said in told.items():
        if isinstance(said, BaseException):
            raise PackageError(f"the worker {worker} has no twodrum ({said}); {INSTALL}")
        version, _, missing = said
        if version != __version__:
            raise PackageError(
                f"the worker {worker} has twodrum {version}, and this is {__version__}; "
                "install the same on all machines"
            )
        if missing:
            raise PackageError(
                f"the worker {worker} does not see {missing}; all machines need the same folder "
                "under the same name"
            )
    return {worker: said[1] for worker, said in told.items()}


def _here(files: list[str]) -> tuple[str, str, str]:
    """Of a worker: its version, its prefix, the first file that it does not see."""
    missing = next((file for file in files if not os.path.exists(file)), "")
    return __version__, own_prefix(), missing


def _submitted(client: Any, work: Work[Result], file: Path) -> Any:
    # The same file is worked on again when it is asked for again.
    return client.submit(work, file, pure=False)


def _result(address: str, future: Any) -> Any:
    """What a worker found; None where it, and some after it, ended over it."""
    distributed = import_module("distributed")
    try:
        return future.result()
    except distributed.KilledWorker:
        return None
    except (distributed.CancelledError, OSError, TimeoutError):
        raise PackageError(
            f"the scheduler at {address} was lost; what was done is done, and is known when "
            "the same is asked for again"
        ) from None
    finally:
        future.release()


def _gone(client: Any, owners: dict[str, str]) -> frozenset[str]:
    """What workers that were lost marked their files with."""
    there = client.nthreads()
    return frozenset(prefix for worker, prefix in owners.items() if worker not in there)
