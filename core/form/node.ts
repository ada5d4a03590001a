import type { z } from "zod";

/** One thing a person can choose. */
export interface Choice {
  /** As it is sent. */
  readonly text: string;
  /** As it is read. */
  readonly words: string;
  /** As it stands in the season. */
  readonly is: unknown;
}

/** Whose word a value is: a default nobody has replaced, the farm's own figure, or something measured. */
export type Standing = "book value" | "own figure" | "measured";

/** What the data dictionary says about a number, in the reader's unit. */
export interface NumberFacts {
  readonly unit: string;
  readonly basis: string;
  readonly plausible: string;
  readonly source: string;
}

interface Named {
  /** JSON pointer from the top of the form's value; also the name of the input. */
  readonly name: string;
  readonly label: string;
  readonly meaning: string;
  /** May be left empty. */
  readonly optional: boolean;
}

/** How a field is filled in. `id` is made when it is left empty, `fixed` cannot be changed any more. */
export type Control = "number" | "text" | "long text" | "day" | "minute" | "time" | "choice" | "id" | "fixed";

/** One value in one input. */
export interface FieldNode extends Named {
  readonly kind: "field";
  readonly control: Control;
  readonly schema: z.core.$ZodType;
  /** What stood there when the form was made. */
  readonly seen: unknown;
  /** What an emptied field stands for. */
  readonly fallback: unknown;
  /** The text of what stood there. */
  readonly shown: string;
  /** The text that stands in the field now. */
  readonly text: string;
  readonly choices: readonly Choice[];
  /** The value of a typed text, for a number: rounded to whole grams and cents, in the unit of the file. */
  readonly toFile?: (digits: string) => number;
  /** A number of the file as the reader reads it. */
  readonly toText?: (inFile: number) => string;
  readonly facts?: NumberFacts;
  readonly standing?: Standing;
  /** What stood there lies outside the usual range. */
  readonly unlikely?: boolean;
}

/** Several of a few things, each with a tick. */
export interface SetNode extends Named {
  readonly kind: "set";
  readonly choices: readonly Choice[];
  readonly seen: readonly unknown[] | undefined;
  readonly fallback: unknown;
  /** Fewest that have to be ticked. */
  readonly least: number;
  /** Texts of the choices that are ticked now. */
  readonly picked: readonly string[];
}

/** A group of fields. One that may be left out is absent when all its fields are empty, or when it is ticked out. */
export interface GroupNode extends Named {
  readonly kind: "group";
  readonly seen: unknown;
  readonly out: boolean;
  readonly fields: readonly FormNode[];
}

/** Twelve numbers, January first. */
export interface MonthsNode extends Named {
  readonly kind: "months";
  readonly seen: unknown;
  readonly out: boolean;
  readonly fields: readonly FieldNode[];
}

/** One row of a list. */
export interface Row {
  readonly node: FormNode;
  /** Stood there when the form was made. */
  readonly old: boolean;
  /** Ticked to be taken out. */
  readonly out: boolean;
}

/** A list whose rows are filled in one below the other. */
export interface RowsNode extends Named {
  readonly kind: "rows";
  readonly seen: unknown;
  /** What one row is called. */
  readonly rowWord: string;
  readonly least: number;
  readonly most: number;
  readonly rows: readonly Row[];
}

/** A value of one of several kinds, each with its own fields. */
export interface KindsNode extends Named {
  readonly kind: "kinds";
  readonly seen: unknown;
  readonly choice: FieldNode;
  /** Fields of the chosen kind; none while nothing is chosen. */
  readonly fields: readonly FormNode[];
}

/** A form, or a part of one. */
export type FormNode = FieldNode | SetNode | GroupNode | MonthsNode | RowsNode | KindsNode;

/** What a form sends: the texts under each name. */
export type Entries = ReadonlyMap<string, readonly string[]>;
