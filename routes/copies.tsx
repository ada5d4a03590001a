import { Hono } from "hono";
import type { SecureHeadersVariables } from "hono/secure-headers";
import { CopiesPage } from "./_pages/copies.tsx";
import type { Parts } from "./_parts.ts";
import { Refusal } from "./_shell/errors.tsx";
import { page } from "./_shell/page.tsx";
import { folderTrouble, inWords } from "./_store/trouble.ts";

/** The copies of the store: the list of them, taking one, and carrying one away. */
export function copies(parts: Parts): Hono<{ Variables: SecureHeadersVariables }> {
  return new Hono<{ Variables: SecureHeadersVariables }>()
    .get("/copies", (c) =>
      c.html(page({
        title: "Copies of the store",
        nonce: c.get("secureHeadersNonce"),
        assets: parts.assets,
        body: (
          <>
            <header class="masthead">
              <nav aria-label="Pages">
                <a href="/">The year</a>
                <a href="/copies" aria-current="page">Copies</a>
              </nav>
            </header>
            <main id="main">
              <CopiesPage
                copies={parts.copies.list()}
                folder={parts.copies.folder}
                failure={parts.copies.failure()}
              />
            </main>
          </>
        ),
      })))
    .post("/copies/now", async (c) => {
      try {
        await parts.copies.copyNow();
      } catch (error) {
        const found = folderTrouble(error, parts.copies.folder);
        if (found === null) throw error;
        console.error(inWords(found.trouble));
        throw new Refusal(found.kind === "full" ? 507 : 503, {
          ...found.trouble,
          what: `No copy was taken. ${found.trouble.what}`,
          whatToDo: `${found.trouble.whatToDo} The store itself was not touched.`,
        });
      }
      return c.redirect("/copies", 303);
    })
    .get("/copies/:name", (c) => {
      const name = c.req.param("name");
      const found = parts.copies.open(name);
      if (found === null) {
        throw new Refusal(404, {
          what: "There is no copy of this name.",
          where: name,
          whatToDo:
            "Go to /copies, which lists the copies there are. The oldest daily copy goes when a new one comes.",
        });
      }
      return c.body(found.body, 200, {
        "content-type": "application/vnd.sqlite3",
        "content-disposition": `attachment; filename="${found.copy.name}"`,
        "content-length": String(found.copy.bytes),
        "cache-control": "no-store",
      });
    });
}
