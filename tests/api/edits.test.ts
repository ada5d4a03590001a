import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { seasonHash } from "../../core/season/canonical.ts";
import { hashOf } from "../../routes/_season-file.ts";
import { openTestApp, type TestApp } from "../_support/app.ts";
import { demoFile, demoSeason } from "../_support/demo.ts";

const demo = demoSeason();
const lot = demo.lots[0]!;
const SEASON = `/api/seasons/${demo.id}`;

let app: TestApp;
let made = 0;
beforeEach(async () => {
  app = openTestApp();
  await app.send("POST", "/api/seasons", demoFile());
});
afterEach(() => app.parts.close());

interface Answer {
  readonly status: number;
  // deno-lint-ignore no-explicit-any
  readonly body: any;
}

async function send(edit: object, author = "Maltster"): Promise<Answer> {
  const id = `edit-${String(made++).padStart(6, "0")}`;
  const answer = await app.send("POST", `${SEASON}/edits`, { id, author, ...edit });
  return { status: answer.status, body: await answer.json() };
}

const name = (from: string, to: string) => ({ changes: [{ at: `/lots/=${lot.id}/name`, from, to }] });
const cost = (from: number, to: number) => ({ changes: [{ at: "/costs/moveCents", from, to }] });
const CENTS = demo.costs.moveCents;

async function season(query = ""): Promise<typeof demo> {
  return await (await app.get(`${SEASON}${query}`)).json();
}

describe("an edit", () => {
  test("is made on the season as it now stands, logged with who, when and why, and planned for", async () => {
    expect(await send({ ...cost(CENTS, 900), reason: "new forks" })).toMatchObject({
      status: 201,
      body: { kind: "saved", revision: 2, verb: "change" },
    });
    expect((await season()).costs.moveCents).toBe(900);
    const { edits } = await (await app.get(`${SEASON}/edits`)).json();
    expect(edits[0]).toMatchObject({
      ...{
        revision: 2,
        author: "Maltster",
        verb: "change",
        reason: "new forks",
        at: "2027-01-18T07:00:00.000Z",
      },
      changes: [{ at: "/costs/moveCents", from: CENTS, to: 900 }],
    });
    expect(app.parts.solver.look(demo.id)?.request.revision).toBe(2);
  });

  test("sent twice is made once", async () => {
    const edit = { id: "same-edit-1", author: "Maltster", ...cost(CENTS, 900) };
    const first = await app.send("POST", `${SEASON}/edits`, edit);
    await send(cost(900, 950));
    const again = await app.send("POST", `${SEASON}/edits`, edit);
    expect([first.status, again.status, (await again.json()).revision]).toEqual([201, 201, 2]);
    expect((await season()).costs.moveCents).toBe(950);
  });

  test("that is another under a name that is taken is refused, and not taken for made", async () => {
    const edit = { id: "same-edit-2", author: "Maltster", ...cost(CENTS, 900) };
    await app.send("POST", `${SEASON}/edits`, edit);
    const other = await app.send("POST", `${SEASON}/edits`, { ...edit, ...cost(900, 950) });
    expect([other.status, (await season()).costs.moveCents]).toEqual([409, 900]);
  });

  test("of different things by two people goes through for both", async () => {
    expect((await send(name(lot.name, "Low barley"))).status).toBe(201);
    expect((await send(cost(CENTS, 900), "Owner")).status).toBe(201);
    expect(await season()).toMatchObject({ costs: { moveCents: 900 } });
  });

  test("of the same thing shows the second what the first put there, and then lets them choose", async () => {
    await send(name(lot.name, "Low barley"));
    const { status, body } = await send(name(lot.name, "Bottom barley"), "Owner");
    expect([status, body.conflicts]).toMatchObject([409, [{
      ...{ place: `/lots/=${lot.id}/name`, seen: lot.name, now: "Low barley", wanted: "Bottom barley" },
      ...{ author: "Maltster", revision: 2 },
    }]]);
    expect((await season()).lots[0]!.name).toBe("Low barley");
    const seen = [{ at: `/lots/=${lot.id}/name`, value: "Low barley" }];
    expect((await send({ ...name(lot.name, "Bottom barley"), seen }, "Owner")).status).toBe(201);
    expect((await season()).lots[0]!.name).toBe("Bottom barley");
  });

  test("of one season leaves another alone", async () => {
    await app.send("POST", "/api/seasons", { ...demo, id: "other-farm", name: "Other farm" });
    await send(cost(CENTS, 900));
    const other = { id: "other-edit-1", author: "Maltster", ...cost(CENTS, 700) };
    expect((await app.send("POST", "/api/seasons/other-farm/edits", other)).status).toBe(201);
    const { name, costs } = await (await app.get("/api/seasons/other-farm")).json();
    expect([name, costs.moveCents, (await season()).costs.moveCents]).toEqual(["Other farm", 700, 900]);
  });

  test("with an error is refused with the findings, and nothing is stored", async () => {
    const { status, body } = await send({
      changes: [{ at: `/lots/=${lot.id}/crop`, from: lot.crop, to: "hops" }],
    });
    expect([status, body.findings[0].code]).toEqual([422, "wrong-choice"]);
    expect((await (await app.get(`${SEASON}/edits`)).json()).revision).toBe(1);
  });

  test.each([
    ["no JSON", "{", 400],
    ["no author", { id: "edit-000999", changes: [] }, 400],
    ["no changes", { id: "edit-000999", author: "x", changes: [] }, 400],
    ["a name that is too short to be new", { id: "1", author: "x", undo: "last" }, 400],
  ])("with %s is refused in words", async (_, body, status) => {
    const answer = await app.send("POST", `${SEASON}/edits`, body);
    expect(answer.status).toBe(status);
    const { error } = await answer.json();
    for (const part of ["what", "where", "whatToDo"]) expect(error[part], part).toMatch(/\S/);
  });

  test("of a season that is not there is refused", async () => {
    const answer = await app.send("POST", "/api/seasons/nowhere/edits", {
      id: "edit-000999",
      author: "x",
      undo: 2,
    });
    expect(answer.status).toBe(404);
  });
});

describe("taking back", () => {
  test("goes step by step through a person's own edits, and forward again", async () => {
    await send(cost(CENTS, 900));
    await send(name(lot.name, "By the owner"), "Owner");
    await send(cost(900, 950));
    const cents = async () => (await season()).costs.moveCents;
    expect((await send({ undo: "last" })).body.verb).toBe("undo");
    expect(await cents()).toBe(900);
    await send({ undo: "last" });
    expect(await cents()).toBe(CENTS);
    expect((await send({ undo: "last" })).status).toBe(409);
    await send({ redo: "last" });
    await send({ redo: "last" });
    expect([await cents(), (await season()).lots[0]!.name]).toEqual([950, "By the owner"]);
    expect((await send({ redo: "last" })).status).toBe(409);
  });

  test("does not reach back to how the season began", async () => {
    await app.send("POST", "/api/seasons?author=Owner", { ...demo, id: "other-farm" });
    const undo = { id: "other-undo-1", author: "Owner", undo: "last" };
    expect((await app.send("POST", "/api/seasons/other-farm/edits", undo)).status).toBe(409);
    expect((await app.send("POST", "/api/seasons/other-farm/edits", { ...undo, undo: 1 })).status).toBe(404);
  });

  test("says whose later edit stands in the way", async () => {
    await send(cost(CENTS, 900));
    await send(cost(900, 950), "Owner");
    const { status, body } = await send({ undo: "last" });
    expect([status, body.conflicts[0]]).toMatchObject([409, {
      now: 950,
      wanted: CENTS,
      author: "Owner",
      revision: 3,
    }]);
    const seen = [{ at: "/costs/moveCents", value: 950 }];
    expect((await send({ undo: "last", seen })).status).toBe(201);
    expect((await season()).costs.moveCents).toBe(CENTS);
  });

  test("of what is the case already does not stop at it for good", async () => {
    await send(name(lot.name, "Once"));
    await send(cost(CENTS, 900));
    await send(cost(900, CENTS), "Owner");
    expect((await send({ undo: "last" })).status).toBe(201);
    await send({ undo: "last" });
    expect((await season()).lots[0]!.name).toBe(lot.name);
  });
});

describe("the history", () => {
  test("gives any revision, what changed between two, and the way back to one as a new edit", async () => {
    const before = await season();
    await send(cost(CENTS, 900));
    await send(name(lot.name, "Low barley"));
    expect(await season("?revision=1")).toEqual(before);
    expect((await season("?revision=2")).costs.moveCents).toBe(900);
    const { changes } = await (await app.get(`${SEASON}/changes?from=1&to=3`)).json();
    expect(changes.map(({ at }: { at: string }) => at)).toEqual([
      `/lots/=${lot.id}/name`,
      "/costs/moveCents",
    ]);
    expect((await send({ restore: 1 })).body).toMatchObject({ kind: "saved", revision: 4, verb: "restore" });
    expect(await season()).toEqual(before);
    await send({ undo: "last" });
    expect((await season()).costs.moveCents).toBe(900);
    expect((await app.get(`${SEASON}?revision=9`)).status).toBe(404);
  });

  test("of one thing shows what happened to it, to what is in it and to what it is in", async () => {
    await send(cost(CENTS, 900));
    await send(name(lot.name, "Low barley"));
    const of = async (at: string) =>
      (await (await app.get(`${SEASON}/edits?at=${encodeURIComponent(at)}`)).json()).edits
        .map((one: { revision: number }) => one.revision);
    expect(await of(`/lots/=${lot.id}`)).toEqual([3]);
    expect(await of(`/lots/=${lot.id}/name`)).toEqual([3]);
    expect(await of("/costs")).toEqual([2]);
    expect(await of("/lots/=another")).toEqual([]);
  });

  test("a file that takes the season's place is an edit too, and can be taken back", async () => {
    const file = { ...demo, name: "Another name" };
    await app.send("PUT", `${SEASON}?author=Owner`, file);
    const { edits } = await (await app.get(`${SEASON}/edits`)).json();
    expect(edits[0]).toMatchObject({ author: "Owner", verb: "replace", changes: [{ at: "/name" }] });
    await send({ undo: "last" }, "Owner");
    expect((await season()).name).toBe(demo.name);
  });
});

test("the hash that is made without waiting is the season's own", async () => {
  expect(hashOf(demo)).toBe(await seasonHash(demo));
});
