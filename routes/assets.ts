import { Hono } from "hono";
import type { Parts } from "./_parts.ts";

/** The browser's files. A name holds a hash of its content, so a browser may keep the file for good. */
export function assets(parts: Parts): Hono {
  return new Hono().get("/assets/:name", async (c) => {
    const file = await parts.assets.read(c.req.param("name"));
    if (file === null) return c.notFound();
    return c.body(file.body, 200, {
      "content-type": file.type,
      "cache-control": "public, max-age=31536000, immutable",
    });
  });
}
