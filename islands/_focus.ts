/**
 * Finds an element again after its surroundings were drawn anew: by its id, by the thing of the year it stands for, or
 * else by the place it had, counted from `root` downward.
 */
export function holdFocus(root: Element, anew: Element = root): () => void {
  const focused = root.ownerDocument.activeElement;
  if (focused === null || !root.contains(focused)) return () => {};
  const id = focused.id;
  const node = focused.getAttribute("data-node");
  const place = placeOf(focused, root);
  return () => {
    const again = (id === "" ? null : root.ownerDocument.getElementById(id)) ??
      (node === null ? null : anew.querySelector(`[data-node="${CSS.escape(node)}"]`)) ??
      elementAt(anew, place);
    // Without preventScroll the page would jump to the element at each redraw.
    if (again instanceof HTMLElement || again instanceof SVGElement) again.focus({ preventScroll: true });
  };
}

/** Remembers which disclosures are open below `root`, and opens the same ones again. */
export function holdOpen(root: Element): () => void {
  const open = [...root.querySelectorAll("details")].map((element) => element.open);
  return () =>
    root.querySelectorAll("details").forEach((element, index) => element.open = open[index] ?? false);
}

function placeOf(element: Element, root: Element): number[] {
  const place: number[] = [];
  for (let step = element; step !== root && step.parentElement !== null; step = step.parentElement) {
    place.unshift([...step.parentElement.children].indexOf(step));
  }
  return place;
}

function elementAt(root: Element, place: readonly number[]): Element | null {
  return place.reduce<Element | null>((element, index) => element?.children[index] ?? null, root);
}
