import type { Year } from "../../core/year/year.ts";
import { worstLack } from "../../core/year/sentence.ts";
import { shortMaltWords } from "../../core/year/words.ts";
import { c, type Frame } from "./frame.ts";
import { FIRST, TYPE } from "./label-placement.ts";
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

/** Every shortage says which malt it is of; the worst one in the largest type, because it is the answer of the year. */
function lackWishes(year: Year, { places, perTonne, bought, bottom }: MaltLayout, frame: Frame): WordsWish[] {
  const worst = worstLack(year);
  return places.flatMap(({ row, ground }, index) =>
    row.lacks.filter(({ firstDay }) => firstDay >= frame.fromDay && firstDay < frame.toDay).map(
      (lack): WordsWish => {
        const isWorst = lack === worst;
        const left = frame.x(lack.firstDay), right = frame.x(lack.backDay ?? lack.lastDay + 1);
        const depth = notchDepth(lack.massG, perTonne);
        const size = isWorst ? 13 : TYPE;
        const below = ground + depth + size * 0.74 + 2;
        const name = shortMaltWords(row.name);
        const on = `${lack.forecast ? "about " : ""}${shortDay(lack.firstDay)}`;
        const runs = lack.massG >= lack.askedG / 2 ? "runs out" : "runs short";
        const back = lack.backDay === null ? "not back" : `back ${shortDay(lack.backDay)}`;
        const weight = malt(lack.massG, year.units, "short");
        const full = `home ${name} ${runs} ${on}, ${back}: ${weight} lacking`;
        return {
          text: full,
          shorter: isWorst ? [`home ${name} ${runs} ${on}: ${weight} lacking`, `${name} ${runs} ${on}`] : [
            `home ${name} ${runs} ${on}: ${weight}`,
            `${name} short ${on}: ${weight}`,
            `${name} short ${on}`,
            `short ${on}: ${weight}`,
            `short ${on}`,
          ],
          bold: true,
          size,
          rank: isWorst ? FIRST : 1,
          look: isWorst ? "lack halo worst" : "lack halo",
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
      spots: [{ x: frame.x(order.arriveDay) + 7, y: bought.ground - 3.4 }, {
        x: frame.x(order.orderDay) - 6,
        y: bought.ground - 3.4,
        anchor: "end",
      }],
    }))
  );
}

/** What the textures mean, said where they are rather than in a box of signs, and how full the store gets. */
function quietWishes(places: readonly MaltPlace[], frame: Frame, year: Year): WordsWish[] {
  const tallest = places.toSorted((a, b) => b.height - a.height)[0];
  if (tallest === undefined || tallest.height < 24) return [];
  const { row, ground, height } = tallest;
  const mid = Math.round((frame.todayDay + frame.toDay) / 2) - year.firstDay;
  const high = (index: number) => {
    const all = (row.readyHomeG[index] ?? 0) + (row.readyBoughtG[index] ?? 0) + (row.restingG[index] ?? 0);
    return all / Math.max(1, row.mostG) * height;
  };
  const around = (index: number) => Math.max(...Array.from({ length: 40 }, (_, i) => high(index - 8 + i)));
  const words: WordsWish[] = [{
    text: "resting",
    look: "quiet halo",
    spots: [-60, 0, 60, 120].map((shift) => ({
      x: frame.x(mid + shift + year.firstDay),
      y: c(ground - around(mid + shift) - 3),
    })),
  }];
  const { mostPlaces, places: all, fullestDay } = year.malt;
  if (all > 0) {
    words.unshift({
      text: `fullest day of the malt store: ${mostPlaces} of ${all} bag places, ${shortDay(fullestDay)}`,
      shorter: [`most in store: ${mostPlaces} of ${all} bag places`],
      look: mostPlaces >= all ? "bold halo" : "quiet halo",
      spots: [
        { x: frame.right, y: c(ground - height - 2), anchor: "end" },
        { x: frame.right, y: c(ground - height * 0.8), anchor: "end" },
      ],
    });
  }
  const boughtG = Math.max(...row.readyBoughtG);
  const fullest = row.readyBoughtG.indexOf(boughtG);
  if (boughtG / Math.max(1, row.mostG) * height > 6 && fullest + year.firstDay < frame.toDay) {
    words.unshift({
      text: "bought",
      look: "quiet halo",
      spots: [0, 12, -24].map((shift) => ({
        x: frame.x(fullest + shift + year.firstDay) + 6,
        y: c(ground - around(fullest + shift + 8) - 3),
      })),
    });
  }
  if (high(3) > 13) {
    words.unshift({ text: "ready", look: "on-malt", spots: [{ x: frame.left + 6, y: ground - 4 }] });
  }
  return words;
}
