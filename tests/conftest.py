"""What pytest leaves alone: scripts that are run, not imported."""

import gc
from functools import lru_cache

from twodrum.cli import FEW_LOOKS
from twodrum.xlsx import book
from twodrum.xlsx.scan import scan_sheet

# As the program itself does.
gc.set_threshold(FEW_LOOKS)
# Most tests read the same sheets again; what a sheet part holds follows from its bytes alone.
book.scan_sheet = lru_cache(maxsize=256)(scan_sheet)

collect_ignore = [
    "libreoffice/driver.py",
    "run.py",
    "hosts/calc_driver.py",
    "hosts/xlwings_driver.py",
    "hosts/vba_driver.py",
]
