import { formatArea } from "../units.ts";
import type { Planting } from "../season/land.ts";
import type { Season } from "../season/season.ts";
import { cropsOn } from "../season/check/rotation.ts";
import { countWords, listWords, maltWeightWords, tonneWords, upperFirst } from "../year/words.ts";
import type { FieldsAnswer, FieldUse } from "./field-crops.ts";
import { amountWords, gainWords } from "./words.ts";
import type { Worth } from "./worth.ts";

/** Money below it is not told. */
const LEAST_CENTS = 100;

/** Which field gets which grain, told: an answer in a sentence or two, and a row for each field. */
export interface FieldsTold {
  readonly words: string;
  readonly rows: readonly {
    readonly fieldId: string;
    readonly field: string;
    readonly area: string;
    /** What grew there the year before. */
    readonly before: string;
    readonly planned: string;
    readonly best: string;
    readonly why: string;
  }[];
}

/** "spring barley (lot H)". Plantings of one crop are told apart by the lot they will be. */
export function plantingName(season: Season, { crop, sowingSeason, lotId }: Planting): string {
  const letter = season.lots.find((one) => one.id === lotId)?.letter;
  return `${sowingSeason} ${crop}${letter === undefined ? "" : ` (lot ${letter})`}`;
}

/** The answer in words. */
export function fieldsWords(
  season: Season,
  { uses, gain, isAsPlanned, tried, isAll }: FieldsAnswer,
): FieldsTold {
  const moved = uses.filter(({ open, best }) => open.planting.id !== best.id);
  const ways = `${countWords(tried, "other way")} ${tried === 1 ? "was" : "were"} planned${
    isAll ? "" : ", not all there are"
  }`;
  const given = listWords(
    moved.map(({ open, best }) => `${plantingName(season, best)} on ${open.field.name}`),
  );
  const words = isAsPlanned
    ? `As planned: ${ways}, and none brings a measurable gain.`
    : `${upperFirst(given)} would bring ${
      gainTold(season, gain)
    }. What is planned goes without that; ${ways}.`;
  return { words, rows: uses.map((use) => rowOf(season, use)) };
}

function rowOf(season: Season, { open, best, other }: FieldUse): FieldsTold["rows"][number] {
  const { field, planting, drilledM2 } = open;
  const why = other === null
    ? "no other use of it was planned"
    : other.isNoise
    ? `${plantingName(season, other.planting)} would do as well`
    : `${plantingName(season, other.planting)} loses ${lossTold(season, other.loss)} at most`;
  return {
    ...{ fieldId: field.id, field: field.name, why },
    area: formatArea(drilledM2, season.readerUnits),
    before: listWords(cropsOn(season, field.id, planting.harvestYear - 1)) || "not known",
    planned: plantingName(season, planting),
    best: plantingName(season, best),
  };
}

/** Brews and promises, and money behind them; other things where there is neither. */
function gainTold(season: Season, gain: Worth): string {
  const counts = gain.brews !== 0 || gain.promises !== 0
    ? gainWords(season, { ...gain, homeMaltG: 0, roomG: 0 })
    : "";
  const money = Math.abs(gain.moneyCents) < LEAST_CENTS
    ? ""
    : `${amountWords(season, gain.moneyCents)} ${gain.moneyCents > 0 ? "more" : "less"}`;
  return [counts, money].filter((one) => one !== "").join(" and ") || gainWords(season, gain);
}

/** "2 brews and 3 promises"; money where none is lost, or else malt and room. */
function lossTold(season: Season, loss: Worth): string {
  const counts = [
    loss.brews > 0 ? countWords(loss.brews, "brew") : "",
    loss.promises > 0 ? countWords(loss.promises, "promise") : "",
  ].filter((one) => one !== "");
  if (counts.length > 0) return listWords(counts);
  if (loss.moneyCents >= LEAST_CENTS) return amountWords(season, loss.moneyCents);
  return loss.homeMaltG > 0
    ? `${maltWeightWords(loss.homeMaltG, season.readerUnits)} of home malt`
    : loss.roomG > 0
    ? `a place for ${tonneWords(loss.roomG)}`
    : "next to nothing";
}
