"""Steps for a person who has Excel on Windows: a quarter of an hour, and what has to be seen."""

from __future__ import annotations

# The sheet of the functions, and the one of the steps.
FUNCTIONS, SHEET = "Functions", "Steps in Excel"
HEADS = ("Step", "What to do", "What has to be seen", "Seen", "What stood there instead")
FIRST = 5
SEEN = ("yes", "no")
ABOUT = (
    "None of this was run yet. Type yes or no beside each step that you tried, and what stood there"
    " where it was another thing; save, and run: twodrum installed functions.xlsx"
)
STEPS = (
    (
        r"In a folder of its own, on a path with an ü: py -m venv .venv, then .venv\Scripts\pip "
        r"install PATH\OF\TWODRUM[excel], then .venv\Scripts\twodrum installed",
        'It ends with "Excel: nothing stands in its way".',
    ),
    (
        r".venv\Scripts\twodrum addin excel, and the steps that it prints; Debug, Compile",
        "The import shows no message, twodrum_functions stands under Modules, and Compile says "
        "nothing.",
    ),
    (
        'In a new workbook: =TD_DEW_POINT(20,70%), =TD_DEW_POINT(99,70%), =TD_WHY("TD_DEW_POINT",'
        "99,70%)",
        "14.36, #N/A, and a sentence with 60 °C.",
    ),
    (
        "The fx button on the first of these cells",
        "A help of the function and of each argument; groups that begin with twodrum.",
    ),
    ("The sheet Functions of this workbook", "Its first cell says that all agree."),
    (
        r"twodrum demo --out demo, then demo\job-metric.xlsx in Excel; another film typed on Job",
        "No message of a repair, charts on Film and loss and Warm-up; the price moves at once.",
    ),
    (
        "Alt+F8, TwodrumFill, in that workbook",
        "It asks, the workbook goes and comes back at the same cell, a box tells price and litres, "
        "Start says OK.",
    ),
    (
        "The same in a workbook that was never saved, and in one that another Excel has open",
        "A sentence each, and nothing else happens.",
    ),
    (
        "The folder .venv renamed, Excel started again",
        "Functions show #VALUE!, TD_WHY says that Python could not be called, TwodrumFill too, and "
        "the job is open again. Give the folder its name back.",
    ),
    (
        r"twodrum fill --live demo\job-metric.xlsx, opened without the add-in",
        "Values stand there until Excel calculates anew.",
    ),
    (
        r"Where LibreOffice is not installed: twodrum issue demo\job-metric.xlsx",
        "A PDF beside it, with the page of the quote alone, made by Excel.",
    ),
)
