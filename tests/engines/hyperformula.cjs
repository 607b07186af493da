// Cells of a workbook calculated by HyperFormula: its module, the cells and names as JSON.
const { readFileSync } = require("node:fs");
const [script, task] = process.argv.slice(2);
const { HyperFormula } = require(script);

const { sheets, names } = JSON.parse(readFileSync(task, "utf8"));
const engine = HyperFormula.buildEmpty({
  licenseKey: "gpl-v3", maxRows: 40000, useArrayArithmetic: true,
});
for (const title of Object.keys(sheets)) engine.addSheet(title);
engine.suspendEvaluation();
for (const [name, text] of Object.entries(names)) engine.addNamedExpression(name, "=" + text);
for (const [title, cells] of Object.entries(sheets)) {
  const grid = [];
  for (const [row, column, content] of cells) {
    while (grid.length <= row) grid.push([]);
    while (grid[row].length <= column) grid[row].push(null);
    grid[row][column] = content;
  }
  engine.setSheetContent(engine.getSheetId(title), grid);
}
engine.resumeEvaluation();
const found = {};
for (const title of Object.keys(sheets)) {
  const rows = engine.getSheetValues(engine.getSheetId(title));
  found[title] = rows.map((row) =>
    row.map((one) => (one && typeof one === "object" ? { error: one.value } : one))
  );
}
process.stdout.write(JSON.stringify(found));
