"""Native formulas: the same declarations in the words of a spreadsheet."""

from __future__ import annotations

from ..catalogue import Function
from ..engine.expressions import Expression
from ..engine.model import ACCEPTED, Cell, Column, Constant, Field, result_key
from ..engine.order import filled, function_of, may_be_absent, takes_turns
from ..engine.references import Agg, Lookup, Name, Reference, Row
from ..units import KINDS, WHOLE
from ..worksheet.call import SI
from .entry import no_time_of_day
from .layout import (
    ADD,
    FROM,
    GAP,
    IF_BLANK,
    TIMES,
    TO,
    USED_HEADER,
    VALUE,
    Layout,
    Place,
    apart,
    choice_list,
    has_field_row,
    value_header,
)


class Native:
    """Formula texts of one workbook."""

    def __init__(self, layout: Layout) -> None:
        self.layout = layout
        self.model = layout.model
        self.absent = may_be_absent(layout.model)
        self.filled = filled(layout.model)
        self.apart = apart(layout.model)
        self.constants: dict[str, Constant] = {c.name: c for c in layout.model.constants}

    def input_si(self, item: Field) -> str:
        """A typed value in SI; #N/A where it is no number, out of bounds or wanted and blank."""
        row = self.layout.field_rows[item.name]
        if item.kind not in KINDS:
            return self._choice(item, uncut(VALUE), f"Units!{IF_BLANK}{row}")
        orders = self.model.orders
        low = next((o.low for o in orders if o.high == item.name and not o.limit), "")
        below = f"{low}_si" if low else ""
        # A limit of the data sheet is in what Units says is the most.
        return _converted(item.kind, uncut(VALUE), "", row, "", below)

    def column_si(self, table: str, item: Field, letter: str, row: int) -> str:
        """The same for a cell of a table."""
        place = self.layout.field_rows[f"{table}.{item.name}"]
        orders = self.model.table(table).orders
        low = next((order.low for order in orders if order.high == item.name), "")
        below = f"${self._value_place(table, low)}{row}" if low else ""
        used = f"${self.layout.place(table, '', 'used').letter}{row}" if item.required else ""
        return _converted(item.kind, uncut(letter), "$", place, "$", below, needed=used)

    def _choice(self, item: Field, address: str, default: str) -> str:
        if item.kind == "text":
            return f"=IF(ISBLANK({address}),{default},{address})"
        words = choice_list(item.kind)
        return f"=IFERROR(IF(ISBLANK({address}),{default},{_listed(address, words)}),NA())"

    def cell(self, item: Cell) -> str:
        """A single result in SI."""
        args, blanks = self._arguments(item, None)
        refused = '""' if item.kind == "text" else "NA()"
        body = f"IFERROR({self._body(item, args)},{refused})"
        if self._asks_nothing(item):
            return f'=IF({_all_blank(args)},"",{body})'
        if not blanks:
            return f"={body}"
        return f'=IF({_count_blank(blanks)}>0,"",{body})'

    def _asks_nothing(self, item: Cell | Column) -> bool:
        """Whether a result is blank where all its arguments are."""
        function = function_of(item)
        picks = isinstance(function, Expression) and function.picks
        return takes_turns(function) and not picks and result_key(item) in self.absent

    def by_function(self, item: Cell) -> str:
        """The same as a call of its worksheet function; "" where it has none.

        A refused call is #N/A by itself. Where the functions are not installed a cell keeps the
        value of the last fill until it is calculated anew, and then says so by #NAME?.
        """
        function = function_of(item)
        if not isinstance(function, Function) or not item.args:
            return ""
        args, blanks = self._arguments(item, None)
        args += [""] * (len(function.arguments) - len(args))
        text = f'{function.name}({",".join(args)},"{SI}")'
        return f'IF({_count_blank(blanks)}>0,"",{text})' if blanks else text

    def column(self, item: Column, row: int) -> str:
        """One row of a result column in SI; "" in a row that is not in use."""
        args, blanks = self._arguments(item, row)
        used = f"${self.layout.place(item.table, '', 'used').letter}{row}"
        refused = '""' if item.kind == "text" else "NA()"
        body = f"IFERROR({self._body(item, args)},{refused})"
        if self._asks_nothing(item):
            return f'=IF(AND({used},NOT({_all_blank(args)})),{body},"")'
        if blanks:
            return f'=IF(AND({used},{_count_blank(blanks)}=0),{body},"")'
        return f'=IF({used},{body},"")'

    def shown(self, key: str, address: str, absolute: str = "") -> str:
        """An SI cell in the unit that the office picked."""
        return f'=IF({address}="","",{self.converted(key, address, absolute)})'

    def converted(self, key: str, address: str, absolute: str = "") -> str:
        """The same where it is known to hold a number."""
        row = self.layout.field_rows[key]
        times, add = (f"Units!{absolute}{c}{absolute}{row}" for c in (TIMES, ADD))
        return f"{address}/{times}-{add}"

    def carried(self, address: str) -> str:
        """An SI cell as it is."""
        return f'=IF({address}="","",{address})'

    def used(self, table: str, row: int) -> str:
        """1 where a row is in use."""
        declared = self.model.table(table)
        if declared.used_by:
            source = self.model.table(declared.used_by)
            key = source.key_field
            return (
                f"=MAX(COUNTIF({source.name}[{key.label}],$A{row}),"
                f"INDEX({key.kind}_always,MATCH($A{row},{choice_list(key.kind)},0)))"
            )
        if declared.keys:
            return f"=SIGN(COUNTA($A{row}))"
        inputs = [p.letter for p in self.layout.places[table] if p.role == "input"]
        return f"=SIGN(COUNTA(INDEX($A:${inputs[-1]},ROW(),0)))"

    def source_row(self, table: str, row: int) -> str:
        """Where the key of this row stands in the table it comes from; "" unless exactly once."""
        source = self.model.table(self.model.table(table).used_by)
        key = source.key_field
        column = f"{source.name}[{key.label}]"
        return f'=IFERROR(MATCH($A{row},{column},0)/(COUNTIF({column},$A{row})=1),"")'

    def _body(self, item: Cell | Column, args: list[str]) -> str:
        function = function_of(item)
        if function is None:
            text = args[0]
            return f'{text}&""' if item.kind == "text" else text
        named = {argument.name: text for argument, text in zip(function.arguments, args)}
        for argument in function.arguments[len(args) :]:
            # An optional amount that a declaration leaves out adds nothing.
            named[argument.name] = "0"
        guards = list(dict.fromkeys(guard.format(**named) for guard in function.guards))
        text = function.native.format(**named)
        if not guards:
            return text
        guard = f"AND({','.join(guards)})" if len(guards) > 1 else f"({guards[0]})"
        return f"({text})/{guard}"

    def _arguments(self, item: Cell | Column, row: int | None) -> tuple[list[str], list[str]]:
        function = function_of(item)
        texts, blanks = [], []
        for position, reference in enumerate(item.args):
            text = self._reference(item, reference, row)
            texts.append(text)
            optional = function is not None and function.arguments[position].optional
            # What is only carried is blank where its source is.
            if function is not None and not optional and self._key(item, reference) in self.absent:
                assert not isinstance(reference, Lookup), "carry a blank in a column of its own"
                blanks.append(text)
        return texts, blanks

    def _key(self, item: Cell | Column, reference: Reference) -> str:
        if isinstance(reference, Name):
            return reference.name
        if isinstance(reference, Row):
            assert isinstance(item, Column)
            return f"{item.table}.{reference.column}"
        if isinstance(reference, Agg):
            return ""
        return f"{reference.table}.{reference.column}"

    def _reference(self, item: Cell | Column, reference: Reference, row: int | None) -> str:
        if isinstance(reference, Name):
            return self.value_name(reference.name)
        if isinstance(reference, Row):
            assert isinstance(item, Column)
            return self._in_row(item.table, reference.column, row)
        if isinstance(reference, Agg):
            header = self._value_header(reference.table, reference.column)
            table = self.model.table(reference.table)
            named = table.used_by or table.name
            used, known = f"SUM({table.name}[{USED_HEADER}])", f'check_{named}_named="OK"'
            total = f"SUM({table.name}[{header}])"
            if reference.where[0] and not reference.or_none:
                return self._total_where(reference, known)
            if reference.where[0]:
                return f"{self._total_of_those(reference)}/({known})"
            if reference.typed or reference.blank:
                total = self._total_of_those(reference)
            return f"{total}/AND({used}>0,{known})"
        return self._lookup(item, reference, row)

    def _total_where(self, reference: Agg, known: str) -> str:
        """The sum over rows that say a word; "" where none does, or one has no value yet."""
        table, (column, word) = reference.table, reference.where
        says = f"{table}[{self.model.column_item(table, column).label}]"
        amounts = f"{table}[{self._value_header(table, reference.column)}]"
        none = f'COUNTIF({says},"{word}")=0'
        lacks = f'SUMPRODUCT(({says}="{word}")*ISTEXT({amounts}))>0'
        return f'IF(OR({none},{lacks}),"",SUMIF({says},"{word}",{amounts})/({known}))'

    def _total_of_those(self, reference: Agg) -> str:
        """The sum over rows that say a word, in which a field was typed or is blank; else 0."""
        table, (column, word) = reference.table, reference.where
        kept, rows, known = f"{table}[{self._value_header(table, reference.column)}]", "", ""
        for name, said in ((column, word), (reference.blank, "")):
            if name:
                item = self.model.column_item(table, name)
                of = f"{table}[{item.label}]"
                kept += f',{of},"{said}"'
                rows += f'({of}="{said}")*'
                # A row that may be meant or not is wanted mended first.
                words = [f'COUNTIF({of},"{one}")' for one in self.model.choices.get(item.kind, ())]
                known += f'/(SUMPRODUCT(--({of}<>""))={"+".join(words)})' if words else ""
        if not reference.typed:
            return f"SUMIFS({kept}){known}"
        # A text where a number belongs is refused in its row, and here.
        typed = f"{table}[{self.model.column_item(table, reference.typed).label}]"
        texts = f'SUMPRODUCT({rows}ISTEXT({typed})*({typed}<>""))'
        return f'SUMIFS({kept},{typed},">0")/({texts}=0){known}'

    def value_name(self, name: str) -> str:
        """The name of the cell that a formula reads for a single value."""
        if name in self.constants:
            return name
        item = self.model.item(name)
        # What has neither unit nor default is read where it is typed, or where it is shown.
        typed = isinstance(item, Field)
        plain = not has_field_row(item) if typed else self._plain(name)
        return name if plain else f"{name}_si"

    def _plain(self, name: str) -> bool:
        """Whether a result is shown in the one cell that it has."""
        return not name.startswith(ACCEPTED) and name not in self.apart

    def _lookup(self, item: Cell | Column, reference: Lookup, row: int | None) -> str:
        column = f"{reference.table}[{self._value_header(reference.table, reference.column)}]"
        if isinstance(reference.key, Row):
            assert isinstance(item, Column)
            if self.model.table(item.table).used_by:
                position = f"${self.layout.place(item.table, '', 'row').letter}{row}"
            else:
                key = self._in_row(item.table, reference.key.column, row)
                label = self.model.table(reference.table).key_field.label
                position = f"MATCH({key},{reference.table}[{label}],0)"
        else:
            table = self.model.table(reference.table)
            keys = f"{table.name}[{table.key_field.label}]"
            position = f'MATCH("{reference.key}",{keys},0)'
            if reference.may_lack and not table.keys:
                # Rows that are typed may not be there.
                none = f'COUNTIF({keys},"{reference.key}")=0'
                once = f'(COUNTIF({keys},"{reference.key}")=1)'
                return f'IF({none},"",INDEX({column},{position}/{once}))'
        return f"INDEX({column},{position})"

    def _value_header(self, table: str, name: str) -> str:
        return value_header(self.model.column_item(table, name))

    def _value_place(self, table: str, name: str) -> str:
        return self._place_of_value(table, name).letter

    def _place_of_value(self, table: str, name: str) -> Place:
        header = self._value_header(table, name)
        return next(p for p in self.layout.places[table] if p.header == header)

    def _in_row(self, table: str, name: str, row: int | None) -> str:
        """The cell that a formula of a row reads for a column of that row."""
        place = self._place_of_value(table, name)
        return uncut(place.letter) if place.role == "input" else f"${place.letter}{row}"


def uncut(letter: str) -> str:
    """The cell of a column in this row, so that no cut and paste drags the formula along."""
    return f"INDEX(${letter}:${letter},ROW())"


def _count_blank(cells: list[str]) -> str:
    """How many of these are blank; unlike a comparison it is not upset by an error among them."""
    return "+".join(f"COUNTBLANK({cell})" for cell in cells)


def _all_blank(cells: list[str]) -> str:
    """Whether all of these are blank."""
    return f"AND({','.join(f'COUNTBLANK({cell})>0' for cell in cells)})"


def _listed(address: str, words: str) -> str:
    """The word of a list that a cell holds; a look-up alone would take "rect*" for one."""
    place = f"MATCH({address},{words},0)"
    return f"INDEX({words},{place}/(INDEX({words},{place})={address}))"


def _converted(
    kind: str,
    address: str,
    absolute: str,
    row: int,
    row_absolute: str,
    low: str = "",
    needed: str = "",
) -> str:
    """The typed value in SI.

    ``low`` is the cell of a value that it may not be below. ``needed`` is the cell that says
    whether a blank is refused: that of the row's use.
    """

    def on_units(letter: str) -> str:
        return f"Units!{absolute}{letter}{row_absolute}{row}"

    inside = f"(MEDIAN({address},{on_units(FROM)}:{absolute}{TO}{row_absolute}{row})={address})"
    if kind == "time":
        inside = f"AND({inside},{no_time_of_day(address)})"
    elif kind == "share":
        inside = f"AND({inside},OR({address}=0,{address}>={on_units(GAP)}))"
    elif kind in WHOLE:
        inside = f"AND({inside},{address}=INT({address}))"
    converted = f"({address}+{on_units(ADD)})*{on_units(TIMES)}"
    if low:
        inside += f"/(IFERROR(N({low}),0)<={converted})"
    blank = f'CHOOSE({needed}+1,"",NA())' if needed else on_units(IF_BLANK)
    return f"=IFERROR(IF(ISBLANK({address}),{blank},{converted}/{inside}),NA())"
