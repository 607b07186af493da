"""The command line. Exit status: 0 done, 1 problems in the data, 2 could not run."""

from __future__ import annotations

import argparse
import gc
import os
import re
import sys
from io import TextIOWrapper

from . import __version__

# Help comes at once: what only readers of types and single commands need is not loaded for it.
TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path
    from typing import Any, NoReturn

    from .commands.one_of_many import Done

DONE, PROBLEMS, COULD_NOT = 0, 1, 2
# New objects between two looks for garbage.
FEW_LOOKS = 500_000
# What new takes from an office workbook by its name.
NEW_PICKS = ("system", "second", "machine", "crew", "rates")
# Processes at once.
MOST_JOBS = 64


def _path(text: str) -> Path:
    from pathlib import Path

    return Path(text)


class Parser(argparse.ArgumentParser):
    """A parser that says what it did not understand in plain words."""

    def error(self, message: str) -> NoReturn:
        text = re.sub(
            r"argument (.+?): invalid choice: (.+) \(choose from (.+)\)", _one_of, message
        )
        text = re.sub(r"the following arguments are required: (.+)", r"\1 is missing", text)
        text = text.replace("unrecognized arguments:", "not understood:")
        self.print_usage(sys.stderr)
        print(f"{self.prog}: {text}; see {self.prog} --help", file=sys.stderr)
        raise SystemExit(COULD_NOT)


def _one_of(match: re.Match[str]) -> str:
    return f"{match.group(2)} is not one of: {match.group(3)}"


def make_parser() -> argparse.ArgumentParser:
    """All commands and their options."""
    parser = Parser(
        prog="twodrum",
        description="Quantities, price and proof for sprayed two-component linings.",
        epilog="Data sheet, local code and licensed practice come before anything it says.",
    )
    parser.add_argument("--version", action="version", version=f"twodrum {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)

    new = commands.add_parser(
        "new",
        help="make a job from the office's materials and rates",
        description="Make a job workbook; where the office has one of a kind, it is taken.",
    )
    _new_options(new)

    new.add_argument(
        "--with",
        dest="parts",
        default="",
        metavar="PARTS",
        help="parts besides the quote: what-ifs, day, proof, account, or all",
    )

    new.add_argument(
        "--from",
        dest="source",
        type=_path,
        metavar="JOB",
        help="begin with the quote of another job; --office gives it today's rates and prices",
    )

    _parser_of_parts(commands)
    office = commands.add_parser("office", help="make an office workbook to type once")
    office.add_argument("file", type=_path, help="the office workbook to make")
    office.add_argument(
        "--units", choices=("metric", "us"), default="metric", help="units to start with: metric"
    )

    check = commands.add_parser("check", help="tell every problem; nothing is written")
    check.add_argument("files", type=_path, nargs="+", metavar="FILE|FOLDER|PATTERN")
    check.add_argument("--json", action="store_true", help="answer for a program")
    _jobs_of(check)

    fill = commands.add_parser("fill", help="write results, notes and Record into a job")
    fill.add_argument("files", type=_path, nargs="+", metavar="FILE|FOLDER|PATTERN")
    fill.add_argument("--out", type=_path, help="write here instead of in place: file or folder")
    fill.add_argument(
        "--live",
        action="store_true",
        help="warm-up and balance as TD_ functions, for offices that installed them with addin",
    )
    fill.add_argument("--json", action="store_true", help="answer for a program")
    _jobs_of(fill)

    _parser_of_quotes(commands)
    keep = commands.add_parser(
        "keep",
        help="keep what a job taught of its machine in the office workbook",
        description="Adds what warm-ups taught to the sheet Learned; new jobs start from it.",
    )
    keep.add_argument("files", type=_path, nargs="+", metavar="FILE|FOLDER|PATTERN")
    keep.add_argument("--office", type=_path, required=True, help="the office workbook to add to")

    month = commands.add_parser(
        "month",
        help="roll the jobs of a folder up: litres, money, what to assume next",
        description="Read every job of a folder and of those in it; the jobs are only read.",
    )
    month.add_argument("folder", type=_path, metavar="FOLDER")
    month.add_argument("--out", type=_path, help="the workbook to make: month.xlsx in the folder")
    _jobs_of(month)
    month.add_argument(
        "--only",
        default="",
        metavar="PATTERN",
        help="only jobs whose path ends so, such as '2026-*.xlsx' or 'north/*'",
    )
    month.add_argument(
        "--rows",
        type=_rows,
        default=0,
        metavar="N",
        help="of more jobs than these the latest and dearest have a row: 1,000; 5,000 at most",
    )
    month.add_argument(
        "--units", choices=("metric", "us"), default="metric", help="units to start with: metric"
    )

    functions = commands.add_parser(
        "functions",
        help="list, explain or evaluate the worksheet functions",
        description="Without a name: the list. With one: what it takes and gives. With values:"
        ' the result, as in functions TD_DEW_POINT 20 "70 %".',
    )
    functions.add_argument("name", nargs="?", default="", help="such as TD_DEW_POINT")
    functions.add_argument(
        "values",
        nargs="*",
        help='the arguments in their order: 20, "80 mil", "5.1 4.7 MPa"; "" leaves one out',
    )
    functions.add_argument("--json", action="store_true", help="answer for a program")

    addin = commands.add_parser(
        "addin",
        help="install the worksheet functions in a spreadsheet program",
        description="Make and install the add-in; close the spreadsheet program first.",
    )
    addin.add_argument("host", choices=("calc", "excel"), help="LibreOffice Calc, or Excel")
    addin.add_argument("--build", type=_path, metavar="PATH", help="write it here; excel: a folder")
    addin.add_argument("--remove", action="store_true", help="take the add-in out again")

    installed = commands.add_parser(
        "installed", help="what is installed, what is missing, how to mend it"
    )
    installed.add_argument(
        "file",
        type=_path,
        nargs="?",
        help="functions.xlsx with what was seen in Excel typed on its sheet Steps in Excel",
    )

    demo = commands.add_parser("demo", help="make and fill an invented job")
    demo.add_argument("--out", type=_path, default="demo-out", help="folder to make")
    demo.add_argument(
        "--month", action="store_true", help="forty invented jobs and their month instead"
    )
    return parser


def _new_options(new: argparse.ArgumentParser) -> None:
    new.add_argument("file", type=_path, help="the job workbook to make, such as tank.xlsx")
    new.add_argument("--office", type=_path, help="the office workbook to pick from")
    new.add_argument("--system", default="", help="system of materials in the office workbook")
    new.add_argument("--second", default="", help="another one, for areas that name system 2")
    new.add_argument("--machine", default="", help="machine in the office workbook")
    new.add_argument("--crew", default="", help="crew in the office workbook")
    new.add_argument("--rates", default="", help="set of rates in the office workbook")
    new.add_argument("--surface", default="", help="surface that is lined, such as concrete")
    new.add_argument(
        "--assume", type=_path, metavar="MONTH", help="loss and film spread from a month workbook"
    )
    new.add_argument(
        "--units", choices=("metric", "us"), default="metric", help="units to start with: metric"
    )


def _jobs_of(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--jobs",
        type=_count,
        default=0,
        metavar="N",
        help="workbooks at once: as many as there are cores, from four workbooks on",
    )
    parser.add_argument(
        "--cluster",
        default="",
        metavar="ADDRESS",
        help="have the workers of this Dask scheduler do it, such as tcp://10.0.0.5:8786",
    )


def _rows(text: str) -> int:
    if not text.isdecimal() or not int(text):
        raise argparse.ArgumentTypeError(f"'{text}' is no number of rows")
    return int(text)


def _count(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) <= MOST_JOBS:
        raise argparse.ArgumentTypeError(f"'{text}' is no number from 1 to {MOST_JOBS}")
    return int(text)


def _parser_of_quotes(commands: Any) -> None:
    issue = commands.add_parser(
        "issue",
        help="issue the quote as a revision that is kept, and print its page",
        description="Keeps what the customer is sent, as a revision, and writes its page as a PDF "
        "where LibreOffice is installed. Refuses with everything that is missing.",
    )
    issue.add_argument("files", type=_path, nargs="+", metavar="FILE|FOLDER|PATTERN")
    issue.add_argument(
        "--office", type=_path, help="number it by this office workbook, and enter it there"
    )
    issue.add_argument("--out", type=_path, metavar="FOLDER", help="put the PDF there")
    issue.add_argument("--json", action="store_true", help="answer for a program")
    _jobs_of(issue)
    accept = commands.add_parser(
        "accept",
        help="the customer accepted the quote as it was issued",
        description="What was issued counts, whatever the workbook says now; later fills hold "
        "the job against it.",
    )
    accept.add_argument("file", type=_path, help="the job")
    accept.add_argument(
        "revision", type=_count, nargs="?", default=0, metavar="REVISION", help="which: the last"
    )
    accept.add_argument("--withdraw", action="store_true", help="take the acceptance back")
    accept.add_argument("--json", action="store_true", help="answer for a program")
    choose = commands.add_parser(
        "choose",
        help="an option of its sheet Options becomes the job",
        description="Types what the option says into the job and fills it; all else stays.",
    )
    choose.add_argument("file", type=_path, help="the job")
    choose.add_argument("option", metavar="OPTION", help='its number, such as 2, or "option 2"')
    choose.add_argument("--json", action="store_true", help="answer for a program")


def _parser_of_parts(commands: Any) -> None:
    add = commands.add_parser(
        "add",
        help="give a workbook parts: quote, what-ifs, day, proof, account",
        description="Adds parts to a job with all that was typed, or puts them into a workbook "
        "of your own, behind its sheets; a copy of it as it was stays beside it.",
    )
    add.add_argument("file", type=_path, help="a job, such as tank.xlsx, or a workbook of your own")
    which = "quote, what-ifs, day, proof, account, or all"
    add.add_argument("parts", nargs="+", metavar="PART", help=which)
    add.add_argument("--office", type=_path, help="the office workbook to pick from")
    add.add_argument("--system", default="", help="system of materials in the office workbook")
    add.add_argument("--machine", default="", help="machine in the office workbook")
    add.add_argument("--crew", default="", help="crew in the office, for a workbook of your own")
    add.add_argument("--rates", default="", help="rates in the office, for a workbook of your own")
    add.add_argument(
        "--units",
        choices=("metric", "us"),
        default="metric",
        help="units to start with in a workbook of your own: metric; a job keeps its own",
    )
    add.add_argument(
        "--as",
        dest="word",
        default="",
        metavar="WORD",
        help="tell ours apart where a sheet or a name is called alike: Quote WORD, WORD_net_price",
    )

    remove = commands.add_parser(
        "remove",
        help="take parts out of a workbook, or all of them out of one of your own",
        description="What was typed into them goes with them; a copy as it was stays beside it.",
    )
    remove.add_argument("file", type=_path, help="the workbook")
    remove.add_argument("parts", nargs="+", metavar="PART", help=which)

    upgrade = commands.add_parser(
        "upgrade",
        help="bring workbooks of an older version to this one",
        description="Carries over all that was typed; a copy of the old file stays beside it.",
    )
    upgrade.add_argument("files", type=_path, nargs="+", help="workbooks, folders or patterns")
    _jobs_of(upgrade)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status."""
    if arguments is None:
        # A book is a million small objects that live together: looking for garbage among them
        # takes a third of a fill.
        gc.set_threshold(FEW_LOOKS)
    for stream in (sys.stdout, sys.stderr):
        # A console that cannot show a character shows its code instead of failing.
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")
    # What follows the name of a function are its values, even those that begin with a dash.
    given = list(sys.argv[1:] if arguments is None else arguments)
    options = make_parser().parse_args(_with_values_apart(given))
    from .xlsx.package import PackageError

    try:
        if options.command == "new":
            return _new(options)
        if options.command in ("add", "remove", "upgrade"):
            return _remake(options)
        if options.command == "office":
            return _office(options)
        if options.command == "demo":
            return _demo(options)
        if options.command == "functions":
            return _functions(options)
        if options.command == "addin":
            return _addin(options)
        if options.command == "installed":
            return _installed(options)
        if options.command == "keep":
            return _keep(options)
        if options.command == "month":
            return _month(options)
        if options.command in ("accept", "choose"):
            return _accept(options)
        return _check_or_fill(options)
    except PackageError as error:
        print(f"{getattr(options, 'file', options.command)}: {error}", file=sys.stderr)
    except BrokenPipeError:
        # Whoever read along has seen enough.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except OSError as error:
        where = error.filename or options.command
        print(f"{where}: {error.strerror or error}", file=sys.stderr)
    except MemoryError:
        print(f"{options.command}: the memory of this machine is too small for it", file=sys.stderr)
    except KeyboardInterrupt:
        print("stopped", file=sys.stderr)
    return COULD_NOT


def _new(options: argparse.Namespace) -> int:
    from .books.parts import with_needed
    from .commands.new import PickError, Typed, new_job
    from .problems import count_problems

    picks = {name: getattr(options, name) for name in NEW_PICKS}
    if options.office is None and any(picks.values()):
        print(
            "--system, --second, --machine, --crew and --rates pick from --office FILE",
            file=sys.stderr,
        )
        return COULD_NOT
    named = _parts([options.parts])
    if named is None:
        return COULD_NOT
    parts = with_needed(("quote", *named))
    if options.source is not None:
        return _copy(options, picks, parts)
    also = Typed()
    if options.surface:
        also.names["substrate"] = _surface(options.surface)
        if not also.names["substrate"]:
            return COULD_NOT
    if options.assume is not None:
        from .commands.month_assume import assumed

        crew = options.crew or _only_crew(options.office)
        found = assumed(options.assume, crew, also.names.get("substrate", ""))
        also.names.update(found.names)
        also.picked.append(found.words)
    try:
        typed = new_job(options.file, options.office, picks, options.units, also, parts)
    except PickError as error:
        print(f"{options.office}: {error}", file=sys.stderr)
        return COULD_NOT
    for problem in typed.problems:
        print(f"{options.office}: {problem}")
    taken = [*typed.picked, *also.picked]
    picked = f" with {', '.join(taken)}" if taken else ""
    print(f"{options.file}: made{picked}; type the job on Job, its surfaces on Areas")
    return PROBLEMS if count_problems(typed.problems) else DONE


def _copy(options: argparse.Namespace, picks: dict[str, str], parts: tuple[str, ...]) -> int:
    from .commands.copy_job import copied, quote_of
    from .commands.new import PickError
    from .xlsx.package import PackageError

    other = (
        options.crew
        or options.second
        or options.surface
        or options.assume
        or options.units != "metric"
    )
    of_day = (options.system or options.machine) and "day" not in parts
    if other or of_day:
        takes = "--from takes --office and --rates, and --machine and --system beside --with day; "
        takes += "it brings the systems and the units of the other job"
        print(takes, file=sys.stderr)
        return COULD_NOT
    try:
        book = quote_of(options.source)
    except PackageError as error:
        print(f"{options.source}: {error}", file=sys.stderr)
        return COULD_NOT
    try:
        said, wrong = copied(book, options.file, options.office, picks, parts)
    except PickError as error:
        print(f"{options.office}: {error}", file=sys.stderr)
        return COULD_NOT
    print(f"{options.file}: made from {options.source}")
    for line in said:
        print(f"note: {line}")
    return PROBLEMS if wrong else DONE


def _parts(typed: Sequence[str]) -> tuple[str, ...] | None:
    """The parts that were named; None where there is no such part, which is told."""
    from .books.parts import PARTS

    words = [word.strip().casefold() for text in typed for word in text.split(",")]
    unknown = [word for word in words if word and word not in (*PARTS, "all")]
    if unknown:
        print(f"'{unknown[0]}' is no part; there are: {', '.join(PARTS)}, all", file=sys.stderr)
        return None
    return PARTS if "all" in words else tuple(word for word in words if word)


def _remake(options: argparse.Namespace) -> int:
    from .commands import remake
    from .commands.new import PickError

    named = _parts(options.parts) if options.command != "upgrade" else ()
    if named is None:
        return COULD_NOT
    if options.command == "upgrade":
        return _upgrade(options)
    try:
        if options.command == "add":
            made = remake.add(options.file, named, _wish(options))
        else:
            made = remake.remove(options.file, named)
    except PickError as error:
        of = f"{options.office}: " if options.office else ""
        print(f"{of}{error}", file=sys.stderr)
        return COULD_NOT
    for line in made.said():
        print(line)
    return DONE


def _upgrade(options: argparse.Namespace) -> int:
    from .commands.batch import each, processes
    from .commands.remake import upgrade_died, upgraded
    from .commands.report import watched

    files, status = workbooks(options.files), DONE
    jobs = processes(options.jobs, len(files))
    found = each(upgraded, files, jobs, upgrade_died, options.cluster)
    for said, wrong in watched(found, len(files), "upgrade"):
        print("\n".join(said), file=sys.stderr if wrong else sys.stdout)
        status = COULD_NOT if wrong else status
    return status if files else COULD_NOT


def _wish(options: argparse.Namespace) -> Any:
    """What was named of an office for the parts that are added."""
    from .commands.new import PickError
    from .commands.remake import Wish

    picks = {name: getattr(options, name) for name in ("system", "machine", "crew", "rates")}
    if options.office is None and any(picks.values()):
        raise PickError("--system, --machine, --crew and --rates pick from --office FILE")
    return Wish(options.office, picks, options.units, options.word)


def _surface(typed: str) -> str:
    """The word of the list for a surface; "" where there is none, which is told."""
    from .books.inputs import SUBSTRATES

    for word in SUBSTRATES:
        if word.casefold() == typed.casefold():
            return word
    print(f"--surface '{typed}' is not one of: {', '.join(SUBSTRATES)}", file=sys.stderr)
    return ""


def _only_crew(office: Path | None) -> str:
    """The crew that is picked when the office has only one."""
    from .commands.new import PickError, pick

    if office is None:
        return ""
    try:
        return str(pick(office, {}).names.get("crew_name", ""))
    except PickError:
        return ""


def _office(options: argparse.Namespace) -> int:
    from .commands.new import new_office

    new_office(options.file, options.units)
    print(f"{options.file}: made; type your materials, machines, crews and rates")
    return DONE


def _is_pattern(path: Path) -> bool:
    """Whether several files may be meant, as ``jobs/2026-*.xlsx``: not every shell looks itself."""
    return any(sign in str(path) for sign in "*?[") and not path.exists()


def workbooks(paths: Sequence[Path]) -> list[Path]:
    """The files that were named, and the workbooks of the folders and patterns that were."""
    from .xlsx.files import workbooks_in, workbooks_like

    found: list[Path] = []
    for path in paths:
        if path.is_dir():
            found += workbooks_in(path)
        elif _is_pattern(path):
            found += workbooks_like(path)
        else:
            found.append(path)
    # One that is named twice is worked on once.
    return list({path.resolve(): path for path in reversed(found)}.values())[::-1]


def _already(options: argparse.Namespace) -> str | None:
    """What to say of the one workbook that is to be filled, where it is filled already."""
    if options.command != "fill" or len(options.files) > 1 or options.files[0].is_dir():
        return None
    from .commands.already import already, asks_more

    if asks_more(options.command, options.out, options.json):
        return None
    return already(options.files[0], options.live)


def _check_or_fill(options: argparse.Namespace) -> int:
    known = _already(options)
    if known is not None:
        print(known)
        return DONE
    from time import monotonic

    from .commands.batch import each, processes
    from .commands.one_of_many import Task, died, summary
    from .commands.report import watched

    if options.cluster:
        # What others do is named so that they find it.
        options.files = [path.absolute() for path in options.files]
    files = workbooks(options.files)
    if not files:
        there = "in that folder" if options.files[0].is_dir() else "is called so"
        print(f"{options.files[0]}: no workbook {there}", file=sys.stderr)
        return COULD_NOT
    out = getattr(options, "out", None)
    out = out.absolute() if out is not None and options.cluster else out
    several = len(files) > 1 or options.command == "issue"
    if out is not None and several and not out.is_dir():
        need = (
            "the page is put into one"
            if options.command == "issue"
            else "several workbooks need one"
        )
        print(f"{out}: not a folder; {need}", file=sys.stderr)
        return COULD_NOT
    task = Task(
        options.command,
        out,
        getattr(options, "live", False),
        office=getattr(options, "office", None),
        as_json=options.json,
        named=frozenset(options.files),
    )
    many = any(path.is_dir() or _is_pattern(path) for path in options.files)
    began, done = monotonic(), []
    # Numbers are counted one by one.
    jobs = 1 if task.office is not None else processes(options.jobs, len(files))
    cluster = "" if task.office is not None else options.cluster
    found = each(task, files, jobs, died, cluster)
    if many:
        found = watched(found, len(files), options.command)
    for one in _told(found, many, options.json):
        # So much of each is kept, however many there are.
        done.append((one.did, one.problems, one.refused))
    if many and not options.json:
        print(summary(done, monotonic() - began))
    if any(refused for _, _, refused in done):
        return COULD_NOT
    return PROBLEMS if any(problems for _, problems, _ in done) else DONE


def _accept(options: argparse.Namespace) -> int:
    from .commands.one_of_many import Task

    revision, withdraw = (getattr(options, name, 0) for name in ("revision", "withdraw"))
    if withdraw and revision:
        print("--withdraw takes back whatever is accepted; name no revision", file=sys.stderr)
        return COULD_NOT
    option = getattr(options, "option", "1")
    if not option.strip():
        print("name the option that becomes the job, such as 2", file=sys.stderr)
        return COULD_NOT
    task = Task(
        options.command,
        revision=revision,
        withdraw=bool(withdraw),
        option=option if options.command == "choose" else "",
        as_json=options.json,
        named=frozenset([options.file]),
    )
    one = task(options.file)
    print(one.data or one.text, end="" if one.text else "\n")
    if one.refused:
        return COULD_NOT
    return PROBLEMS if one.problems else DONE


def _told(found: Iterator[Done], many: bool, as_json: bool) -> Iterator[Done]:
    """Each workbook when it was told: all of it, one line of many, or a line for a program."""
    for one in found:
        if one.left_alone:
            print(f"{one.file}: {one.left_alone}, left alone", file=sys.stderr)
            continue
        if as_json:
            print(one.text, end="", file=sys.stderr)
            print(one.data, flush=True)
        elif not many:
            print(one.text, end="")
        elif one.brief:
            print(one.brief)
        yield one


def _keep(options: argparse.Namespace) -> int:
    from .commands.keep import keep

    jobs = [file for file in workbooks(options.files) if file.resolve() != options.office.resolve()]
    kept = keep(jobs, options.office)
    for line in kept.lines:
        print(line)
    return COULD_NOT if kept.refused else DONE


def _month(options: argparse.Namespace) -> int:
    from .commands.month import roll_up
    from .commands.report import month_said, watched

    rolled = roll_up(
        options.folder,
        options.out or options.folder / "month.xlsx",
        lambda found, total: watched(found, total, "read"),
        options.units,
        options.jobs,
        options.cluster,
        options.rows,
        options.only,
    )
    for line in (*rolled.notes, *rolled.lines):
        print(line)
    for line in month_said(rolled):
        print(line)
    return PROBLEMS if rolled.lines else DONE


def _with_values_apart(given: list[str]) -> list[str]:
    """The command line with "--" before the values of a function, which may be negative."""
    words = [word for word in given if word != "--json"]
    options = [word for word in words[1:] if re.match(r"-+[A-Za-z]|--$", word)]
    if given[:1] != ["functions"] or len(words) < 3 or options:
        return given
    return ["functions", *(["--json"] if "--json" in given else []), words[1], "--", *words[2:]]


def _functions(options: argparse.Namespace) -> int:
    import json

    from .catalogue import FUNCTIONS
    from .worksheet import call as worksheet
    from .worksheet import help as worksheet_help

    if not options.name:
        if options.json:
            data = [worksheet_help.as_data(function) for function in FUNCTIONS]
            print(json.dumps(data, indent=2))
        else:
            print(worksheet_help.listed())
        return DONE
    special = next((s for s in worksheet_help.SPECIALS if s.name == options.name.upper()), None)
    values = [worksheet_help.typed(text) for text in options.values]
    if special and not values:
        print(worksheet_help.explained_special(special))
        return DONE
    if special:
        return _evaluated(special.name, values, ["", ""], options.json)
    try:
        function = worksheet.function_named(options.name)
    except worksheet.CallError as error:
        if options.json:
            print(json.dumps({"rows": [], "units": [], "problems": [str(error)]}))
        else:
            print(error, file=sys.stderr)
        return COULD_NOT
    if not values:
        if options.json:
            print(json.dumps(worksheet_help.as_data(function), indent=2))
        else:
            print(worksheet_help.explained(function))
        return DONE
    units = worksheet.units_of(function, values)
    return _evaluated(function.name, values, units, options.json)


def _evaluated(name: str, values: list[Any], units: list[str], as_json: bool) -> int:
    import json

    from .worksheet import call as worksheet
    from .worksheet import help as worksheet_help

    rows = worksheet.answer(name, values)
    reasons = worksheet.reasons_of(rows)
    if as_json:
        print(json.dumps(worksheet_help.answer_data(rows, units), indent=2))
    elif reasons:
        print("\n".join(reasons))
    else:
        for row in rows:
            print("  ".join(worksheet_help.in_words(c, u) for c, u in zip(row, units)))
    return PROBLEMS if reasons else DONE


def _addin(options: argparse.Namespace) -> int:
    from .hosts import LinkError, calc, excel_link

    try:
        if options.host == "excel":
            if options.remove:
                print("delete the folder that addin excel made; nothing else was written")
                return DONE
            print("\n".join(excel_link.make(options.build or _path("twodrum-excel"))))
        elif options.build is not None and options.remove:
            print(
                "--build writes and --remove takes out; only one of them is wanted", file=sys.stderr
            )
            return COULD_NOT
        elif options.build is not None:
            calc.build(options.build)
            print(f"{options.build}: made; open it with LibreOffice to install it")
        elif options.remove:
            calc.remove()
            print("the add-in is out of LibreOffice; it is gone when LibreOffice starts again")
        else:
            calc.install()
            print("the add-in is in LibreOffice; start Calc and type =TD_DEW_POINT(20;70%)")
    except LinkError as error:
        print(error, file=sys.stderr)
        return COULD_NOT
    return DONE


def _installed(options: argparse.Namespace) -> int:
    from .commands.excel_tried import steps_tried
    from .commands.installed import MEND, findings, this_machine
    from .xlsx.package import PackageError

    try:
        found = steps_tried(options.file) if options.file else findings(this_machine())
    except (OSError, PackageError) as error:
        print(f"{options.file}: {error}", file=sys.stderr)
        return COULD_NOT
    for finding in found:
        print(finding)
    return PROBLEMS if any(finding.state == MEND for finding in found) else DONE


def _demo(options: argparse.Namespace) -> int:
    from .commands.demo import make_demo
    from .commands.demo_month import make_month

    for line in (make_month if options.month else make_demo)(options.out):
        print(line)
    return DONE


if __name__ == "__main__":
    raise SystemExit(main())
