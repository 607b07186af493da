"""The house: imports run one way, core runs on old Pythons, types and style are clean."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

from tests.grouped import of_each

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "twodrum"

# Each layer may import what stands before it, and itself.
LAYERS = (
    ("core",),
    ("units", "unit_table", "problems"),
    ("catalogue",),
    ("engine",),
    ("worksheet",),
    ("studies",),
    ("plainly", "resources", "changelog"),
    ("xlsx",),
    ("workbook",),
    ("books",),
    ("build", "commands"),
    ("cli", "hosts"),
)
LEVEL = {name: level for level, names in enumerate(LAYERS) for name in names}
ALONE = {"starter", "__main__", "__init__"}
MAY_IMPORT = {
    "pint": {"units.py"},
    "openpyxl": {
        "build/accepted.py",
        "build/builder.py",
        "build/charts.py",
        "build/control.py",
        "build/fold.py",
        "build/gallery.py",
        "build/pages.py",
        "build/save.py",
        "build/styles.py",
    },
    "xlwings": {"hosts/excel.py", "commands/excel_pdf.py"},
    "uno": {"hosts/calc_component.py"},
    "unohelper": {"hosts/calc_component.py"},
    "com": {"hosts/calc_component.py"},
    "rich": {"commands/report.py"},
    "pandas": set(),
}
OLD_PYTHON = (
    *("core", "catalogue", "engine", "worksheet", "studies"),
    *("units.py", "unit_table.py", "problems.py"),
    *("hosts/calc.py", "hosts/calc_component.py"),
)


def imports(path: Path) -> list[str]:
    """Full names of the modules that a file imports, relative ones made absolute."""
    package = ["twodrum", *path.relative_to(SOURCE).parent.parts]
    found = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            module = ".".join([*base, *([node.module] if node.module else [])])
            names = [alias.name for alias in node.names] if module == "twodrum" else [""]
            found += [f"{module}.{name}".rstrip(".") for name in names]
    return found


def layer(module: str) -> str:
    parts = module.split(".")
    return parts[1] if len(parts) > 1 and parts[0] == "twodrum" else ""


# A longer file says in one line why it is not split.
LONGEST = 300
DECLARED = "declarations in the order of their sheets, nothing to follow"
FORMULAS = "formulas of one topic, half of it their docstrings"
LONGER = {
    **dict.fromkeys(("books/inputs.py", "books/month.py", "books/plan.py"), DECLARED),
    **dict.fromkeys(("books/process.py", "books/quote.py", "books/readings.py"), DECLARED),
    **dict.fromkeys(("books/results.py", "books/use.py"), DECLARED),
    **dict.fromkeys(("books/drums.py", "books/systems.py"), DECLARED),
    "catalogue/heating.py": DECLARED,
    **dict.fromkeys(("core/acceptance.py", "core/air.py", "core/heating.py"), FORMULAS),
    **dict.fromkeys(("core/odds.py", "core/supply.py", "core/warm_up_fit.py"), FORMULAS),
    "build/builder.py": "one class, one method for each thing that it lays out",
    "build/control.py": "the sheets that steer a workbook, one function each",
    "cli.py": "one function for each command",
    "commands/carry.py": "all that goes along to today's sheets, one function each",
    "commands/deal.py": "one quote: what keeps it from being issued, accepted, withdrawn",
    "commands/new.py": "one command: what is picked from the office, and where it is typed",
    "engine/derive.py": "one walk along the chain",
    "engine/evaluate.py": "one run over the declarations, with what a study sees of it",
    "engine/expressions.py": "one grammar: parsed, run, written as a formula, said in words",
    "engine/model.py": "what a workbook is declared with, a dataclass each",
    "studies/batches.py": "drums: their verdicts, how long they last, which surface they gave",
    "studies/cautions.py": "one function for each caution",
    "studies/film_check.py": "one judgement with its rules",
    "studies/mix.py": "the mix by each way in which it is measured, of either lining",
    "studies/month_jobs.py": "one reader of the rows of a month",
    "studies/readings.py": "one judgement of a reading, all that it is held against",
    "studies/warm_up.py": "one plan and its chart",
    "units.py": "one table of kinds and units, with what converts by it",
    "xlsx/scan.py": "one scanner: what a sheet part holds, and what it asks of a cell",
    "workbook/contents.py": "one class: all cells that a fill writes, block by block",
    "workbook/layout.py": "one map of what stands where",
    "workbook/mend.py": "one class: what is put right, kind by kind",
    "workbook/native.py": "one class: the formula of each declared thing",
    "workbook/pattern.py": "one class: the formulas of a template at the places of a book",
    "workbook/read.py": "one reader: every input with all that may be wrong with it",
    "workbook/validations.py": "one kind of part: the rules of what may be typed",
    "worksheet/call.py": "one call, from raw cells to rows of values",
    "xlsx/book.py": "one reader of a file",
    "xlsx/write.py": "one writer of cells into the bytes of a part",
}


def test_a_file_is_short_or_says_why_it_is_not() -> None:
    long = {
        path.relative_to(SOURCE).as_posix()
        for path in SOURCE.rglob("*.py")
        if path.read_text(encoding="utf-8").count("\n") > LONGEST
    }
    assert long == set(LONGER)


FILES = sorted(SOURCE.rglob("*.py"))


@of_each(FILES, lambda path: path.relative_to(SOURCE).parts[0])
def test_imports_run_one_way(path: Path) -> None:
    place = path.relative_to(SOURCE)
    mine = place.parts[0].removesuffix(".py")
    for module in imports(path):
        top = module.split(".")[0]
        if top in MAY_IMPORT:
            assert place.as_posix() in MAY_IMPORT[top], f"{place} imports {module}"
        elif top == "twodrum" and mine not in ALONE and layer(module) not in ("", "__version__"):
            assert LEVEL[layer(module)] <= LEVEL[mine], f"{place} imports {module}"
        elif mine == "core" and top != "twodrum":
            assert top in sys.stdlib_module_names, f"{place} imports {module}"


def test_an_arrow_the_wrong_way_would_be_found() -> None:
    assert LEVEL[layer("twodrum.engine.evaluate")] > LEVEL["core"]
    assert layer("twodrum.workbook.read") == "workbook"


def newer_than_3_9(paths: list[str]) -> str:
    """What a static tool finds in these files that Python 3.9 does not have."""
    code = "import sys, vermin; sys.argv[0] = 'vermin'; vermin.main()"
    command = [sys.executable, "-c", code, "--target=3.9-", "--violations", "--no-tips", *paths]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode in (0, 1), done.stderr
    return done.stdout if done.returncode else ""


def test_engine_stays_within_python_3_9() -> None:
    assert newer_than_3_9([str(SOURCE / name) for name in OLD_PYTHON]) == ""


def test_the_tool_finds_newer_python(tmp_path: Path) -> None:
    (tmp_path / "newer.py").write_text("match 1:\n    case 1:\n        pass\n")
    assert "3.10" in newer_than_3_9([str(tmp_path)])


def test_types_are_clean() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "mypy"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout


@pytest.mark.parametrize("command", [["check"], ["format", "--check"]], ids=["lint", "format"])
def test_style_is_clean(command: list[str]) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "ruff", *command, "src", "tests", "demo"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout


@pytest.mark.parametrize("command", ["--help", "--version", "new --help"])
def test_help_imports_no_heavy_package(command: str) -> None:
    code = (
        "import sys; from twodrum.cli import main\n"
        f"try: main({command.split()!r})\n"
        "except SystemExit: pass\n"
        "heavy = {'pandas', 'openpyxl', 'pint', 'rich', 'numpy', 'xlwings'} & set(sys.modules)\n"
        "assert not heavy, heavy\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True, capture_output=True)


def test_filling_imports_neither_pint_nor_openpyxl() -> None:
    code = (
        "import sys, twodrum.commands.fill, twodrum.commands.new\n"
        "assert not {'pint', 'openpyxl', 'pandas'} & set(sys.modules)\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True, capture_output=True)
