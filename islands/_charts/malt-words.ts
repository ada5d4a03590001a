import type { Year } from "../../core/year/year.ts";
import { c, type Frame } from "./frame.ts";
import type { MaltLayout, MaltPlace } from "./malt-layout.ts";
import { malt, shortDay } from "./words.ts";
import type { WordsWish } from "./Words.tsx";

/** Words of the malt band: what is lacking first and boldest, then what is ordered, then the quiet explanations. */
export function maltWishes(year: Year, layout: MaltLayout, frame: Frame): WordsWish[] {
  const { places } = layout;
  return [
    ...places.flatMap((place) => lackWishes(place, frame, layout.perTonne)),
    ...places.flatMap((place) => orderWishes(place, frame, year)),
    ...boughtWishes(layout, frame, year),
    ...quietWishes(places, frame, year),
  ];
}

function lackWishes({ row, ground }: MaltPlace, frame: Frame, perTonne: number): WordsWish[] {
  return row.lacks.filter(({ firstDay }) => firstDay < frame.toDay).toSorted((a, b) => b.massG - a.massG).map(
    (lack): WordsWish => {
      const left = frame.x(lack.firstDay), right = frame.x(lack.backDay ?? lack.lastDay + 1);
      const below = ground + Math.max(3, lack.massG / 1e6 * perTonne) + 11;
      const out = lack.text.replace(/^.* runs /, "");
      return {
        text: lack.text,
        shorter: [out, out.replace(/^.*: /, ""), shortDay(lack.firstDay)],
        bold: true,
        size: 13,
        look: "lack halo",
        spots: [
          { x: right + 6, y: ground + 12 },
          { x: left - 5, y: ground + 12, anchor: "end" },
          { x: left, y: below },
          { x: right, y: below, anchor: "end" },
          { x: right + 6, y: below },
        ],
      };
    },
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
      spots: [{ x: frame.x(order.arriveDay) + 7, y: bought.ground - 2 }, {
        x: frame.x(order.orderDay) - 6,
        y: bought.ground - 2,
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
