import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { entriesOf } from "../../core/form/entries.ts";
import { makeForm } from "../../core/form/make.ts";
import { formSource } from "../../core/form/source.ts";
import { CONTENTS } from "../../core/form/contents.ts";
import type { Season } from "../../core/season/season.ts";
import { openTestApp, type TestApp } from "../_support/app.ts";
import { bareSeason } from "../_support/bare-season.ts";
import { demoSeason } from "../_support/demo.ts";

const FARM = "/seasons/tern-and-furrow/farm";

let app: TestApp;
beforeEach(async () => {
  app = openTestApp();
  await app.send("POST", "/api/seasons", demoSeason());
});
afterEach(() => app.parts.close());

async function stored(): Promise<Season> {
  return await (await app.get("/api/seasons/tern-and-furrow")).json();
}

/** The fields of a form as a browser sends them, with some of them typed anew; null leaves one out. */
function filled(season: Season, place: string, typed: Record<string, string | null>): URLSearchParams {
  const source = formSource(season, place)!;
  const fields = new URLSearchParams();
  const own = {
    at: place,
    seen: source.seen === undefined ? "" : JSON.stringify(source.seen),
    edit: crypto.randomUUID(),
  };
  const entries = [...entriesOf(makeForm(source))].flatMap(([name, texts]) =>
    texts.map((text) => [name, text])
  );
  for (
    const [name, text] of [...Object.entries({ ...own, do: "save", who: "The owner", why: "" }), ...entries]
  ) {
    fields.append(name!, text!);
  }
  for (const [name, text] of Object.entries(typed)) {
    if (text === null) fields.delete(name);
    else fields.set(name, text);
  }
  return fields;
}

async function post(body: URLSearchParams): Promise<Response> {
  return await app.post(`${FARM}/form`, body);
}

describe("the farm's pages", () => {
  test("lead from the contents to every list and form, and from each list to every row", async () => {
    const links = (html: string) =>
      [...html.matchAll(/<a [^>]*href="([^"]*\/farm\/[^"]*)"/g)].map(([, link]) =>
        link!.replaceAll("&amp;", "&")
      );
    const contents = links(await (await app.get(FARM)).text());
    expect(contents).toHaveLength(CONTENTS.flatMap(({ contents }) => contents).length);
    for (const link of contents) {
      const answer = await app.get(link);
      expect([link, answer.status]).toEqual([link, 200]);
      const rows = links(await answer.text()).filter((one) => one.includes("/form?"));
      for (const row of rows.filter((_, index) => index % 41 === 0)) {
        expect([row, (await app.get(row)).status]).toEqual([row, 200]);
      }
    }
  });

  test("are there for a farm with nothing on it", async () => {
    await app.send("POST", "/api/seasons", bareSeason);
    for (const { place, kind } of CONTENTS.flatMap(({ contents }) => contents)) {
      const pages = kind === "form" ? [`form?at=${place}`] : [`list?at=${place}`, `form?at=${place}/-`];
      for (const page of pages) {
        expect([page, (await app.get(`/seasons/bare-farm/farm/${page}`)).status]).toEqual([page, 200]);
      }
    }
  });

  test("say which page this is", async () => {
    expect(await (await app.get(FARM)).text()).toMatch(/<a [^>]*aria-current="page">\s*The farm/);
    const year = await (await app.get("/seasons/tern-and-furrow")).text();
    expect(year.match(/aria-current="page"/g)).toHaveLength(1);
    expect(year).toMatch(/aria-current="page">The year/);
  });

  test.each(["/nothing", "/lots/=nobody", "/format", "lots", "/lots/0", "/roster/weekly", "/__proto__"])(
    "have no form at %s and say so",
    async (place) => {
      const answer = await app.get(`${FARM}/form?at=${place}`);
      expect(answer.status).toBe(404);
      expect(await answer.text()).toContain("There is nothing to edit here");
    },
  );
});

describe("a form that is sent", () => {
  test("saves what was changed and nothing else, and leads back to the list", async () => {
    const before = await stored();
    const answer = await post(filled(before, "/lots/=lot-a", { "/moistureWb": "13.25" }));
    expect(answer.status).toBe(303);
    const back = answer.headers.get("location")!;
    expect(await (await app.get(back)).text()).toContain(
      "Lot &quot;A winter barley&quot; (lot-a) was saved. The year is being planned again.",
    );
    const lots = before.lots.map((lot) => lot.id === "lot-a" ? { ...lot, moistureWb: 0.1325 } : lot);
    expect(await stored()).toEqual({ ...before, lots });
    expect(app.thread.orders).not.toEqual([]);
  });

  test("without a change saves nothing", async () => {
    const before = await app.get("/api/seasons/tern-and-furrow");
    const answer = await post(filled(await before.json(), "/roster", {}));
    expect(answer.headers.get("location")).toContain("done=same");
    const after = await app.get("/api/seasons/tern-and-furrow");
    expect(after.headers.get("etag")).toBe(before.headers.get("etag"));
  });

  test("with troubles keeps what was typed, names each field, and saves nothing", async () => {
    const before = await stored();
    const typed = { "/moistureWb": "12abc", "/name": "New name", "/formedOn": "2026-02-30", who: "" };
    const answer = await post(filled(before, "/lots/=lot-a", typed));
    expect(answer.status).toBe(422);
    const html = await answer.text();
    expect(html).toContain("3 things have to be mended");
    expect(html).toContain("&quot;12abc&quot; is not a number. Write digits only");
    expect(html).toContain('href="#f.moistureWb"');
    expect(html).toContain('value="12abc"');
    expect(html).toContain('value="New name"');
    expect(html).toContain('value="2026-02-30"');
    expect(html).toContain("Nobody is named.");
    expect(await stored()).toEqual(before);
  });

  test("shows what the season check finds beside its field", async () => {
    const before = await stored();
    const answer = await post(filled(before, "/vessels/=steep", { "/loadLimits/1/leastG": "2500" }));
    expect(answer.status).toBe(422);
    const html = await answer.text();
    expect(html).toMatch(/class="wrongs"[\s\S]*href="#f\.loadLimits\.1/);
    expect(await stored()).toEqual(before);
  });

  test("replaces a book value by the farm's own figure", async () => {
    const before = await stored();
    expect(before.bookValues).toContain("/costs/moveLoss");
    await post(filled(before, "/costs", { "/moveLoss": "0.4" }));
    const after = await stored();
    expect(after.costs.moveLoss).toBe(0.004);
    expect(after.bookValues).toEqual(before.bookValues.filter((one) => one !== "/costs/moveLoss"));
  });

  test("of the farm itself changes units and name", async () => {
    const before = await stored();
    await post(filled(before, "", { "/readerUnits": "metric", "/name": "Another name" }));
    expect(await stored()).toEqual({ ...before, readerUnits: "metric", name: "Another name" });
  });

  test.each([
    "5",
    "[]",
    "null",
    '{"parents":5,"analyses":{},"useBy":[],"moistureWb":"x","crop":{}}',
    '"text"',
  ])(
    "that says it saw %s does no harm",
    async (seen) => {
      const before = await stored();
      for (const place of ["/lots/=lot-a", "/stores/=bin-1", "/roster", "", "/lots/=gone"]) {
        for (const act of ["save", "show:/kind", "add:/analyses", "take-out"]) {
          const answer = await post(
            filled(before, "/lots/=lot-a", { at: place, seen, do: act, why: "test" }),
          );
          expect([place, act, answer.status < 500]).toEqual([place, act, true]);
        }
      }
      expect(await stored()).toEqual(before);
    },
  );

  test("that nobody can read is refused in words", async () => {
    const fields = filled(await stored(), "/lots/=lot-a", {});
    fields.set("seen", "{");
    const answer = await post(fields);
    expect(answer.status).toBe(400);
    expect(await answer.text()).toContain("This form cannot be read.");
  });
});

describe("rows", () => {
  test("a new one gets a key from its name, and its kind's fields are asked for", async () => {
    const before = await stored();
    const fields = filled(before, "/stores/-", { do: "show:/kind", "/kind": "bags" });
    const shown = await (await post(fields)).text();
    expect(shown).toContain("Volume of one bag");
    expect(shown).not.toContain("Depth to the eave");
    const months = Object.fromEntries(
      Array.from({ length: 12 }, (_, month) => [`/monthTempC/${month}`, "50"]),
    );
    const typed = {
      "/kind": "bags",
      "/name": "Loft, left",
      "/places": "6",
      "/placeVolumeL": "250",
      ...months,
    };
    const answer = await post(filled(before, "/stores/-", typed));
    expect(answer.headers.get("location")).toContain("key=loft-left");
    expect((await stored()).stores.at(-1)).toEqual({
      kind: "bags",
      id: "loft-left",
      name: "Loft, left",
      places: 6,
      placeVolumeL: 946.352946,
      monthTempC: Array(12).fill(10),
    });
  });

  test("a row is added inside a form, filled in and saved; one that stays empty is left out", async () => {
    const before = await stored();
    const shown = await (await post(filled(before, "/lots/=lot-a", { do: "add:/analyses" }))).text();
    const rows = before.lots.find(({ id }) => id === "lot-a")!.analyses.length;
    expect(shown).toContain(`name="/analyses:rows" value="${rows + 1}"`);
    await post(filled(before, "/lots/=lot-a", {
      "/analyses:rows": String(rows + 2),
      [`/analyses/${rows}/sampledOn`]: "2027-01-10",
      [`/analyses/${rows}/germinativeEnergy`]: "97.5",
    }));
    const { analyses } = (await stored()).lots.find(({ id }) => id === "lot-a")!;
    expect(analyses).toHaveLength(rows + 1);
    expect(analyses.at(-1)).toMatchObject({ sampledOn: "2027-01-10", germinativeEnergy: 0.975 });
    expect(analyses.at(-1)!.id).toMatch(/^[a-z0-9-]{1,40}$/);
  });

  test("a row is taken out with a reason, never without", async () => {
    const before = await stored();
    const first = before.people.map(({ id }) => id);
    const known = first.find((id) => !JSON.stringify(before.roster).includes(id))!;
    const fields = { do: "take-out", why: "" };
    const asked = await (await app.get(`${FARM}/form?at=/people/=${known}&out=1`)).text();
    expect(asked).toMatch(/<h1>Take out person .*\?<\/h1>/);
    expect((await post(filled(before, `/people/=${known}`, fields))).status).toBe(422);
    expect(await stored()).toEqual(before);
    const answer = await post(filled(before, `/people/=${known}`, { ...fields, why: "has left" }));
    expect(answer.status).toBe(303);
    expect((await stored()).people.map(({ id }) => id)).toEqual(first.filter((id) => id !== known));
  });

  test("what other rows name cannot be taken out, and the page says who names it", async () => {
    const before = await stored();
    const answer = await post(filled(before, "/maltTypes/=pale", { do: "take-out", why: "try" }));
    expect(answer.status).toBe(422);
    expect(await answer.text()).toMatch(/It is named by .*beer/);
    expect(await stored()).toEqual(before);
  });

  test("a record is corrected only with a reason, and a new one says who wrote it", async () => {
    const before = await stored();
    const { id } = before.records.adjustments[0]!;
    const place = `/records/adjustments/=${id}`;
    expect((await post(filled(before, place, { "/reason": "counted twice" }))).status).toBe(422);
    const answer = await post(
      filled(before, place, { "/reason": "counted twice", why: "the tally was wrong" }),
    );
    expect(await (await app.get(answer.headers.get("location")!)).text()).toContain("was corrected");
    const brew = before.brews.at(-1)!;
    const booked = { "/brewId": brew.id, "/on": brew.on };
    const booking = await post(filled(await stored(), "/bookings/brews/-", booked));
    expect(booking.status).toBe(303);
    expect((await stored()).bookings.brews.at(-1)).toEqual({ brewId: brew.id, on: brew.on, by: "owner" });
  });
});

describe("two people at one lot", () => {
  test("who change different fields do not meet", async () => {
    const seen = await stored();
    await post(filled(seen, "/lots/=lot-a", { "/name": "A, renamed" }));
    expect((await post(filled(seen, "/lots/=lot-a", { "/moistureWb": "13" }))).status).toBe(303);
    const lot = (await stored()).lots.find(({ id }) => id === "lot-a")!;
    expect([lot.name, lot.moistureWb]).toEqual(["A, renamed", 0.13]);
  });

  test.each([["theirs", 0.13], ["mine", 0.14]])(
    "who change the same field are asked, and %s is kept",
    async (choice, moistureWb) => {
      const seen = await stored();
      await post(filled(seen, "/lots/=lot-a", { "/moistureWb": "13" }));
      const answer = await post(filled(seen, "/lots/=lot-a", { "/moistureWb": "14", "/name": "Mine" }));
      expect(answer.status).toBe(409);
      const html = await answer.text();
      expect(html).toMatch(/Keep theirs: 13 %/);
      expect(html).toMatch(/Use mine: 14 %/);
      const again = sentBack(html);
      again.set("choose:/moistureWb", choice);
      expect((await post(again)).status).toBe(303);
      expect((await stored()).lots.find(({ id }) => id === "lot-a")).toMatchObject({
        name: "Mine",
        moistureWb,
      });
    },
  );

  test("of whom one took it out: it can be put back", async () => {
    const seen = await stored();
    const place = `/people/=${seen.people.find(({ id }) => !JSON.stringify(seen.roster).includes(id))!.id}`;
    await post(filled(seen, place, { do: "take-out", why: "has left" }));
    const answer = await post(filled(seen, place, { "/name": "Still here" }));
    expect(answer.status).toBe(409);
    const html = await answer.text();
    expect(html).toContain("has taken this out in the meantime");
    expect((await post(sentBack(html))).status).toBe(303);
    expect((await stored()).people.at(-1)).toMatchObject({ name: "Still here", id: place.split("=")[1] });
  });
});

/** The fields of a page's form as a browser would send them back. */
function sentBack(html: string): URLSearchParams {
  const fields = new URLSearchParams();
  const form = html.slice(html.indexOf("<form"));
  const plain = (text: string) =>
    text.replaceAll("&quot;", '"').replaceAll("&lt;", "<").replaceAll("&amp;", "&");
  const attribute = (tag: string, name: string) =>
    plain(new RegExp(`\\s${name}="([^"]*)"`).exec(tag)?.[1] ?? "");
  for (const [tag] of form.matchAll(/<input[^>]*>/g)) {
    const ticked = !/type="(checkbox|radio)"/.test(tag) || /\schecked/.test(tag);
    if (ticked) fields.append(attribute(tag, "name"), attribute(tag, "value"));
  }
  for (const [, tag, inside] of form.matchAll(/(<select[^>]*>)([\s\S]*?)<\/select>/g)) {
    const chosen = /<option selected[^>]*>|<option[^>]*\sselected[^>]*>/.exec(inside!)?.[0] ?? "<option>";
    fields.append(attribute(tag!, "name"), attribute(chosen, "value"));
  }
  for (const [, tag, text] of form.matchAll(/(<textarea[^>]*>)([\s\S]*?)<\/textarea>/g)) {
    fields.append(attribute(tag!, "name"), plain(text!));
  }
  fields.set("do", "save");
  return fields;
}
