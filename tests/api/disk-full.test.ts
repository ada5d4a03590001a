import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { contentOf } from "../_support/old-store.ts";
import { openStore } from "../../routes/_store/open.ts";
import { demoSeason } from "../_support/demo.ts";
import { canMount, mountDisk, resizeDisk, unmount } from "../_support/mount.ts";
import { startServer, type TestServer } from "../_support/server.ts";

const ROOM_MIB = 6;

describe.skipIf(!canMount)("a whole server on a disk that fills up", () => {
  let folder: string;
  let server: TestServer;
  beforeEach(async () => {
    folder = Deno.makeTempDirSync();
    mountDisk(folder, `${ROOM_MIB}m`);
    server = await startServer(folder);
  });
  afterEach(async () => {
    await server.stop();
    unmount(folder);
    Deno.removeSync(folder);
  });

  const season = demoSeason();
  const send = (n: number) =>
    fetch(`${server.origin}/api/seasons`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify({ ...season, id: `season-${n}` }),
    });

  test("refuses what it cannot keep in words, goes on, keeps all it acknowledged, and takes more when there is room", async () => {
    const ballast = `${folder}/ballast`;
    Deno.writeFileSync(ballast, new Uint8Array(ROOM_MIB * 400_000));
    const kept: string[] = [];
    let refused: Response | undefined;
    for (let n = 0; refused === undefined && n < 500; n++) {
      const answer = await send(n);
      if (answer.status === 201) {
        kept.push(`season-${n}`);
        await answer.body?.cancel();
      } else refused = answer;
    }
    expect(refused?.status).toBe(507);
    expect((await refused?.json()).error).toMatchObject({
      what: "The disk is full, so the store can take nothing more.",
      whatToDo: expect.stringMatching(/^Nothing of this edit was stored; what was stored before is safe\./),
    });
    expect(kept.length).toBeGreaterThan(3);

    const copied = await fetch(`${server.origin}/copies/now`, {
      method: "POST",
      headers: { origin: server.origin },
      redirect: "manual",
    });
    expect([copied.status, await copied.text()]).toEqual([
      507,
      expect.stringContaining("No copy was taken."),
    ]);
    expect((await fetch(`${server.origin}/seasons/${kept[0]}`)).status).toBe(200);

    Deno.removeSync(ballast);
    // To start again the store wants room for what its log holds.
    resizeDisk(folder, `${4 * ROOM_MIB}m`);
    const more = await send(1000);
    expect([more.status, await more.text()]).toEqual([201, expect.any(String)]);
    await server.kill();
    server = await startServer(folder);
    for (const id of [...kept, "season-1000"]) {
      const answer = await fetch(`${server.origin}/api/seasons/${id}`);
      expect([id, answer.status, (await answer.json()).id]).toEqual([id, 200, id]);
    }
    await server.stop();
    const store = openStore(`${folder}/rickyard.sqlite`);
    expect(contentOf(store).season).toHaveLength(kept.length + 2);
    store.close();
    server = await startServer(folder);
  });
});
