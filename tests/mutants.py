"""Spoil the bytes of a filled job in many ways: every one ends in a sentence, none without end.

    python -m tests.mutants 2000 18

(how many, and where the draws start; what was found so far is told every 500).
Most mutants change the file as it is stored, one in eight changes a part and stores it anew, so
that its checksum is right. Each runs in a process of its own with a limit on its time and
memory; a traceback, another exit status than 0, 1 and 2, or a changed file after a refusal is a
failure.
"""

from __future__ import annotations

import io
import os
import random
import resource
import sys
import tempfile
import traceback
import zipfile
from collections import Counter
from pathlib import Path

from twodrum.cli import main

CPU_SECONDS = 20
MEMORY = 2 << 30
PIECES = (b"<", b">", b'"', b"&", b"</c>", b"<c>", b"<row>", b"<!--", b"]]>", b"\x00", b"\xff")
NUMBERS = (b"-1", b"0", b"1e999", b"2000000000", b"99999999999999999999", b"NaN", b"x")


def stored(data: bytes, draw: random.Random) -> bytes:
    """The file with bytes changed, lost, doubled or swapped as it is stored."""
    spoiled = bytearray(data)
    for _ in range(draw.choice((1, 1, 3, 20))):
        at = draw.randrange(len(spoiled))
        # The list of parts stands at the end: half of the changes hit it.
        if draw.random() < 0.5:
            at = len(spoiled) - 1 - draw.randrange(min(len(spoiled), 4000))
        way = draw.randrange(4)
        if way == 0:
            spoiled[at] ^= 1 << draw.randrange(8)
        elif way == 1:
            del spoiled[at : at + draw.choice((1, 10, 1000))]
        elif way == 2:
            spoiled[at:at] = spoiled[at : at + draw.choice((1, 30, 300))]
        else:
            spoiled[at : at + 4] = draw.randbytes(4)
        if not spoiled:
            break
    return bytes(spoiled)


def repacked(data: bytes, draw: random.Random) -> bytes:
    """The file with one of its parts changed, and stored with the right checksum."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w") as new:
        entries = old.infolist()
        chosen = draw.choice(entries).filename
        for entry in entries:
            part = old.read(entry)
            if entry.filename == chosen:
                part = changed(part, draw)
            new.writestr(entry.filename, part, zipfile.ZIP_DEFLATED, 1)
    return out.getvalue()


def changed(part: bytes, draw: random.Random) -> bytes:
    at = draw.randrange(len(part) or 1)
    way = draw.randrange(5)
    if way == 0:
        return part[:at] + draw.choice(PIECES) + part[at:]
    if way == 1:
        return part[:at]
    if way == 2:
        return part[:at] + part[at + draw.choice((1, 5, 50, 500)) :]
    digits = [n for n in range(at, min(at + 400, len(part))) if part[n : n + 1].isdigit()]
    if way == 3 and digits:
        place = draw.choice(digits)
        return part[:place] + draw.choice(NUMBERS) + part[place + 1 :]
    other = draw.randrange(len(part) or 1)
    return part[:at] + part[other : other + 200] + part[at:]


def judged(data: bytes) -> str:
    """What became of one mutant, in a process of its own: "0", "1", "2" or what went wrong."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "job.xlsx"
        path.write_bytes(data)
        told = Path(folder) / "told"
        child = os.fork()
        if child == 0:
            resource.setrlimit(resource.RLIMIT_CPU, (CPU_SECONDS, CPU_SECONDS))
            resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
            status = 99
            try:
                with open(os.devnull, "w") as nothing:
                    sys.stdout = sys.stderr = nothing
                    status = main(["fill", str(path)])
            except BaseException:
                told.write_text(traceback.format_exc())
            os._exit(status)
        _, ended = os.waitpid(child, 0)
        if os.WIFSIGNALED(ended):
            return f"ended by signal {os.WTERMSIG(ended)}"
        status = os.WEXITSTATUS(ended)
        if status not in (0, 1, 2):
            return told.read_text() if told.exists() else f"status {status}"
        if status == 2 and path.read_bytes() != data:
            return "refused and changed"
        left = [file.name for file in Path(folder).iterdir() if file != path]
        return f"left {left}" if left else str(status)


def run(count: int, data: bytes, seed: int = 18, every: int = 8) -> Counter[str]:
    """What became of so many mutants; one in so many has a part changed."""
    draw = random.Random(seed)
    found: Counter[str] = Counter()
    for number in range(count):
        spoiled = (stored if number % every else repacked)(data, draw)
        found[judged(spoiled)] += 1
        if number % 500 == 499:
            print(number + 1, dict(found), flush=True)
    return found


if __name__ == "__main__":
    from twodrum.commands.demo import make_demo

    with tempfile.TemporaryDirectory() as made:
        make_demo(Path(made))
        book = (Path(made) / "job-metric.xlsx").read_bytes()
    print(run(int(sys.argv[1]), book, int(sys.argv[2]) if len(sys.argv) > 2 else 18))
