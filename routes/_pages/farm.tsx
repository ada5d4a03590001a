import type { VNode } from "preact";
import { type Content, CONTENTS } from "../../core/form/contents.ts";
import { type ListColumn, listTable } from "../../core/form/columns.ts";
import { NEW_ROW, spotAt } from "../../core/form/place.ts";
import { rowWord } from "../../core/season/check/thing.ts";
import type { Season } from "../../core/season/season.ts";
import { farmAddress, one, verbsAt } from "../_farm/words.ts";

/** The whole season file as a list of its parts, in the order of the trade. */
export function ContentsPage({ season, said }: { season: Season; said: string }): VNode {
  return (
    <main id="main" class="farm contents">
      <h1>The farm</h1>
      <Said said={said} />
      <p class="quiet">
        Everything the plan is made from. Whatever is changed here is checked, saved and planned again at
        once.
      </p>
      <div class="groups">
        {CONTENTS.map(({ title, contents }) => (
          <section key={title} aria-label={title}>
            <h2>{title}</h2>
            <ul>{contents.map((one) => <Line key={one.place} season={season} content={one} />)}</ul>
          </section>
        ))}
      </div>
    </main>
  );
}

function Line({ season, content }: { season: Season; content: Content }): VNode {
  const { place, kind, title, about } = content;
  const rows = kind === "list" ? spotAt(season, place)?.value as readonly unknown[] ?? [] : null;
  return (
    <li>
      <a href={farmAddress(season.id, kind, place)}>{title}</a>
      <span class="count">{rows === null ? "" : rows.length}</span>
      <span class="quiet about">{about}</span>
    </li>
  );
}

function Said({ said }: { said: string }): VNode | null {
  return said === "" ? null : <p class="said" role="status">{said}</p>;
}

/** The rows of one list as a table. */
export function ListPage({ season, content, said }: {
  season: Season;
  content: Content;
  said: string;
}): VNode {
  const { place, title, about } = content;
  const { columns, rows } = listTable(season, place);
  const word = rowWord(place.split("/").slice(1));
  const plain = word.replace(/^(recorded|booked) /, "");
  const verbs = verbsAt(`${place}/`);
  return (
    <main id="main" class="farm list">
      <p class="back">
        <a href={`/seasons/${season.id}/farm`}>The farm</a>
      </p>
      <h1>{title}</h1>
      <Said said={said} />
      <p class="quiet">{`${about[0]?.toUpperCase()}${about.slice(1)}.`}</p>
      <p class="acts">
        <a class="button" href={farmAddress(season.id, "form", `${place}/${NEW_ROW}`)}>
          {`${verbs.add} ${one(plain)}`}
        </a>
      </p>
      {rows.length === 0 ? <p class="none">There is none yet.</p> : (
        <div class="part">
          <table>
            <thead>
              <tr>
                <th scope="col">{`${word[0]?.toUpperCase()}${word.slice(1)}`}</th>
                {columns.map((column) => (
                  <th key={column.name} scope="col" class={column.number ? "number" : undefined}>
                    {headOf(column)}
                  </th>
                ))}
                <th scope="col">
                  <span class="unseen">What can be done</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {rows.map((row) => (
                <tr key={row.key}>
                  <td>
                    <a href={farmAddress(season.id, "form", row.place)}>{row.title}</a>
                    {row.title !== row.key && <span class="quiet key">{` ${row.key}`}</span>}
                  </td>
                  {row.cells.map((cell, at) => (
                    <td
                      key={columns[at]!.name}
                      data-name={headOf(columns[at]!)}
                      class={columns[at]!.number ? "number" : undefined}
                    >
                      {cell}
                    </td>
                  ))}
                  <td class="acts">
                    <a href={farmAddress(season.id, "form", row.place)}>
                      {verbs.change}
                      <span class="unseen">{` ${row.title}`}</span>
                    </a>
                    <a href={`${farmAddress(season.id, "form", row.place)}&out=1`}>
                      {verbs.takeOut}
                      <span class="unseen">{` ${row.title}`}</span>
                    </a>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </main>
  );
}

function headOf({ label, unit }: ListColumn): string {
  return unit === "" ? label : `${label}, ${unit}`;
}
