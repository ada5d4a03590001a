import type { Year } from "../../core/year/year.ts";
import { type BrewsLayout, STICK } from "./brews-layout.ts";
import type { Frame } from "./frame.ts";
import { shortDay } from "./words.ts";
import { isShort } from "./Stick.tsx";
import type { WordsWish } from "./Words.tsx";

/** From one line of letters to the next. */
const TIER = 11.8;

/** The letters over the sticks, and below the tanks where more of them are asked for than there are. */
export function brewWishes(year: Year, layout: BrewsLayout, frame: Frame): WordsWish[] {
  return [...letterWishes(layout, frame), ...clashWishes(year, layout, frame)];
}

/** Promised brews and those that fall short get their letters first, the others where there is room. */
function letterWishes({ sticks, ground, top, lane }: BrewsLayout, frame: Frame): WordsWish[] {
  const foot = ground - STICK - lane;
  const within = {
    x: frame.left - 4,
    y: top - 1,
    width: frame.right - frame.left + 8,
    height: foot - top,
  };
  return sticks.map((stick): WordsWish => {
    const { brew, left, width } = stick;
    const lacks = isShort(brew);
    const spot = (dx: number, tier: number) => ({
      x: left + width / 2 + dx,
      y: foot - 4.8 - tier * TIER,
      anchor: "middle" as const,
    });
    return {
      text: brew.letter,
      of: brew.node,
      bold: lacks,
      size: 11.25,
      look: lacks ? "lack" : brew.class === 1 ? "promised-letter" : "",
      rank: lacks ? 2 : brew.class === 1 ? 3 : 4,
      within,
      gap: 1,
      crowd: "brews",
      place: "Brews",
      full: `${brew.letter} ${brew.beerName} ${shortDay(brew.day)}`,
      spots: [spot(0, 0), spot(0, 1), spot(-1.5, 0), spot(1.5, 0), spot(-1.5, 1), spot(1.5, 1)],
    };
  });
}

function clashWishes(year: Year, { tankRule }: BrewsLayout, frame: Frame): WordsWish[] {
  const within = { x: frame.left, y: tankRule, width: frame.right - frame.left, height: 20 };
  return year.tanks.clashes.filter(({ from, to }) => from < frame.toDay && to >= frame.fromDay).map(
    (clash): WordsWish => ({
      text: clash.text,
      shorter: [clash.text.split(":")[0] ?? ""],
      look: "lack halo",
      bold: true,
      rank: 1,
      within,
      crowd: "clashes",
      place: "Tanks",
      spots: [
        { x: frame.x(clash.from) - 6, y: tankRule + 11, anchor: "end" },
        { x: frame.x(clash.to + 1) + 6, y: tankRule + 11 },
      ],
    }),
  );
}
