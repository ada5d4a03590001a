import type { VNode } from "preact";
import type { Year } from "../../core/year/year.ts";
import { type BrewsLayout, STICK, stickWidth, TANK_PITCH } from "./brews-layout.ts";
import { Empty } from "./Empty.tsx";
import { c, type Frame } from "./frame.ts";
import { standingClass } from "./Leaving.tsx";
import { OldLane, OldStick } from "./Old.tsx";
import { oldBrewsOf } from "./old-layout.ts";
import { Stick } from "./Stick.tsx";
import { Figure, RowName } from "./Words.tsx";

/** Brews: one dipstick each, inked from the foot by its home share; below them every tank is a hair line. */
export function BrewsBand({ year, frame, layout }: { year: Year; frame: Frame; layout: BrewsLayout }): VNode {
  const { top, ground, tankRule, sticks } = layout;
  return (
    <g class="band brews" role="group" aria-label="Brews">
      <RowName lines={["Brews"]} full="Brews" y={top + 12} bold />
      {sticks.length === 0 && (
        <Empty
          words="Each brew will be a stick, inked from the foot by its share of home-grown grain."
          y={top + 12}
          frame={frame}
        />
      )}
      <Figure text="home share" y={ground - 2} quiet />
      {sticks.map((stick) => (
        <Stick
          key={stick.brew.id}
          {...{ stick, ground, units: year.units }}
          old={year.oldDays.brews.find(({ id }) => id === stick.brew.id)?.words ?? ""}
        />
      ))}
      <OldBrews year={year} frame={frame} layout={layout} />
      <path class="ground" d={`M${frame.left} ${ground}H${c(frame.right)}`} />
      {year.tanks.tanks.length > 0 && <Figure text={`${year.tanks.tanks.length} tanks`} y={tankRule} />}
      <Tanks year={year} frame={frame} ground={ground} />
      <path class="tank-rule" d={`M${frame.left} ${tankRule}H${c(frame.right)}`} />
      <Clashes year={year} frame={frame} tankRule={tankRule} />
    </g>
  );
}

/** Where brews stood in the plan before. */
function OldBrews({ year, frame, layout }: { year: Year; frame: Frame; layout: BrewsLayout }): VNode {
  const { ghosts, lane } = oldBrewsOf(year, layout, frame);
  const nodes = new Map(layout.sticks.map(({ brew }) => [brew.id, brew.node]));
  return (
    <>
      {ghosts.map((old) => (
        <OldStick
          key={old.id}
          {...{ old, frame }}
          node={nodes.get(old.id)}
          ground={layout.ground}
          width={stickWidth(frame)}
        />
      ))}
      <OldLane lane={lane} foot={layout.ground - STICK - 2} />
    </>
  );
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
