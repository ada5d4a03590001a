import type { ReaderUnits } from "../../core/units.ts";
import type { PlantingMark } from "../../core/year/fields-band.ts";
import type { FieldRow, FieldsLayout } from "./fields-layout.ts";
import type { Frame } from "./frame.ts";
import { fromTo, grain, land, shortDay, tonnes } from "./words.ts";
import type { WordsWish } from "./Words.tsx";

/** Labels of the fields: harvests rank before what is sown, and that before breaks. */
export function fieldWishes({ rows, top, bottom }: FieldsLayout, frame: Frame): WordsWish[] {
  const within = { x: frame.left, y: top, width: frame.right - frame.left, height: bottom - top + 4 };
  return rows.flatMap((row) => rowWishes(row, frame)).map((wish) => ({ ...wish, within, crowd: "fields" }));
}

function rowWishes({ plantings, breaks, ground }: FieldRow, frame: Frame): WordsWish[] {
  // What was drilled before the axis begins is told by its harvest alone.
  const isSowingTold = ({ drillDay }: PlantingMark) => drillDay >= frame.fromDay && drillDay < frame.toDay;
  const ofBreaks = breaks.map((one): WordsWish => ({
    text: `${one.crop.toLowerCase()} break`,
    place: "Fields",
    look: "quiet halo",
    rank: 4,
    spots: [60, 8, 120, 200].map((shift) => ({ x: frame.x(one.from) + shift, y: ground - 5.2 })),
  }));
  const harvests = plantings.filter((one) => one.harvest.early < frame.toDay && one.state !== "lost").map(
    (one): WordsWish => {
      const name = cropName(one);
      const right = frame.x(one.harvest.late), left = frame.x(one.harvest.early);
      const weight = tonnes(one.binG.likely);
      const without = one.leftOutG > 0 ? `, no room for ${tonnes(one.leftOutG)}` : "";
      return {
        text: `${name} ${weight}${without}`,
        shorter: [`${weight}${without}`, weight],
        letter: one.letter,
        place: "Fields",
        of: one.node,
        look: "halo",
        rank: 1,
        mark: { x: right - 4, y: ground - 2 },
        spots: [
          { x: right + 5, y: ground - 3.3 },
          { x: right + 5, y: ground - 9 },
          { x: right + 16, y: ground - 3.3 },
          { x: left - 5, y: ground - 17, anchor: "end" },
        ],
      };
    },
  );
  const sowings = plantings.filter(isSowingTold).map((one): WordsWish => {
    const name = cropName(one);
    const x = frame.x(one.drillDay);
    const planned = one.state === "planned";
    const words = planned ? `${name}, drill ${shortDay(one.drillDay)}` : name;
    const later = one.harvest.early >= frame.toDay ? `${name} for ${one.harvestYear}` : words;
    return {
      text: later,
      shorter: [name],
      place: "Fields",
      full: `${one.fieldNames.join(", ")}: ${later}`,
      look: "quiet halo",
      rank: 3,
      of: one.node,
      spots: planned
        ? [
          { x: x - 6, y: ground - 3.3, anchor: "end" },
          { x: x + 6, y: ground - 6 },
          { x: x - 8, y: ground - 9, anchor: "end" },
        ]
        : [6, 14, 30, 60, 100].map((shift) => ({ x: x + shift, y: ground - 4.9 })),
    };
  });
  return [...harvests, ...sowings, ...ofBreaks];
}

/** Barley is called by its sowing, because the two kinds ripen a month apart. */
function cropName({ crop, sowingSeason }: PlantingMark): string {
  return crop === "barley" ? `${sowingSeason} barley` : crop;
}

/** A planting as a screen reader hears it: where, what, when, and how much it may bring. */
export function plantingSays(one: PlantingMark, units: ReaderUnits): string {
  const where = `${one.fieldNames.join(", ")}, ${land(one.areaM2, units)}`;
  const what = cropName(one);
  if (one.state === "lost") return `${where}: ${what}, lost`;
  const weight = (massG: number) => grain(massG, units, one.crop);
  if (one.weighed && one.cut !== null) {
    return `${where}: ${what}, cut ${fromTo(one.cut.from, one.cut.to)}, weighed ${
      weight(one.cutG.likely)
    } as cut, ` +
      `${weight(one.binG.likely)} into store as lot ${one.letter}`;
  }
  const sown = one.state === "planned"
    ? `to be drilled ${shortDay(one.drillDay)}`
    : `drilled ${shortDay(one.drillDay)}`;
  const { early, likely, late } = one.harvest;
  return `${where}: ${what}, ${sown}, harvest about ${shortDay(likely)} (${fromTo(early, late)}), ` +
    `forecast ${weight(one.binG.likely)} into store (bad year ${tonnes(one.binG.bad)}, good year ${
      tonnes(one.binG.good)
    }) as lot ${one.letter}`;
}
