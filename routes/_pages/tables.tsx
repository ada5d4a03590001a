import type { ComponentChildren, VNode } from "preact";

/** A column of a table: numbers end at a common edge, and the unit stands once, in the head. */
export interface Column {
  readonly name: string;
  readonly number?: boolean;
  /** Holds sentences, which may run over several lines. */
  readonly prose?: boolean;
}

/** A cell; its column says how it is set. */
export type Cell = ComponentChildren;

/** A table under its own heading. With no rows, what `none` says stands in its place. */
export function Part({ title, about, columns, rows, none, wide, fold, children }: {
  title: string;
  about?: string;
  columns: readonly Column[];
  rows: readonly (readonly Cell[])[];
  none: string;
  /** Takes the whole width of the page. */
  wide?: boolean;
  /** May be folded away, and is on a phone. */
  fold?: boolean;
  children?: ComponentChildren;
}): VNode {
  const kind = wide ? "part wide" : "part";
  const inside = (
    <>
      {about !== undefined && <p class="quiet">{about}</p>}
      {rows.length === 0 ? <p class="none">{none}</p> : <Table columns={columns} rows={rows} />}
      {children}
    </>
  );
  if (fold) return <Fold title={title} kind={kind}>{inside}</Fold>;
  return (
    <section class={kind} aria-label={title}>
      <h2>{title}</h2>
      {inside}
    </section>
  );
}

/** A part that stands open at a desk and may be folded away; on a phone LiveYear folds it. */
export function Fold({ title, kind, children }: {
  title: string;
  kind: string;
  children: ComponentChildren;
}): VNode {
  return (
    <details class={`${kind} fold`} open data-fold>
      <summary>
        <h2>{title}</h2>
      </summary>
      {children}
    </details>
  );
}

/** A plain table; on a phone each row becomes a small list with its column names. */
export function Table({ columns, rows, caption }: {
  columns: readonly Column[];
  rows: readonly (readonly Cell[])[];
  caption?: string;
}): VNode {
  return (
    <table class={columns.length < 3 ? "narrow" : undefined}>
      {caption !== undefined && <caption class="unseen">{caption}</caption>}
      <thead>
        <tr>
          {columns.map(({ name, number }) => (
            <th key={name} scope="col" class={number ? "number" : undefined}>{name}</th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((row, index) => (
          <tr key={index}>
            {row.map((cell, at) => (
              <td key={at} data-name={columns[at]?.name} class={lookOf(columns[at])}>{cell}</td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function lookOf(column: Column | undefined): string | undefined {
  return column?.number ? "number" : column?.prose ? "prose" : undefined;
}
