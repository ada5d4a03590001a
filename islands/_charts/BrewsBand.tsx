import type { VNode } from "preact";
import type { Year } from "../../core/year/year.ts";
import { type BrewsLayout, STICK, type Stick as StickPlace, TANK_PITCH } from "./brews-layout.ts";
import { todayBox } from "./Axis.tsx";
import { Empty } from "./Empty.tsx";
import { c, type Frame } from "./frame.ts";
import { placeLabels } from "./label-placement.ts";
import { isShort, Stick } from "./Stick.tsx";
import { standingClass } from "./Leaving.tsx";
import { Figure, RowName, Words, type WordsWish } from "./Words.tsx";

/** Brews: one dipstick each, inked from the foot by its home share; below them every tank is a hair line. */
export function BrewsBand({ year, frame, layout }: { year: Year; frame: Frame; layout: BrewsLayout }): VNode {
  const { top, ground, tankRule, sticks } = layout;
  const letters = placeLabels(
    letterWishes(sticks, ground),
    {
      x: frame.left - 4,
      y: top - 1,
      width: frame.right - frame.left + 8,
      height: ground - top,
    },
    [],
    0.6,
  );
  const clashes = clashWishes(year, layout, frame);
  return (
    <g class="band brews" role="group" aria-label="Brews">
      <RowName name="Brews" full="Brews" y={top + 12} bold />
      {sticks.length === 0 && (
        <Empty
          words="Each brew will be a stick, inked from the foot by its share of home-grown grain."
          y={top + 12}
          frame={frame}
        />
      )}
      <Figure text="home share" y={ground - 2} quiet />
      <Words placed={letters} />
      {sticks.map((stick) => <Stick key={stick.brew.id} {...{ stick, ground, units: year.units }} />)}
      <path class="ground" d={`M${frame.left} ${ground}H${c(frame.right)}`} />
      {year.tanks.tanks.length > 0 && <Figure text={`${year.tanks.tanks.length} tanks`} y={tankRule} />}
      <Tanks year={year} frame={frame} ground={ground} />
      <path class="tank-rule" d={`M${frame.left} ${tankRule}H${c(frame.right)}`} />
      <Clashes year={year} frame={frame} tankRule={tankRule} />
      <Words
        placed={placeLabels(clashes, {
          x: frame.left,
          y: tankRule,
          width: frame.right - frame.left,
          height: 20,
        }, [...clashBoxes(year, frame, tankRule), ...todayBox(frame)])}
      />
    </g>
  );
}

/** Promised brews and those that fall short get their letters first, the others where there is room. */
function letterWishes(sticks: readonly StickPlace[], ground: number): WordsWish[] {
  const urgent = ({ brew }: StickPlace) => isShort(brew) ? 0 : brew.class === 1 ? 1 : 2;
  return sticks.toSorted((a, b) => urgent(a) - urgent(b)).map((stick): WordsWish => {
    const { brew, left, width } = stick;
    const lacks = urgent(stick) === 0;
    const spot = (dx: number, tier: number) => ({
      x: left + width / 2 + dx,
      y: ground - STICK - 4.8 - tier * 9.2,
      anchor: "middle" as const,
    });
    return {
      text: brew.letter,
      of: brew.node,
      bold: lacks,
      size: 11.25,
      look: lacks ? "lack" : brew.class === 1 ? "promised-letter" : "",
      spots: [spot(0, 0), spot(0, 1), spot(-1.5, 0), spot(1.5, 0), spot(-1.5, 1), spot(1.5, 1)],
    };
  });
}

function Tanks({ year, frame, ground }: { year: Year; frame: Frame; ground: number }): VNode {
  const paths = new Map<string, string>();
  for (const [index, tank] of year.tanks.tanks.entries()) {
    const y = c(ground + 2 + (index + 1) * TANK_PITCH);
    for (const use of tank.uses) {
      if (use.to < frame.fromDay || use.from >= frame.toDay) continue;
      const kind = standingClass(use.standing);
      const path = `M${c(frame.x(use.from))} ${y}H${c(frame.x(use.to + 1) - 0.8)}`;
      if (use.node === null) paths.set(kind, (paths.get(kind) ?? "") + path);
      else paths.set(`${kind} ${use.node}`, (paths.get(`${kind} ${use.node}`) ?? "") + path);
    }
  }
  return (
    <g class="tanks" aria-hidden="true">
      {[...paths].map(([key, d]) => {
        const [kind, node] = key.split(" ");
        return <path key={key} class={`tank ${kind}`} data-of={node} d={d} />;
      })}
    </g>
  );
}

/** More tanks asked for than there are: hair lines that fall through the tank rule. */
function Clashes({ year, frame, tankRule }: { year: Year; frame: Frame; tankRule: number }): VNode {
  return (
    <g class="lack">
      {year.tanks.clashes.filter(({ from, to }) => to >= frame.fromDay && from < frame.toDay).map((clash) => (
        <g key={clash.from} role="img" aria-label={clash.text}>
          <path class="over" d={overLines(clash, frame, tankRule)} />
        </g>
      ))}
    </g>
  );
}

function overLines(
  { days, from, to, asked, open }: Year["tanks"]["clashes"][number],
  frame: Frame,
  tankRule: number,
): string {
  const counts = days.length > 0 ? days : [{ day: from, asked, open }, { day: to, asked, open }];
  let path = "";
  for (let level = 1; level <= asked - open; level++) {
    const those = counts.filter((one) => one.asked - one.open >= level);
    const first = those[0], last = those.at(-1);
    if (first === undefined || last === undefined) continue;
    path += `M${c(frame.x(first.day))} ${c(tankRule + level * TANK_PITCH)}H${c(frame.x(last.day + 1))}`;
  }
  return path;
}

function clashBoxes(year: Year, frame: Frame, tankRule: number) {
  return year.tanks.clashes.map(({ from, to, asked, open }) => ({
    x: frame.x(from),
    y: tankRule,
    width: frame.x(to + 1) - frame.x(from),
    height: (asked - open) * TANK_PITCH + 2,
  }));
}

function clashWishes(year: Year, { tankRule }: BrewsLayout, frame: Frame): WordsWish[] {
  return year.tanks.clashes.filter(({ from }) => from < frame.toDay).map((clash): WordsWish => ({
    text: clash.text,
    shorter: [clash.text.split(":")[0] ?? ""],
    look: "lack halo",
    bold: true,
    spots: [{ x: frame.x(clash.from) - 6, y: tankRule + 11, anchor: "end" }, {
      x: frame.x(clash.to + 1) + 6,
      y: tankRule + 11,
    }],
  }));
}
