import { maltWeightWords } from "../core/year/words.ts";
import { traceOf } from "../core/year/trace.ts";
import type { Traced } from "./trace-graph.ts";

/** Most lines of one list; a lot that went into forty runs is told by the chain. */
const MOST_LINES = 8;

/** Opens a thing below the section: its whole name, its chain, and with their weights what it was made of and became. */
export function openDetail(box: HTMLElement, traced: Traced, node: string, says: string): void {
  const panel = box.querySelector<HTMLElement>("[data-detail]");
  if (panel === null) return;
  const [first = "", ...rest] = says.split("; ");
  const close = element("button", "Close");
  close.dataset.close = "";
  panel.replaceChildren(
    close,
    element("h2", first),
    ...rest.map((one) => element("p", one)),
    ...list("Made of", traced, node, "from"),
    ...list("Went into", traced, node, "to"),
    element("p", traceOf(traced.graph, node).sentence, "quiet"),
  );
  panel.hidden = false;
}

function list(title: string, { graph }: Traced, node: string, end: "from" | "to"): HTMLElement[] {
  const labels = new Map(graph.nodes.map(({ id, label }) => [id, label]));
  const edges = graph.edges.filter((edge) => edge[end === "from" ? "to" : "from"] === node);
  if (edges.length === 0) return [];
  const lines = edges.toSorted((a, b) => a.day - b.day).slice(0, MOST_LINES)
    .map((edge) =>
      element("li", `${labels.get(edge[end]) ?? ""}: ${maltWeightWords(edge.massG, graph.units)} as is`)
    );
  const more = edges.length - lines.length;
  const items = document.createElement("ul");
  items.append(...lines, ...(more > 0 ? [element("li", `and ${more} more`)] : []));
  return [element("h3", title), items];
}

function element<Name extends keyof HTMLElementTagNameMap>(
  name: Name,
  text: string,
  look?: string,
): HTMLElementTagNameMap[Name] {
  const made = document.createElement(name);
  made.textContent = text;
  if (look !== undefined) made.className = look;
  return made;
}
