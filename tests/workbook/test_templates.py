"""The templates: current, reproducible, and keeping every rule; each rule can fail."""

import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from openpyxl.chart import BarChart
from openpyxl.styles import Font
from openpyxl.workbook.defined_name import DefinedName

from tests import made
from tests.workbook import rules
from tests.workbook.rules import RULES, Template
from twodrum.books.month import MONTH
from twodrum.books.office import OFFICE
from twodrum.books.parts import PARTS, QUOTE, SETS, job_of
from twodrum.books.whole import JOB
from twodrum.engine.model import Model
from twodrum.resources import resource

MODELS = (JOB, OFFICE, MONTH)


@pytest.fixture(scope="module", params=MODELS, ids=lambda model: model.name)
def committed(request: pytest.FixtureRequest) -> Template:
    model: Model = request.param
    return Template.load(model, resource("workbook_templates", f"{model.name}.xlsx"))


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.__name__)
def test_template_keeps_the_rule(rule: rules.Rule, committed: Template) -> None:
    assert rule(committed) == []


def _set(sheet: str, cell: str, **what: Any) -> Callable[[Any], None]:
    def change(book: Any) -> None:
        for name, value in what.items():
            setattr(book[sheet][cell], name, value)

    return change


def _hide(book: Any) -> None:
    book["Job"].sheet_state = "hidden"


def _merge(book: Any) -> None:
    book["Job"].merge_cells("A30:B30")


def _swap(book: Any) -> None:
    book.move_sheet("Areas", 1)


def _no_rule(book: Any) -> None:
    book["Job"].data_validations.dataValidation.pop()


def _lost_name(book: Any) -> None:
    book.defined_names["net_price"] = DefinedName("net_price", attr_text="#REF!$B$2")


def _unfreeze(book: Any) -> None:
    book["Areas"].freeze_panes = None


def _two_pages(book: Any) -> None:
    book["Areas"].page_setup.fitToWidth = 2


def _unlock(book: Any) -> None:
    book["Cost"].protection.sheet = False


def _head(book: Any) -> None:
    sheet, cells = book.defined_names["unit_length"].attr_text.split("!")
    unit = book[sheet][cells.split(":")[0].replace("$", "")]
    book[sheet].cell(6, unit.column).value = "Kind"


def _picture(book: Any) -> None:
    # openpyxl gives a chart no alternative text.
    book["Start"].add_chart(BarChart(), "D4")


def _uncounted(book: Any) -> None:
    book.defined_names["check_job"] = DefinedName("check_job", attr_text="Workings!$B$90")


def _version(book: Any) -> None:
    book.properties.version = "0.0.9"


MUTATIONS: dict[str, Callable[[Any], None]] = {
    "sheets_are_those_declared_in_order": _swap,
    "first_sheet_says_purpose_owner_version_and_every_sheet": _set("Start", "B12", value=None),
    "nothing_is_hidden": _hide,
    "no_cell_is_merged": _merge,
    "every_used_cell_has_one_of_our_styles": _set("Job", "A14", style="Normal"),
    "styles_tell_the_truth": _set("Cost", "B8", value=312),
    "every_number_has_its_unit_beside_it": _set("Job", "C17", value=None),
    "formulas_hold_no_number_but_0_and_1": _set("Cost", "D8", value="=D9*1.05"),
    "formulas_are_short_and_hold_no_if_in_an_if": _set(
        "Cost", "D8", value='=IF(D9>0,IF(D9>1,D9,0),"")'
    ),
    "a_column_has_the_same_formula_all_the_way_down": _set("Areas", "Q9", value="=Q8"),
    "nothing_volatile_and_nothing_from_outside": _set("Cost", "D8", value="=TODAY()"),
    "every_input_is_validated_with_an_error_text": _no_rule,
    "every_field_has_a_name_and_every_name_a_place": _lost_name,
    "lists_are_tables_with_unique_heads_and_no_blank_row": _head,
    "dates_look_like_dates": _set("Job", "B11", number_format="dd/mm/yy"),
    "headings_stay_in_sight": _unfreeze,
    "every_sheet_prints_one_page_wide_with_titles_and_footer": _two_pages,
    "only_inputs_are_unlocked_and_tables_may_grow": _unlock,
    "text_is_large_and_dark_enough": _set("Job", "A14", font=Font(sz=11, color="FFBBBBBB")),
    "colour_never_speaks_alone": _set("Cost", "B8", number_format="[Red]0.0"),
    "pictures_have_words": _picture,
    "one_state_counts_every_check_and_stands_on_every_sheet": _uncounted,
    "totals_refuse_errors_and_empty_tables": _set(
        "Cost", "D8", value="=SUM(areas[Measured area SI])"
    ),
    "results_say_whether_inputs_changed": _set("Workings", "B26", value="=0"),
    "version_and_date_agree_everywhere": _version,
}


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.__name__)
def test_rule_finds_a_breach(rule: rules.Rule, tmp_path: Path) -> None:
    model = job_of((QUOTE,))
    template = Template.load(model, resource("workbook_templates", "quote.xlsx"))
    path = tmp_path / "mutant.xlsx"
    if rule is rules.results_say_whether_inputs_changed:
        for row in template.book["Workings"].iter_rows():
            for cell in row:
                if "areas_in<>" in str(cell.value):
                    cell.value = "=0"
    else:
        MUTATIONS[rule.__name__](template.book)
    template.book.save(path)
    mutant = Template(model, path, template.book)
    assert rule(mutant) != []


def test_there_are_25_rules_and_a_mutation_for_each() -> None:
    assert {rule.__name__ for rule in RULES} == set(MUTATIONS)
    assert len(RULES) == 25


def parts_of_file(path: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(path) as package:
        return {name: package.read(name) for name in package.namelist()}


def same_xml(one: bytes, other: bytes) -> bool:
    """Whether two parts say the same, however they are written."""
    return one == other or ElementTree.canonicalize(one) == ElementTree.canonicalize(other)


NAMES = [*("-".join(parts) for parts in SETS if parts != PARTS), "job", "office", "month"]


@pytest.mark.parametrize("name", [*NAMES, "functions"])
def test_committed_template_is_what_the_declarations_build_today(name: str) -> None:
    built = parts_of_file(made.templates() / f"{name}.xlsx")
    kept = parts_of_file(resource("workbook_templates", f"{name}.xlsx"))
    assert list(built) == list(kept)
    assert [part for part in built if not same_xml(built[part], kept[part])] == []


def test_every_label_fits_its_column() -> None:
    # The column of labels is 44 digits wide, and most letters are narrower than a digit.
    labels = [item.label for item in [*JOB.fields(), *JOB.cells]]
    assert [label for label in labels if len(label) > 45] == []
