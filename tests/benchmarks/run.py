"""How fast it is, as ratios: medians of runs in turn, on this machine; nothing is asserted.

    python tests/benchmarks/run.py [--books 40]
    python tests/benchmarks/run.py --growth

Each line divides two times that were measured in turn, so that whatever else the machine does
falls on both. Seconds are of the processor, but for whole commands.
"""

import argparse
import gc
import os
import platform
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import openpyxl

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "src"), str(ROOT)]

from tests.workbook.typing import address, small_job, typed  # noqa: E402

from twodrum.books.parts import PARTS, QUOTE  # noqa: E402
from twodrum.cli import FEW_LOOKS  # noqa: E402
from twodrum.commands.batch import each  # noqa: E402
from twodrum.commands.demo import make_demo  # noqa: E402
from twodrum.commands.fill import fill_file  # noqa: E402
from twodrum.commands.month import roll_up  # noqa: E402
from twodrum.commands.one_of_many import Task, died  # noqa: E402
from twodrum.xlsx.book import Book  # noqa: E402
from twodrum.xlsx.write import Write, write_cells  # noqa: E402

TURNS = 7
# How often Python looks for garbage when nobody says otherwise.
COLLECTING = gc.get_threshold()
Run = Callable[[], object]


def timed(run: Run, clock: Callable[[], float]) -> float:
    began = clock()
    run()
    return clock() - began


def ratio(one: Run, other: Run, clock: Callable[[], float] = time.process_time) -> str:
    """Median time of one over that of the other, run in turn, and both."""
    pairs = [(timed(one, clock), timed(other, clock)) for _ in range(TURNS)]
    first, second = (statistics.median(times) for times in zip(*pairs))
    return f"{first / second:.2f} ({first:.3f} s / {second:.3f} s)"


def edited(path: Path) -> Path:
    """A filled book with another film typed since."""
    book = Book.open(path)
    area = book.area("film_thickness")
    assert area is not None
    number = book.cell(*area.first).value
    assert isinstance(number, float)
    write_cells(book, {area.first: Write(number * 1.01)})
    path.with_stem("edited").write_bytes(book.package.to_bytes())
    return path.with_stem("edited")


def after_one_edit(source: Path, place: Path) -> Run:
    target = place / "target.xlsx"

    def run() -> None:
        shutil.copy(source, target)
        fill_file(target)

    return run


def load_and_save(path: Path, place: Path) -> Run:
    def run() -> None:
        # Each with the collection of garbage that it runs with: this one with that of Python.
        gc.set_threshold(*COLLECTING)
        openpyxl.load_workbook(path).save(place / "saved.xlsx")
        gc.set_threshold(FEW_LOOKS)

    return run


def command(*arguments: str) -> Run:
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    return lambda: subprocess.run(
        [sys.executable, *arguments], capture_output=True, check=False, env=environment
    )


def batch(sources: list[Path], place: Path, jobs: int) -> float:
    files = [Path(shutil.copy(source, place / f"{jobs}-{source.name}")) for source in sources]
    return timed(lambda: list(each(Task("fill"), files, jobs, died)), time.perf_counter)


# What stands in each row of a table, by its place.
GROWING: dict[str, Callable[[int], dict[str, object]]] = {
    "areas": lambda n: {"surface": f"S{n}", "shape": "rectangle", "length": 2, "width": 3},
    "readings": lambda n: {
        "time": 0.3 + (n % 200) / 1440,
        "date": 46349 + n // 200 if n % 200 == 0 else None,
        "phase": "spraying",
        "iso_pressure": 160,
        "resin_pressure": 140,
        "iso_left": 200 - n % 200,
        "resin_left": 200 - n % 200,
        **({"event": "drum change both"} if n % 200 == 0 and n else {}),
    },
    "film": lambda n: {"film_surface": f"S{n % 10}", "reading_1": 2.2 + n % 7 / 50},
    "drums": lambda n: {"holds": ("iso", "resin")[n % 2], "drum_number": f"D{n}", "batch": "7"},
}
SIZES = (10, 100, 1000)


def growth() -> list[tuple[str, str]]:
    """Seconds of a fill after an edit and size of the file, by rows of each table."""
    found = []
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        small = small_job(place / "small.xlsx", PARTS)
        for table, row_of in GROWING.items():
            told = []
            for size in SIZES:
                book = Book.open(small)
                cells = {}
                for n in range(max(size, 10)):
                    rows = [(table, row_of(n))] if n < size else []
                    rows += [("areas", GROWING["areas"](n))] if n < 10 and table == "film" else []
                    for name, row in rows:
                        for column, value in row.items():
                            cells[address(book, f"{name}.{column}", n)] = value
                path = typed(cells, place / "grown.xlsx", source=small)
                fill_file(path)
                again = edited(path)
                times = [timed(after_one_edit(again, place), time.process_time) for _ in range(3)]
                told.append(f"{statistics.median(times):.2f} s, {path.stat().st_size // 1000} KB")
            found.append((table, " | ".join(told)))
    return found


def stored(path: Path, fill: Run, place: Path) -> str:
    """Time that LibreOffice takes for one book more, over that of a fill, by the clock."""
    folder = place / "stored"
    folder.mkdir()
    books = [Path(shutil.copy(path, folder / f"{n}.xlsx")) for n in range(4)]

    def convert(count: int) -> Run:
        soffice = ("soffice", "--headless", "--convert-to", "xlsx:Calc MS Excel 2007 XML")
        command = [*soffice, "--outdir", str(folder / "out"), *map(str, books[:count])]
        return lambda: subprocess.run(command, capture_output=True, check=True)

    clock = time.perf_counter
    times = [
        (timed(convert(4), clock), timed(convert(1), clock), timed(fill, clock)) for _ in range(3)
    ]
    four, one, filling = (statistics.median(column) for column in zip(*times))
    each_one = (four - one) / 3
    return f"{each_one / filling:.2f} ({each_one:.3f} s / {filling:.3f} s)"


def months(source: Path, place: Path, count: int) -> str:
    """A month after one more job over the first one, by the clock."""
    folder = place / "month"
    folder.mkdir()
    for number in range(count):
        # No two files are the same.
        book = Book.open(source)
        area = book.area("job_title")
        assert area is not None
        write_cells(book, {area.first: Write(f"Job {number}")})
        (folder / f"{number:04}.xlsx").write_bytes(book.package.to_bytes())
    last = folder / f"{count - 1:04}.xlsx"
    last.rename(place / "one more")
    target = folder / "month.xlsx"
    first = timed(lambda: roll_up(folder, target), time.perf_counter)
    (place / "one more").rename(last)
    again = timed(lambda: roll_up(folder, target), time.perf_counter)
    return f"{again / first:.2f} ({again:.1f} s / {first:.1f} s)"


def main() -> None:
    """Measure and print a table."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("--books", type=int, default=40, help="workbooks of a batch: 40")
    parser.add_argument("--growth", action="store_true", help="by rows of each table instead")
    options = parser.parse_args()
    if options.growth:
        print(f"| table | {' | '.join(f'{size:,} rows' for size in SIZES)} |")
        print("|---|" + "---|" * len(SIZES))
        for what, text in growth():
            print(f"| {what} | {text} |")
        return
    books = options.books
    gc.set_threshold(FEW_LOOKS)
    rows: list[tuple[str, str]] = []
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        make_demo(place / "demo")
        whole = edited(place / "demo" / "job-metric.xlsx")
        quote = place / "quote.xlsx"
        small_job(quote, (QUOTE,), filled=True)
        small_job(place / "small.xlsx", PARTS, filled=True)
        fill, same = after_one_edit(whole, place), place / "same.xlsx"
        shutil.copy(whole, same)
        fill_file(same)
        rows.append(("openpyxl load and save / fill", ratio(load_and_save(whole, place), fill)))
        if shutil.which("soffice"):
            saved = place / "libreoffice"
            soffice = ("soffice", "--headless", "--convert-to", "xlsx", "--outdir", str(saved))
            subprocess.run([*soffice, str(whole)], capture_output=True, check=True)
            by_office = saved / whole.name
            again = after_one_edit(by_office, place)
            text = ratio(load_and_save(by_office, place), again)
            rows.append(("the same, saved by LibreOffice", text))
            rows.append(("LibreOffice load, recalculate, store / fill", stored(whole, fill, place)))
        task = Task("fill")
        rows.append(("fill of an unchanged book / after an edit", ratio(lambda: task(same), fill)))
        edit = edited(quote)
        shutil.copy(edit, place / "a quote.xlsx")
        of_quote = after_one_edit(place / "a quote.xlsx", place)
        of_job = after_one_edit(edited(place / "small.xlsx"), place)
        rows.append(("fill of a quote / of a whole job of the same", ratio(of_quote, of_job)))
        bare = command("-c", "pass")
        clock = time.perf_counter
        helped = ratio(command("-m", "twodrum", "--help"), bare, clock)
        rows.append(("--help / python -c pass", helped))
        unchanged = ratio(command("-m", "twodrum", "fill", str(same)), bare, clock)
        rows.append(("fill of an unchanged book, whole process / python -c pass", unchanged))
        target = place / "one.xlsx"

        def alone(source: Path) -> Run:
            fresh = command("-m", "twodrum", "fill", str(target))
            return lambda: (shutil.copy(source, target), fresh())

        priced = place / "a quote.xlsx"
        for what, source in (("one book", whole), ("one quote", priced)):
            told = f"fill of {what}, whole process / python -c pass"
            rows.append((told, ratio(alone(source), bare, clock)))
        sources = [Path(shutil.copy(priced, place / f"q{n:04}.xlsx")) for n in range(books)]
        two, one = batch(sources, place, 2), batch(sources, place, 1)
        rows.append(
            (f"{books} quotes: 1 process / 2", f"{one / two:.2f} ({one:.1f} / {two:.1f} s)")
        )
        rows.append((f"month after one more of {books} jobs / first", months(quote, place, books)))
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        list(each(Task("fill"), [*sources, *sources], 1, died))
        later = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        rows.append((f"peak memory after {2 * books} books more / before", f"{later / peak:.2f}"))
    print(f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}\n")
    print("| what | ratio |\n|---|---|")
    for what, found in rows:
        print(f"| {what} | {found} |")


if __name__ == "__main__":
    main()
