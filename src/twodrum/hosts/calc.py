"""LibreOffice Calc: the add-in as one .oxt file, made from the catalogue, and its installation."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
import zipfile
from pathlib import Path
from xml.sax.saxutils import escape

from .. import __version__
from ..catalogue import Argument, Function
from ..worksheet.call import BY_NAME
from ..worksheet.help import SPECIALS, argument_help, result_help
from . import LinkError

SERVICE = "twodrumcalc.Functions"
TYPES = "twodrumcalc.XFunctions"
IDENTIFIER = "twodrum.calc"
# What the package needs inside LibreOffice: everything that stays within Python 3.9.
PACKED = ("core", "catalogue", "engine", "worksheet")
PACKED_FILES = (
    "__init__.py",
    "units.py",
    "unit_table.py",
    "problems.py",
    "hosts/__init__.py",
    "hosts/calc.py",
)
# A file's time inside the archive, so that the same code gives the same bytes.
MOMENT = (2026, 1, 1, 0, 0, 0)
RESULT = "sequence< sequence<any> >"


def camel(name: str) -> str:
    """A name without underscores, which the type library does not allow."""
    head, *rest = name.lower().split("_")
    return head + "".join(word.capitalize() for word in rest)


def method_name(function: str) -> str:
    """TD_DEW_POINT is dewPoint."""
    return camel(function.removeprefix("TD_"))


METHODS: dict[str, str] = {method_name(name): name for name in BY_NAME}


def type_library() -> str:
    """The interface of the add-in in the words of the type library."""
    lines = ["module twodrumcalc {", "interface XFunctions : com::sun::star::uno::XInterface {"]
    for own, name in METHODS.items():
        arguments = [camel(item.name) for item in BY_NAME[name].arguments] + ["resultUnit"]
        listed = ", ".join(f"[in] any {argument}" for argument in arguments)
        lines.append(f"  {RESULT} {own}({listed});")
    lines.append("  any why([in] any functionName, [in] sequence<any> given);")
    lines.append(f"  {RESULT} convert([in] any value, [in] any unit, [in] any wantedUnit);")
    return "\n".join([*lines, "};", "};", ""])


def _property(name: str, text: str) -> str:
    return f'<prop oor:name="{name}"><value xml:lang="en-US">{escape(text)}</value></prop>'


def _node(own: str, name: str, help_text: str, arguments: list[tuple[str, str, str]]) -> str:
    parameters = "".join(
        f'<node oor:name="{key}" oor:op="replace">{_property("DisplayName", label)}'
        f"{_property('Description', text)}</node>"
        for key, label, text in arguments
    )
    return (
        f'<node oor:name="{own}" oor:op="replace">{_property("DisplayName", name)}'
        f"{_property('Description', help_text)}"
        '<prop oor:name="Category"><value>Add-In</value></prop>'
        f"{_property('CompatibilityName', name)}"
        f'<node oor:name="Parameters">{parameters}</node></node>'
    )


def _parameters(function: Function) -> list[tuple[str, str, str]]:
    def label(item: Argument) -> str:
        return f"{item.noun} (optional)" if item.optional else item.noun

    found = [(camel(item.name), label(item), argument_help(item)) for item in function.arguments]
    return [*found, ("resultUnit", "result unit (optional)", result_help(function))]


def wizard() -> str:
    """What the function wizard shows."""
    nodes = []
    for own, name in METHODS.items():
        function = BY_NAME[name]
        text = f"{function.category}: {function.help}"
        nodes.append(_node(own, name, text, _parameters(function)))
    for special in SPECIALS:
        arguments = [(camel(key), label, text) for key, label, text in special.arguments]
        nodes.append(_node(method_name(special.name), special.name, special.help, arguments))
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        '<oor:component-data xmlns:oor="http://openoffice.org/2001/registry"'
        ' xmlns:xs="http://www.w3.org/2001/XMLSchema" oor:name="CalcAddIns"'
        ' oor:package="org.openoffice.Office"><node oor:name="AddInInfo">'
        f'<node oor:name="{SERVICE}" oor:op="replace"><node oor:name="AddInFunctions">'
        f"{''.join(nodes)}</node></node></node></oor:component-data>\n"
    )


MANIFEST = """<?xml version="1.0" encoding="UTF-8"?>
<manifest:manifest xmlns:manifest="http://openoffice.org/2001/manifest">
<manifest:file-entry manifest:full-path="types.idl"
 manifest:media-type="application/vnd.sun.star.uno-typelibrary;type=RDB"/>
<manifest:file-entry manifest:full-path="component.py"
 manifest:media-type="application/vnd.sun.star.uno-component;type=Python"/>
<manifest:file-entry manifest:full-path="CalcAddIns.xcu"
 manifest:media-type="application/vnd.sun.star.configuration-data"/>
</manifest:manifest>
"""

# Older ones do not know our functions in an .xlsx.
OLDEST = "25.2"
DESCRIPTION = f"""<?xml version="1.0" encoding="UTF-8"?>
<description xmlns="http://openoffice.org/extensions/description/2006"
 xmlns:xlink="http://www.w3.org/1999/xlink">
<identifier value="{IDENTIFIER}"/><version value="{__version__}"/>
<display-name><name lang="en">twodrum worksheet functions</name></display-name>
<dependencies><l:LibreOffice-minimal-version value="{OLDEST}" d:name="LibreOffice {OLDEST}"
 xmlns:l="http://libreoffice.org/extensions/description/2011"
 xmlns:d="http://openoffice.org/extensions/description/2006"/></dependencies>
</description>
"""


def contents() -> dict[str, bytes]:
    """Every file of the add-in."""
    package = Path(__file__).parents[1]
    files = [package / name for name in PACKED_FILES]
    for folder in PACKED:
        files += sorted((package / folder).rglob("*.py"))
    found = {
        "META-INF/manifest.xml": MANIFEST.encode(),
        "description.xml": DESCRIPTION.encode(),
        "types.idl": type_library().encode(),
        "CalcAddIns.xcu": wizard().encode(),
        "component.py": (package / "hosts" / "calc_component.py").read_bytes(),
    }
    for file in files:
        place = file.relative_to(package).as_posix()
        found[f"pythonpath/twodrum/{place}"] = file.read_bytes()
    return found


def build(path: Path) -> None:
    """Write the add-in; the same code gives the same bytes. It never replaces a file."""
    if not path.name or path.is_dir():
        raise LinkError(f"{path}: a folder; the name of a file is wanted; write twodrum.oxt")
    if path.exists() or path.is_symlink():
        raise LinkError(
            f"{path}: it is there already; a new name is wanted; move it or name another"
        )
    if not path.parent.is_dir():
        raise LinkError(f"{path}: there is no folder {path.parent}; make it first")
    temporary = path.with_name(f".{path.name}.tmp")
    with zipfile.ZipFile(temporary, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in contents().items():
            entry = zipfile.ZipInfo(name, MOMENT)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, data)
    os.replace(temporary, path)


def unopkg() -> str:
    """LibreOffice's own program for extensions; LinkError where it is not found."""
    places = [
        shutil.which("unopkg"),
        "/usr/lib/libreoffice/program/unopkg",
        "/opt/libreoffice/program/unopkg",
        "/Applications/LibreOffice.app/Contents/MacOS/unopkg",
        *(
            os.path.join(os.environ.get(name, ""), "LibreOffice", "program", "unopkg.com")
            for name in ("ProgramFiles", "ProgramFiles(x86)")
        ),
    ]
    for place in places:
        if place and Path(place).is_file():
            return place
    raise LinkError(
        "LibreOffice's program unopkg was not found; it comes with LibreOffice Calc;"
        " install LibreOffice, or write the add-in with --build FILE and open that file"
    )


def _run(arguments: list[str]) -> None:
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        raise LinkError(
            "this runs as root; an add-in belongs to the user who works with it;"
            " run it as that user"
        )
    try:
        done = subprocess.run(
            [unopkg(), *arguments], capture_output=True, text=True, timeout=120, check=False
        )
    except subprocess.TimeoutExpired:
        raise LinkError(
            "LibreOffice did not answer for two minutes; it is to be closed; close it and try again"
        ) from None
    if done.returncode:
        lines = [line.strip() for line in f"{done.stderr}\n{done.stdout}".splitlines()]
        said = [line for line in lines if line and "unopkg failed" not in line]
        if any("no such extension" in line.lower() for line in said):
            raise LinkError("the add-in is not in LibreOffice; there is nothing to take out")
        if any("unsatisfied dependencies" in line for line in said):
            raise LinkError(
                f"LibreOffice does not take the add-in: it is older than {OLDEST}; that one"
                " does not know these functions in an .xlsx; install a newer LibreOffice"
            )
        raise LinkError(
            f"LibreOffice said: {said[-1] if said else 'nothing'};"
            " it has to be closed while an add-in is installed; close it and try again"
        )


def install() -> None:
    """Build the add-in and give it to this user's LibreOffice."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "twodrum.oxt"
        build(path)
        _run(["add", "--force", "--suppress-license", str(path)])


def remove() -> None:
    """Take the add-in out of this user's LibreOffice."""
    _run(["remove", IDENTIFIER])
