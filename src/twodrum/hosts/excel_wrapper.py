"""The text of the VBA module that gives Excel our functions, with true error values.

xlwings writes wrappers of its own; those show a failure as a text, which a total would pass
over. These call the same entry of xlwings and turn a marked text into the error that it names.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..catalogue import FUNCTIONS
from ..worksheet.help import SPECIALS, argument_help, result_help
from .excel_macro import FILL

# What a marked text begins with, and Excel's number of each error.
MARK = "#ERR:"
ERRORS = {
    "#NULL!": 2000,
    "#DIV/0!": 2007,
    "#VALUE!": 2015,
    "#REF!": 2023,
    "#NAME?": 2029,
    "#NUM!": 2036,
    "#N/A": 2042,
}
MODULE = "twodrum_functions"
# The Python module that xlwings calls.
CALLED = "twodrum.hosts.excel"
# Excel cuts what it shows in its wizard there; VBA takes lines and procedures of some size.
LONGEST_HELP = 255
IN_ONE_PROCEDURE = 25
WHY = SPECIALS[0].name
UNIT = "result_unit"
MOST_ARGUMENTS = max(len(function.arguments) for function in FUNCTIONS) + 1
# Words that VBA keeps for itself.
RESERVED_WORDS = """
and any as base binary boolean byref byte byval call case close compare const currency date declare
dim do double each else empty end enum eqv erase error event exit explicit false for friend function
get global gosub goto if imp implements in integer is len let like line lock long loop lset me mod
module name new next not nothing null object on open option optional or output paramarray preserve
print private property public put raiseevent random read redim rem resume return rset seek select
set shared single spc static step stop string sub tab text then time to true type typeof unlock
until variant wend while width with withevents write xor
"""
RESERVED = frozenset(RESERVED_WORDS.split())


def place_name(name: str) -> str:
    """The name of an argument in VBA, which ignores case and keeps some words for itself."""
    return f"{name}_" if name.lower() in RESERVED else name


@dataclass(frozen=True)
class Declared:
    """A function as Excel is told of it; an argument is (name, help, whether optional)."""

    name: str
    category: str
    help: str
    arguments: tuple[tuple[str, str, bool], ...]


def declared() -> list[Declared]:
    """Every function, the two about the others last."""
    found = []
    for function in FUNCTIONS:
        arguments = [(a.name, argument_help(a), a.optional) for a in function.arguments]
        arguments.append((UNIT, result_help(function), True))
        # Excel takes no argument that must be given after one that may be left out.
        first = next(n for n, (_, _, may) in enumerate(arguments) if may)
        found.append(
            Declared(
                function.name,
                f"twodrum {function.category}",
                function.help[:LONGEST_HELP],
                tuple(
                    (place_name(name), text[:LONGEST_HELP], n >= first)
                    for n, (name, text, _) in enumerate(arguments)
                ),
            )
        )
    why, convert = SPECIALS
    category = "twodrum About the others"
    asked = [(why.arguments[0][0], why.arguments[0][2], False)]
    asked += [(f"given_{n}", why.arguments[1][2], True) for n in range(1, MOST_ARGUMENTS + 1)]
    found.append(Declared(why.name, category, why.help, tuple(asked)))
    pieces = tuple((key, text, False) for key, _, text in convert.arguments)
    found.append(Declared(convert.name, category, convert.help, pieces))
    return found


# What a .bas file cannot hold, which Excel reads in the machine's own small character set.
PLAIN = {
    "/Δ": "/",
    "Δ": "delta ",
    "°": "deg",
    "µ": "u",
    "²": "2",
    "³": "3",
    "·": " ",
    "–": "-",
    "×": "x",
}


def plain(text: str) -> str:
    """A text for VBA in ASCII; our units are understood in these spellings too."""
    for letter, instead in PLAIN.items():
        text = text.replace(letter, instead)
    return text.encode("ascii", "replace").decode().replace('"', '""')


HEAD = f"""Attribute VB_Name = "{MODULE}"
Option Explicit

' Made by twodrum addin excel; changes are lost when it is made again.

Private Function TDCell(ByVal found As Variant) As Variant
    TDCell = found
    If VarType(found) <> vbString Then Exit Function
    If Left$(found, {len(MARK)}) <> "{MARK}" Then Exit Function
    Select Case Mid$(found, {len(MARK) + 1})
{{cases}}
        Case Else: TDCell = CVErr(2015)
    End Select
End Function

Private Function TDCells(ByVal found As Variant) As Variant
    Dim r As Long, c As Long
    If Not IsArray(found) Then
        TDCells = TDCell(found)
        Exit Function
    End If
    For r = LBound(found, 1) To UBound(found, 1)
        For c = LBound(found, 2) To UBound(found, 2)
            found(r, c) = TDCell(found(r, c))
        Next c
    Next r
    TDCells = found
End Function
"""


def head() -> str:
    """The part that all functions share."""
    cases = "\n".join(
        f'        Case "{text}": TDCell = CVErr({number})' for text, number in ERRORS.items()
    )
    return HEAD.replace("{cases}", cases)


def wrapper(function: Declared) -> str:
    """One function as Excel calls it; TD_WHY also says why Python could not be called at all."""
    name = function.name
    signature = ", ".join(f"Optional {key}" if may else key for key, _, may in function.arguments)
    array = ", ".join(key for key, _, _ in function.arguments)
    failed = "TDTrouble(Err.Description)" if name == WHY else "CVErr(2015)"
    return f"""
Public Function {name}({_broken(signature)}) As Variant
    On Error GoTo failed
    {name} = TDCells(XLPy.CallUDF("{CALLED}", "{name}", _
        Array({_broken(array)}), ThisWorkbook, Application.Caller))
    Exit Function
failed:
    {name} = {failed}
End Function
"""


def _broken(listed: str) -> str:
    """A list over several lines where it is long."""
    lines, line = [], ""
    for piece in listed.split(", "):
        if len(line) + len(piece) > 80:
            lines.append(line)
            line = ""
        line += f"{piece}, "
    return ", _\n        ".join(
        [*(one.removesuffix(", ") for one in lines), line.removesuffix(", ")]
    )


def described(functions: list[Declared]) -> str:
    """What the function wizard shows, told to Excel when the workbook opens."""
    parts, calls = [], []
    for start in range(0, len(functions), IN_ONE_PROCEDURE):
        number = start // IN_ONE_PROCEDURE + 1
        lines = [f"Private Sub TDDescribe{number}()", "    On Error Resume Next"]
        for function in functions[start : start + IN_ONE_PROCEDURE]:
            helps = ", _\n            ".join(
                f'"{plain(text)}"' for _, text, _ in function.arguments
            )
            lines += [
                f'    Application.MacroOptions Macro:="{function.name}", _',
                f'        Description:="{plain(function.help)}", _',
                f'        Category:="{plain(function.category)}", _',
                f"        ArgumentDescriptions:=Array( _\n            {helps})",
            ]
        parts.append("\n".join([*lines, "End Sub", ""]))
        calls.append(f"    TDDescribe{number}")
    # Excel describes no macro of a hidden workbook, which an add-in is.
    opening = "\n".join(
        [
            "Public Sub Auto_Open()",
            "    Dim hidden As Boolean",
            "    On Error Resume Next",
            "    hidden = ThisWorkbook.IsAddin",
            "    Application.ScreenUpdating = False",
            "    ThisWorkbook.IsAddin = False",
            *calls,
            "    ThisWorkbook.IsAddin = hidden",
            "    ThisWorkbook.Saved = True",
            "    Application.ScreenUpdating = True",
            "End Sub",
            "",
        ]
    )
    return "\n".join([*parts, opening])


def module_text() -> str:
    """The whole module, to be imported in Excel's editor."""
    functions = declared()
    return "".join([head(), *map(wrapper, functions), FILL, described(functions)])
