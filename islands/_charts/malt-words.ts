import type { Year } from "../../core/year/year.ts";
import { firstLack } from "../../core/year/sentence.ts";
import { shortMaltWords } from "../../core/year/words.ts";
import { c, type Frame } from "./frame.ts";
import { FIRST, labelBox, TYPE } from "./label-placement.ts";
import { type MaltLayout, type MaltPlace, notchDepth } from "./malt-layout.ts";
import { malt, shortDay } from "./words.ts";
import type { WordsWish } from "./Words.tsx";

/** Words of the malt band: what is lacking ranks first, then what is ordered, then the quiet explanations. */
export function maltWishes(year: Year, layout: MaltLayout, frame: Frame): WordsWish[] {
  const { places, top, bottom } = layout;
  const within = { x: frame.left, y: top - 10, width: frame.right - frame.left, height: bottom - top + 14 };
  return [
    ...lackWishes(year, layout, frame),
    ...places.flatMap((place) => orderWishes(place, frame, year)),
    ...boughtWishes(layout, frame, year),
    ...quietWishes(places, frame, year),
  ].map((wish) => ({ within, ...wish }));
}

/** Every shortage says which malt it is of; the one that the sentence underlines in the largest type. */
function lackWishes(year: Year, { places, perTonne, bought, bottom }: MaltLayout, frame: Frame): WordsWish[] {
  const answer = firstLack(year);
  return places.flatMap(({ row, ground }, index) =>
    row.lacks.filter(({ firstDay }) => firstDay >= frame.fromDay && firstDay < frame.toDay).map(
      (lack): WordsWish => {
        const isAnswer = lack === answer;
        const left = frame.x(lack.firstDay), right = frame.x(lack.backDay ?? lack.lastDay + 1);
        const depth = notchDepth(lack.massG, perTonne);
        const size = isAnswer ? 13 : TYPE;
        const below = ground + depth + size * 0.74 + 2;
        const name = shortMaltWords(row.name);
        const on = `${lack.forecast ? "about " : ""}${shortDay(lack.firstDay)}`;
        const weight = malt(lack.massG, year.units, "short");
        return {
          text: lack.text,
          shorter: isAnswer ? [lack.words] : [
            `${name} short ${on}: ${weight}`,
            `${name} short ${on}`,
            `short ${on}: ${weight}`,
            `short ${on}`,
          ],
          full: lack.text,
          place: row.name,
          bold: true,
          size,
          rank: isAnswer ? FIRST : 1,
          look: isAnswer ? "lack halo answer" : "lack halo",
          crowd: `lacks ${row.key}`,
          // Under its own malt and above the next one, or it would be read as that one's.
          within: {
            x: frame.left,
            y: ground,
            width: frame.right - frame.left,
            height: (places[index + 1]?.ground ?? bought?.ground ?? bottom + 8) - ground,
          },
          mark: { x: left + 2, y: ground + Math.min(depth, 5) },
          spots: [
            { x: left, y: below },
            { x: left - 5, y: ground + 11, anchor: "end" },
            { x: right + 6, y: ground + 11 },
            { x: right, y: below, anchor: "end" },
            { x: left, y: below + 12 },
            { x: right, y: below + 12, anchor: "end" },
            { x: left - 40, y: below },
            { x: left - 40, y: below + 12 },
          ],
        };
      },
    )
  );
}

function orderWishes({ row, ground }: MaltPlace, frame: Frame, year: Year): WordsWish[] {
  return row.orders.filter(({ orderDay, standing }) => standing !== "done" && orderDay < frame.toDay).map(
    (order): WordsWish => {
      const left = frame.x(order.orderDay), right = frame.x(order.arriveDay);
      const weight = malt(order.massG, year.units);
      const by = shortDay(order.orderDay);
      return {
        text: `order ${weight} of ${row.name.toLowerCase()} by ${by}`,
        shorter: [`order ${weight} by ${by}`, `order by ${by}`, `by ${by}`],
        of: order.node,
        look: "halo",
        rank: 2,
        crowd: `orders ${row.key}`,
        place: row.name,
        full: `order ${weight} by ${by}`,
        spots: [{ x: left - 6, y: ground + 12, anchor: "end" }, { x: right + 7, y: ground + 12 }],
      };
    },
  );
}

function boughtWishes({ bought }: MaltLayout, frame: Frame, year: Year): WordsWish[] {
  if (bought === null) return [];
  return bought.rows.flatMap((row) =>
    row.orders.filter(({ orderDay, standing }) => standing !== "done" && orderDay < frame.toDay).map((
      order,
    ): WordsWish => ({
      text: `${row.name.toLowerCase()}, ${malt(order.massG, year.units)}`,
      shorter: [row.name.toLowerCase()],
      of: order.node,
      look: "quiet halo",
      rank: 3,
      crowd: "orders",
      place: "Bought in",
      spots: [{ x: frame.x(order.arriveDay) + 7, y: bought.ground - 3.4 }, {
        x: frame.x(order.orderDay) - 6,
        y: bought.ground - 3.4,
        anchor: "end",
      }],
    }))
  );
}

/** What the textures mean, said where they are, and how full the store gets; each with a line to what it speaks of. */
function quietWishes(places: readonly MaltPlace[], frame: Frame, year: Year): WordsWish[] {
  const tallest = places.toSorted((a, b) => b.height - a.height)[0];
  if (tallest === undefined || tallest.height < 16) return [];
  const { row, ground, height } = tallest;
  const top = (day: number) => {
    const index = day - year.firstDay;
    const all = (row.readyHomeG[index] ?? 0) + (row.readyBoughtG[index] ?? 0) + (row.restingG[index] ?? 0);
    return all / Math.max(1, row.mostG) * height;
  };
  const words: WordsWish[] = [];
  const { mostPlaces, places: all, fullestDay } = year.malt;
  if (all > 0 && fullestDay >= frame.fromDay && fullestDay < frame.toDay) {
    words.push({
      ...overDay(frame, ground, top, fullestDay, [
        `malt store fullest ${shortDay(fullestDay)}: ${mostPlaces} of ${all} bag places`,
        `fullest ${shortDay(fullestDay)}: ${mostPlaces} of ${all} bag places`,
        `fullest: ${mostPlaces} of ${all}`,
      ]),
      look: mostPlaces >= all ? "bold halo" : "quiet halo",
    });
  }
  const scale = (massG: number) => massG / Math.max(1, row.mostG) * height;
  const fullestOf = (series: readonly number[]) => {
    const shown = series.slice(0, frame.toDay - year.firstDay);
    const mostG = Math.max(0, ...shown);
    return { day: shown.indexOf(mostG) + year.firstDay, high: scale(mostG) };
  };
  for (const [name, series] of [["bought", row.readyBoughtG], ["resting", row.restingG]] as const) {
    const { day, high } = fullestOf(series);
    // Words that a line would have to lead here tell less than the key does.
    const { text, spots } = overDay(frame, ground, top, day, [name]);
    if (high > 6) words.push({ text, spots, look: "quiet halo" });
  }
  if (top(year.firstDay + 3) > 13) {
    words.push({ text: "ready", look: "on-malt", spots: [{ x: frame.left + 6, y: ground - 4 }] });
  }
  return words;
}

/** Words that stand right over the stock of a day, near enough to be read as its own. */
function overDay(
  frame: Frame,
  ground: number,
  top: (day: number) => number,
  day: number,
  [text = "", ...shorter]: readonly string[],
): Pick<WordsWish, "text" | "shorter" | "spots" | "mark"> {
  const { width } = labelBox(text, { x: 0, y: 0 });
  const days = Math.ceil(width / frame.dayWidth);
  const high = (from: number) => Math.max(...Array.from({ length: days + 1 }, (_, at) => top(from + at)));
  return {
    text,
    shorter,
    mark: { x: frame.x(day + 0.5), y: c(ground - top(day) + 2) },
    spots: [-0.5, -0.3, -0.7, -0.1, -0.9].map((part) => {
      const from = Math.min(Math.max(Math.round(day + part * days), frame.fromDay), frame.toDay - days);
      return { x: frame.x(from), y: c(ground - high(from) - 3) };
    }),
  };
}
