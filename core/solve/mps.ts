import type { LinearModel } from "./linear.ts";

/**
 * A model as free-format MPS, the exchange format that solvers of linear and integer models read: one objective row `cost`,
 * minimised; columns `c0`, `c1`, … and rows `r0`, `r1`, … in the model's order. Numbers are written in full; of a
 * row closed to both sides MPS knows the upper and the width. Rows that are open to both sides are written as free (`N`) rows.
 */
export function mpsOf(model: LinearModel, name: string): string {
  // Without the word FREE some readers look for fixed columns.
  const lines = [`NAME ${name} FREE`, "ROWS", " N cost"];
  const rows = model.rowLower.length;
  for (let row = 0; row < rows; row++) lines.push(` ${kindOf(model, row)} r${row}`);
  lines.push("COLUMNS", ...columnLines(model), "RHS");
  for (let row = 0; row < rows; row++) {
    const side = kindOf(model, row) === "G" ? model.rowLower[row] : model.rowUpper[row];
    if (Number.isFinite(side) && side !== 0) lines.push(` RHS r${row} ${side}`);
  }
  lines.push("RANGES");
  for (let row = 0; row < rows; row++) {
    const width = (model.rowUpper[row] as number) - (model.rowLower[row] as number);
    if (kindOf(model, row) === "L" && Number.isFinite(width)) lines.push(` RANGE r${row} ${width}`);
  }
  lines.push("BOUNDS");
  model.cost.forEach((_, column) => {
    lines.push(` LO BOUND c${column} ${model.lower[column]}`, ` UP BOUND c${column} ${model.upper[column]}`);
  });
  lines.push("ENDATA", "");
  return lines.join("\n");
}

/** E: both sides equal; G: open above; L: closed above, and below too where RANGES says so; N: open to both sides. */
function kindOf({ rowLower, rowUpper }: LinearModel, row: number): "E" | "G" | "L" | "N" {
  const lower = rowLower[row] as number;
  const upper = rowUpper[row] as number;
  if (lower === upper) return "E";
  if (upper !== Infinity) return "L";
  return lower === -Infinity ? "N" : "G";
}

/** MPS goes by columns, the model by rows; whole columns stand between two markers. */
function columnLines(model: LinearModel): string[] {
  const entries = model.cost.map((): string[] => []);
  for (let row = 0; row < model.rowLower.length; row++) {
    for (let at = model.start[row] as number; at < (model.start[row + 1] as number); at++) {
      entries[model.index[at] as number]?.push(` c${model.index[at]} r${row} ${model.value[at]}`);
    }
  }
  const lines: string[] = [];
  let whole = 0;
  const mark = () => lines.push(` MARKER${lines.length} 'MARKER' '${whole ? "INTORG" : "INTEND"}'`);
  model.cost.forEach((cost, column) => {
    if (model.integer[column] !== whole) {
      whole = model.integer[column] as number;
      mark();
    }
    // A column without entries would go unnamed without its cost.
    lines.push(` c${column} cost ${cost}`, ...(entries[column] as string[]));
  });
  if (whole) {
    whole = 0;
    mark();
  }
  return lines;
}
