/** One source file of the project, as the rules about imports and words see it. */
export interface Source {
  /** Path from the root of the project, such as core/units.ts. */
  readonly path: string;
  /** The text without comments and without what stands in quotes, for rules about words in code. */
  readonly code: string;
  /** What it imports at run time or as a type: a path from the root for its own files, else a package's name. */
  readonly imports: readonly string[];
  /** The subset of `imports` that is still there at run time. */
  readonly values: readonly string[];
}

const IMPORT =
  /\b(?:import|export)\s+(?:([^"'`;]*?)\sfrom\s+)?["']([^"']+)["']|\bimport\(\s*["']([^"']+)["']\s*\)/g;

/** Reads all TypeScript files of a room. */
export function readRoom(room: string): Source[] {
  return [...Deno.readDirSync(room)].flatMap((entry) => {
    const path = `${room}/${entry.name}`;
    if (entry.isDirectory) return readRoom(path);
    return /\.tsx?$/.test(entry.name) ? [readSource(path, Deno.readTextFileSync(path))] : [];
  });
}

/** Reads one file's imports and code out of its text. */
export function readSource(path: string, text: string): Source {
  const bare = text.replace(/\/\*[\s\S]*?\*\/|(?<=^|\s)\/\/.*$/gm, "");
  const found = [...bare.matchAll(IMPORT)].map(([, clause, target, dynamic]) => ({
    type: clause !== undefined && isOnlyTypes(clause),
    name: resolve(path, target ?? dynamic ?? ""),
  }));
  return {
    path,
    code: bare.replace(/"(?:[^"\\\n]|\\.)*"|'(?:[^'\\\n]|\\.)*'/g, '""'),
    imports: found.map(({ name }) => name),
    values: found.filter(({ type }) => !type).map(({ name }) => name),
  };
}

/** True for `type { A }` and for `{ type A, type B }`, which leave nothing behind at run time. */
function isOnlyTypes(clause: string): boolean {
  if (/^type\s/.test(clause)) return true;
  const names = /^\{([^}]*)\}$/.exec(clause.trim())?.[1]?.split(",").filter((name) => name.trim() !== "");
  return names !== undefined && names.every((name) => /^\s*type\s/.test(name));
}

function resolve(path: string, target: string): string {
  if (target.startsWith(".")) return new URL(target, `file:///${path}`).pathname.slice(1);
  return target.split("/").slice(0, target.startsWith("@") ? 2 : 1).join("/");
}
