// Calls of worksheet functions in a Python that runs in a browser: module, wheel, calls as JSON.
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [module, wheel, calls] = process.argv.slice(2);
const { loadPyodide } = await import(pathToFileURL(module));
const python = await loadPyodide();
const archive = new Uint8Array(readFileSync(wheel));
python.unpackArchive(archive, "zip", { extractDir: "/twodrum" });
python.globals.set("calls", readFileSync(calls, "utf8"));
console.log(python.runPython(`
import json, sys, time
sys.path.insert(0, "/twodrum")
start = time.perf_counter()
import twodrum
from twodrum.worksheet.call import Refused, answer
took = time.perf_counter() - start

def told(cell):
    if isinstance(cell, Refused):
        return list(cell.reasons)
    return cell.hex() if isinstance(cell, float) else cell

found = [
    [[told(cell) for cell in row] for row in answer(name, given)]
    for name, given in json.loads(calls)
]
near = {"pandas", "pint", "openpyxl", "rich", "xlwings", "numpy"} & set(sys.modules)
said = {"found": found, "others": sorted(near), "seconds": took, "python": sys.version}
said["platform"] = sys.platform
json.dumps(said)
`));
