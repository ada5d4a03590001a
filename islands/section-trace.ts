import { settleNarrow } from "./section-narrow.ts";
import { openDetail } from "./section-detail.ts";
import { drawThread } from "./section-thread.ts";
import {
  lineageOf,
  type Neighbours,
  neighboursOf,
  readTrace,
  stepFrom,
  type Traced,
  type Way,
} from "./trace-graph.ts";
import { traceOf } from "../core/year/trace.ts";

/** What an awake section remembers. */
interface Awake {
  readonly box: HTMLElement;
  readonly svg: SVGSVGElement;
  readonly traced: Traced;
  readonly kin: Neighbours;
  readonly marks: ReadonlyMap<string, readonly SVGElement[]>;
  readonly places: ReadonlyMap<string, number>;
  /** Things stay lit after a click or Enter until Escape or a click beside them. */
  held: string | null;
  lit: string | null;
}

const WAYS: Readonly<Record<string, Way>> = {
  ArrowLeft: "left",
  ArrowRight: "right",
  ArrowUp: "up",
  ArrowDown: "down",
};

/** Wakes every section below `root`: pointing at a thing, or stepping to it, lights all it came of and all it became. */
export function wakeSection(root: Element): void {
  for (const box of root.querySelectorAll<HTMLElement>("[data-section]")) {
    const svg = box.querySelector<SVGSVGElement>("svg.section");
    if (svg !== null) wake(box, svg);
  }
}

function wake(box: HTMLElement, svg: SVGSVGElement): void {
  const traced = readTrace(JSON.parse(box.dataset.trace ?? '{"units":"metric","nodes":[],"edges":[]}'));
  const marks = Map.groupBy(
    svg.querySelectorAll<SVGElement>("[data-node]"),
    (mark) => mark.dataset.node ?? "",
  );
  const places = new Map(traced.nodes.map(({ id }, place) => [id, place]));
  const section: Awake = {
    box,
    svg,
    traced,
    kin: neighboursOf(traced),
    marks,
    places,
    held: null,
    lit: null,
  };
  firstStop(section)?.setAttribute("tabindex", "0");
  settleNarrow(box, svg);

  svg.addEventListener("pointerover", (event) => {
    if (event.pointerType !== "touch") light(section, nodeAt(event) ?? section.held);
  });
  svg.addEventListener("pointerleave", () => light(section, section.held ?? focusedNode(section)));
  svg.addEventListener("click", (event) => hold(section, nodeAt(event)));
  // On the box, because a browser makes an SVG element that listens for focus a tab stop of its own.
  box.addEventListener("focusin", (event) => {
    const mark = (event.target as Element).closest<SVGElement>("[data-node]");
    if (mark === null) return;
    moveStop(section, mark);
    light(section, mark.dataset.node ?? null);
  });
  box.addEventListener("focusout", () => light(section, section.held));
  box.addEventListener("keydown", (event) => onKey(section, event));
  box.addEventListener("click", (event) => {
    if ((event.target as Element).closest("[data-close]") !== null) letGo(section);
  });
}

/** The first stop of the tab key is what is nearest to today in the malthouse, where a maltster would begin. */
function firstStop({ svg }: Awake): SVGElement | null {
  return svg.querySelector<SVGElement>(".run.under-way, .run.booked, .run.not-booked") ??
    svg.querySelector<SVGElement>("[data-node]");
}

/** The thing under the pointer; where a thing lay before stands for the thing itself. */
function nodeAt(event: Event): string | null {
  const at = (event.target as Element).closest<SVGElement>("[data-node], .old[data-of]");
  return at?.dataset.node ?? at?.dataset.of ?? null;
}

function focusedNode({ svg }: Awake): string | null {
  const focused = svg.ownerDocument.activeElement;
  return focused !== null && svg.contains(focused) ? (focused as SVGElement).dataset.node ?? null : null;
}

function moveStop({ svg }: Awake, to: SVGElement): void {
  svg.querySelector('[tabindex="0"]')?.setAttribute("tabindex", "-1");
  to.setAttribute("tabindex", "0");
}

/** Lights a thing with its kin, or nothing. */
function light(section: Awake, node: string | null): void {
  if (section.lit === node) return;
  section.lit = node;
  const { box, svg, traced, kin, places } = section;
  for (const lit of svg.querySelectorAll(".lit")) lit.classList.remove("lit");
  const place = node === null ? undefined : places.get(node);
  svg.classList.toggle("traced", place !== undefined);
  box.classList.toggle("tracing", place !== undefined);
  const lineage = place === undefined ? null : lineageOf(place, kin);
  drawThread(svg, traced, lineage);
  const chain = box.querySelector("[data-chain]");
  if (chain !== null) chain.textContent = node === null ? "" : traceOf(traced.graph, node).sentence;
  if (lineage === null) return;
  const kinIds = new Set(
    [...lineage.before, lineage.self, ...lineage.after].map((one) => traced.nodes[one]?.id),
  );
  for (const mark of svg.querySelectorAll<SVGElement>("[data-node], [data-of]")) {
    if (kinIds.has(mark.dataset.node ?? mark.dataset.of)) mark.classList.add("lit");
  }
}

function hold(section: Awake, node: string | null): void {
  if (node === null) return letGo(section);
  section.held = node;
  light(section, node);
  openDetail(
    section.box,
    section.traced,
    node,
    section.marks.get(node)?.[0]?.getAttribute("aria-label") ?? "",
  );
}

function letGo(section: Awake): void {
  const back = section.held === null ? undefined : section.marks.get(section.held)?.[0];
  const detail = section.box.querySelector<HTMLElement>("[data-detail]");
  const wasInside = detail?.contains(section.box.ownerDocument.activeElement) ?? false;
  section.held = null;
  if (detail !== null) detail.hidden = true;
  if (wasInside) back?.focus({ preventScroll: true });
  else light(section, null);
}

function onKey(section: Awake, event: KeyboardEvent): void {
  if (event.key === "Escape") return letGo(section);
  const node = focusedNode(section);
  const place = node === null ? undefined : section.places.get(node);
  if (node === null || place === undefined) return;
  if (event.key === "Enter" || event.key === " ") {
    event.preventDefault();
    hold(section, node);
    section.box.querySelector<HTMLElement>("[data-detail]")?.focus({ preventScroll: true });
    return;
  }
  const way = WAYS[event.key];
  if (way === undefined) return;
  event.preventDefault();
  const next = stepFrom(place, way, section.traced, section.kin);
  const mark = next === null ? undefined : section.marks.get(section.traced.nodes[next]?.id ?? "")?.[0];
  if (mark === undefined) return;
  section.held = null;
  mark.focus({ preventScroll: true });
  mark.scrollIntoView({ block: "nearest", inline: "nearest" });
}
