"""The add-in as LibreOffice loads it: cells in, cells out; nothing is computed here.

It stands at the top of the .oxt file with the package beside it in ``pythonpath``, and runs in
the Python that LibreOffice brings, 3.9 or newer.
"""

import struct
import sys
from pathlib import Path

import uno
import unohelper
from com.sun.star.lang import XLocalizable, XServiceInfo

# The package beside this file comes first, whatever else is installed.
sys.path.insert(0, str(Path(__file__).parent / "pythonpath"))

from twodrum.hosts.calc import METHODS, SERVICE, TYPES
from twodrum.worksheet.call import Refused, answer, in_unit, why

# How LibreOffice knows #N/A: a double that is no number, with the error's number in its bits.
NOT_AVAILABLE = struct.unpack("<d", struct.pack("<Q", 0x7FF8000000007FFF))[0]


def cells(rows):
    """Rows as LibreOffice takes them; a refused number is #N/A, so that totals refuse too."""
    return tuple(
        tuple(NOT_AVAILABLE if isinstance(cell, Refused) else cell for cell in row) for row in rows
    )


def method(name):
    """The method of one worksheet function."""

    def called(self, *given):
        return cells(answer(name, given))

    return called


class Functions(unohelper.Base, XServiceInfo, XLocalizable, uno.getClass(TYPES)):
    """Every worksheet function, by the names that the type library gives them."""

    def __init__(self, context, *arguments):
        self.locale = uno.createUnoStruct("com.sun.star.lang.Locale")

    def getImplementationName(self):
        return SERVICE

    def supportsService(self, name):
        return name in self.getSupportedServiceNames()

    def getSupportedServiceNames(self):
        return (SERVICE, "com.sun.star.sheet.AddIn")

    def setLocale(self, locale):
        self.locale = locale

    def getLocale(self):
        return self.locale

    def why(self, name, given):
        return why(str(name), given)

    def convert(self, value, unit, wanted):
        return cells(in_unit(value, unit, wanted))


for own, worksheet_name in METHODS.items():
    setattr(Functions, own, method(worksheet_name))

g_ImplementationHelper = unohelper.ImplementationHelper()
g_ImplementationHelper.addImplementation(Functions, SERVICE, ("com.sun.star.sheet.AddIn",))
