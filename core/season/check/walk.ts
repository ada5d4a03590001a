import { z } from "zod";
import { type Path, valueAt } from "./finding.ts";

type Schema = z.core.$ZodType;

/** What stands behind optional and default, whether the value may be left out, and what then stands for it. */
export interface Unwrapped {
  readonly schema: Schema;
  readonly optional: boolean;
  readonly fallback: unknown;
}

/** Takes optional and default off a schema. */
export function unwrapped(schema: Schema): Unwrapped {
  if (schema instanceof z.ZodOptional) return { ...unwrapped(schema.def.innerType), optional: true };
  if (schema instanceof z.ZodDefault) {
    return { ...unwrapped(schema.def.innerType), fallback: schema.def.defaultValue };
  }
  return { schema, optional: false, fallback: undefined };
}

/** The schema behind optional, default and union, as far as the value decides which one it is. */
export function plainSchema(schema: Schema, value: unknown): Schema | undefined {
  if (schema instanceof z.ZodOptional || schema instanceof z.ZodDefault) {
    return plainSchema(schema.def.innerType, value);
  }
  if (schema instanceof z.ZodDiscriminatedUnion) {
    const key = schema.def.discriminator;
    const tag = typeof value === "object" && value !== null
      ? (value as Record<string, unknown>)[key]
      : undefined;
    return schema.options.find((option) =>
      option instanceof z.ZodObject && option.shape[key] instanceof z.ZodLiteral &&
      option.shape[key].values.has(tag as string)
    );
  }
  return schema;
}

/** The schema of what stands one step further down. */
function below(schema: Schema | undefined, step: string | number): Schema | undefined {
  if (schema instanceof z.ZodArray && typeof step === "number") return schema.element;
  if (schema instanceof z.ZodObject && Object.hasOwn(schema.shape, step)) return schema.shape[step];
  return undefined;
}

/** The schema at a path of a value that should fit `root`, with its optional, default and union. */
export function wholeSchemaAt(root: Schema, value: unknown, path: Path): Schema | undefined {
  let schema: Schema | undefined = root, at = value;
  for (const step of path) {
    schema = below(schema === undefined ? undefined : plainSchema(schema, at), step);
    at = typeof at === "object" && at !== null ? (at as Record<string | number, unknown>)[step] : undefined;
  }
  return schema;
}

/** The plain schema at a path of a value that should fit `root`. */
export function schemaAt(root: Schema, value: unknown, path: Path): Schema | undefined {
  const schema = wholeSchemaAt(root, value, path);
  return schema === undefined ? undefined : plainSchema(schema, valueAt(value, path));
}

/** Visits every number of a value that fits its schema, with the number's own schema. */
export function eachNumber(
  root: Schema,
  value: unknown,
  visit: (path: Path, schema: Schema, value: number) => void,
  path: Path = [],
): void {
  const schema = plainSchema(root, value);
  if (schema === undefined) return;
  if (typeof value === "number") return visit(path, schema, value);
  if (typeof value !== "object" || value === null) return;
  for (const key of Object.keys(value)) {
    const step = Array.isArray(value) ? Number(key) : key;
    const next = below(schema, step);
    if (next !== undefined) {
      eachNumber(next, (value as Record<string, unknown>)[key], visit, [...path, step]);
    }
  }
}
