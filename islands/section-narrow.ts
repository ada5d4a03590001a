const SVG = "http://www.w3.org/2000/svg";
/** Width of the names that stay in view, in pixels; they are cut there, their whole text stands in the drawing. */
const PINNED = 92;

/** Where the drawing is wider than its box it begins at today, and the names of bands and rows stay in view. */
export function settleNarrow(box: HTMLElement, svg: SVGSVGElement): void {
  const scroll = box.querySelector<HTMLElement>(".section-scroll");
  if (scroll === null || scroll.scrollWidth <= scroll.clientWidth) return;
  const today = svg.querySelector(".today path");
  const start = svg.getBoundingClientRect().left;
  const left = today === null ? 0 : today.getBoundingClientRect().left - start;
  scroll.scrollLeft = left - PINNED - (scroll.clientWidth - PINNED) / 3;
  scroll.append(pinnedNames(svg));
}

function pinnedNames(svg: SVGSVGElement): SVGSVGElement {
  const pinned = document.createElementNS(SVG, "svg");
  const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
  pinned.setAttribute("class", "section pinned");
  pinned.setAttribute("viewBox", `0 0 ${PINNED / scale} ${svg.viewBox.baseVal.height}`);
  pinned.setAttribute("preserveAspectRatio", "xMinYMin slice");
  pinned.setAttribute("height", String(svg.getBoundingClientRect().height));
  pinned.setAttribute("aria-hidden", "true");
  pinned.append(...[...svg.querySelectorAll(".band-name, .row-name")].map((name) => name.cloneNode(true)));
  return pinned;
}
