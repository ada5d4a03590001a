import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { type LookPorts, openLooker, ROUNDS, SEEN_MS } from "../../routes/_solver/looking.ts";
import { shareThread } from "../../routes/_solver/shared-thread.ts";
import { latestPlan } from "../../routes/_store/plans.ts";
import { NOW, openTestApp, type TestApp } from "../_support/app.ts";
import { twoPlans } from "../_support/better-plan.ts";

const { season, present } = await twoPlans();
const id = season.id;

let now: Date;
let app: TestApp;
beforeEach(async () => {
  now = NOW;
  app = openTestApp(":memory:", () => now);
  await app.send("POST", "/api/seasons", season);
});
afterEach(() => app.parts.close());

const ended = { kind: "planned", plan: present } as const;
/** Looks at the year, so that it is planned. */
async function planIt(seasonId = id): Promise<void> {
  await app.get(`/seasons/${seasonId}`);
  await app.thread.end({ kind: "planned", plan: { ...present, seasonId } });
}
const look = (number: number) => expect.poll(() => app.thread.looks.length).toBe(number);
const change = (name: string) => app.send("PUT", `/api/seasons/${id}`, { ...season, name });
const page = async () => await (await app.get(`/seasons/${id}`)).text();
const never = () => new Promise((resolve) => setTimeout(resolve, 30));

describe("looking for a better plan", () => {
  test("begins when the plan is there, from that plan, and goes on round by round until the last", async () => {
    await app.get(`/seasons/${id}`);
    expect(app.thread.looks).toHaveLength(0);
    await app.thread.end(ended);
    for (let round = 1; round <= ROUNDS.length; round++) {
      await look(round);
      expect(await page()).toContain(`Still looking for a better plan (round ${round} of ${ROUNDS.length}).`);
      await app.thread.end(ended);
    }
    await never();
    expect(await page()).toContain('class="looking" hidden');
    expect(app.thread.looks.map(({ seed, iterations, kind }) => [seed, iterations, kind])).toEqual(
      ROUNDS.map((iterations, index) => [index + 2, iterations, "look"]),
    );
    expect(app.thread.looks.every(({ from, asOf }) => from !== undefined && asOf === season.asOf)).toBe(true);
  });

  test("tries no more than about three minutes of it, in rounds that grow", () => {
    expect(ROUNDS.reduce((sum, one) => sum + one, 0)).toBe(300_000);
    expect([...ROUNDS].sort((one, other) => one - other)).toEqual(ROUNDS);
  });

  test("is stopped by a button, at once and for good", async () => {
    await planIt();
    await look(1);
    const pressed = await app.press(`/seasons/${id}/look/stop`);
    expect([pressed.status, pressed.headers.get("location")]).toEqual([303, `/seasons/${id}`]);
    await never();
    expect(await page()).toContain('class="looking" hidden');
    await never();
    expect(app.thread.looks).toHaveLength(1);
  });

  test("begins anew when somebody plans again", async () => {
    await planIt();
    await look(1);
    await app.press(`/seasons/${id}/look/stop`);
    await app.press(`/seasons/${id}/plan`);
    await app.thread.end(ended);
    await look(2);
    expect(app.thread.looks[1]?.seed).toBe(2);
  });

  test("ends when a round breaks", async () => {
    await planIt();
    await look(1);
    await app.thread.end({ kind: "broken", message: "out of memory" });
    await never();
    expect(app.thread.looks).toHaveLength(1);
  });
});

describe("a plan goes before", () => {
  test("it has the thread as soon as the round has left off, and the round is made again after it", async () => {
    await planIt();
    await look(1);
    await app.thread.end(ended);
    await look(2);
    await app.press(`/seasons/${id}/plan/stop`);
    await app.send("POST", "/api/seasons", { ...season, id: "other" });
    await app.get("/seasons/other");
    await expect.poll(() => app.thread.orders.length).toBe(2);
    expect(await page()).toContain('class="looking" hidden');
    await app.thread.end({ kind: "broken", message: "lost" });
    await app.get(`/seasons/${id}`);
    await look(3);
    expect(app.thread.looks.map(({ seed }) => seed)).toEqual([2, 3, 3]);
  });

  test("of a changed season, which is then looked at from the beginning", async () => {
    await planIt();
    await look(1);
    await change("New Name");
    await expect.poll(() => app.thread.orders.map((order) => order.season.name)).toEqual([
      season.name,
      "New Name",
    ]);
    expect(app.thread.stops).toBe(0);
    await never();
    expect(app.thread.looks).toHaveLength(1);
  });

  test("and a stop of it that comes before the thread is free holds", async () => {
    const said: string[] = [];
    let endRound = () => {};
    const broken = { kind: "broken", message: "left off" } as const;
    const { plans, looks } = shareThread({
      run(order) {
        said.push(order.kind);
        return new Promise((end) => order.kind === "look" ? endRound = () => end(broken) : end(broken));
      },
      stop: () => void said.push("stop"),
      leaveOff: () => void said.push("leave off"),
      close: () => {},
    }, () => {});
    const order = { kind: "plan" as const, season, asOf: season.asOf, revision: 1, seed: 1, iterations: 1 };
    const round = looks.run({ ...order, kind: "look" });
    const plan = plans.run(order, () => {});
    plans.stop();
    endRound();
    expect([await round, await plan]).toEqual([null, broken]);
    expect(said).toEqual(["look", "leave off", "plan", "stop"]);
  });
});

describe("nothing is looked for", () => {
  test("while nobody has looked at the season's page for some minutes", async () => {
    await planIt();
    await look(1);
    now = new Date(NOW.getTime() + SEEN_MS + 1);
    await app.thread.end(ended);
    await never();
    expect(app.thread.looks).toHaveLength(1);
    await app.get(`/seasons/${id}`);
    await look(2);
  });

  test("in a season that is put away, and a round that was begun is given up", async () => {
    await planIt();
    await look(1);
    await app.press(`/seasons/${id}/shelf`, { to: "archived" });
    await never();
    await app.get(`/seasons/${id}`);
    await never();
    expect(app.thread.looks).toHaveLength(1);
  });

  test("after a plan that somebody stopped", async () => {
    await app.get(`/seasons/${id}`);
    await app.thread.end({ kind: "planned", plan: { ...present, stoppedEarly: true } });
    await never();
    await app.get(`/seasons/${id}`);
    expect(app.thread.looks).toHaveLength(0);
  });

  test("beside a plan of another day: a live farm's plan is made anew first", async () => {
    const { fixedAsOf: _, ...live } = season;
    await app.send("POST", "/api/seasons", { ...live, id: "live" });
    now = new Date(Date.parse(`${season.asOf}Z`) + 2 * 24 * 3600_000);
    await planIt("live");
    await never();
    expect(latestPlan(app.parts.store, "live")).toMatchObject({ state: "solved" });
    expect(app.thread.looks).toHaveLength(0);
  });
});

test("after a plan the planner rests a while before it looks on, whoever looks at the page", async () => {
  const asked: string[] = [];
  const thread = { busy: () => false, run: () => Promise.resolve(null), stop: () => {} };
  const ports: LookPorts = {
    quest(seasonId) {
      asked.push(seasonId);
      return null;
    },
    ...{ read: () => null, found: () => {}, changed: () => {}, failed: () => {}, clock: () => 0 },
  };
  const looker = openLooker(thread, ports, 50);
  looker.idle();
  looker.seen(id);
  await never();
  expect(asked).toEqual([]);
  await expect.poll(() => asked).toEqual([id]);
  looker.close();
});
