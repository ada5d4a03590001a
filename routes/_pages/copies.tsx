import type { VNode } from "preact";
import type { Trouble } from "../_shell/errors.tsx";
import type { Copy } from "../_store/copies.ts";
import { KEPT_COPIES } from "../_store/copy-keeper.ts";
import { Part } from "./tables.tsx";

/** The copies there are, how to take one, and the way back to one. `folder` is where they lie. */
export function CopiesPage({ copies, folder, failure }: {
  copies: readonly Copy[];
  folder: string;
  failure: { readonly at: Date; readonly trouble: Trouble } | null;
}): VNode {
  return (
    <article class="copies">
      <h1 class="sentence">
        {copies[0] === undefined
          ? "There is no copy of the farm's record yet."
          : `The newest copy of the farm's record is of ${moment(copies[0].at)}.`}
      </h1>
      {failure !== null && <Failure {...failure} />}
      <form method="post" action="/copies/now">
        <button type="submit">Copy now</button>
      </form>
      <div class="parts">
        <Part
          title="Copies"
          wide
          about={`They lie in ${folder}. The server takes one each day on which something has changed and keeps the newest ${KEPT_COPIES} of those; copies taken by hand stay until you remove them.`}
          columns={[
            { name: "Taken" },
            { name: "Size", number: true },
            { name: "By" },
            { name: "File" },
            { name: "Take it away" },
          ]}
          rows={copies.map(({ name, at, bytes, scheduled }) => [
            moment(at),
            size(bytes),
            scheduled ? "schedule" : "hand",
            name,
            <a key={name} href={`/copies/${name}`} download={name}>
              Take this copy<span class="unseen">{` of ${moment(at)}`}</span>
            </a>,
          ])}
          none="None yet. The server takes the first one when it starts."
        />
        <WayBack example={`${folder}/${copies[0]?.name ?? "FILE"}`} />
      </div>
    </article>
  );
}

function Failure({ at, trouble }: { at: Date; trouble: Trouble }): VNode {
  return (
    <div class="caution" role="alert">
      <p>
        <b>{`The daily copy was not taken (${moment(at)}).`}</b> {trouble.what} {trouble.whatToDo}
      </p>
      <p>
        <code>{trouble.where}</code>
      </p>
    </div>
  );
}

function WayBack({ example }: { example: string }): VNode {
  return (
    <section class="part" aria-label="How to go back to a copy">
      <h2>How to go back to a copy</h2>
      <ol>
        <li>Stop the server (Ctrl+C in its window).</li>
        <li>
          {"Run "}
          <code>{`deno task restore ${example}`}</code>
          {" with the copy's file. It is checked first; what is stored now is kept beside it, and the command says how to come back to that."}
        </li>
        <li>
          {"Start the server: "}
          <code>deno task start</code>
        </li>
      </ol>
      <p>
        A copy on the same disk is lost with the disk. Take one away now and then, to a stick or another
        machine.
      </p>
    </section>
  );
}

/** A moment by this machine's clock. */
function moment(at: Date): string {
  return at.toLocaleString("en-GB", {
    day: "numeric",
    month: "short",
    year: "numeric",
    hour: "2-digit",
    minute: "2-digit",
    second: "2-digit",
  });
}

function size(bytes: number): string {
  return bytes < 999_500 ? `${Math.ceil(bytes / 1000)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}
