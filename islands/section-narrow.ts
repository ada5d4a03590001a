const SVG = "http://www.w3.org/2000/svg";
/** Units of the drawing that stay in view: its names and figures, up to where time begins. */
const PINNED = 144;

/** Where the drawing is wider than its box it begins at today, and the names of bands and rows stay in view. */
export function settleNarrow(box: HTMLElement, svg: SVGSVGElement): void {
  const scroll = box.querySelector<HTMLElement>(".section-scroll");
  if (scroll === null || scroll.scrollWidth <= scroll.clientWidth) return;
  const today = svg.querySelector(".today path");
  const start = svg.getBoundingClientRect().left;
  const left = today === null ? 0 : today.getBoundingClientRect().left - start;
  const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
  const pinned = PINNED * scale;
  scroll.scrollLeft = left - pinned - (scroll.clientWidth - pinned) / 3;
  scroll.append(pinnedNames(svg, scale));
}

function pinnedNames(svg: SVGSVGElement, scale: number): SVGSVGElement {
  const pinned = document.createElementNS(SVG, "svg");
  pinned.setAttribute("class", "section pinned");
  pinned.setAttribute("viewBox", `0 0 ${PINNED} ${svg.viewBox.baseVal.height}`);
  pinned.setAttribute("preserveAspectRatio", "xMinYMin slice");
  pinned.style.width = `${PINNED * scale}px`;
  pinned.setAttribute("height", String(svg.getBoundingClientRect().height));
  pinned.setAttribute("aria-hidden", "true");
  pinned.append(
    ...[...svg.querySelectorAll(".band-name, .row-name, .figure")].map((name) => name.cloneNode(true)),
  );
  return pinned;
}
