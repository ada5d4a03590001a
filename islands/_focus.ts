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

/**
 * Remembers which disclosures are open below `root` and which boxes are not as they came, and makes the same ones so
 * again. A disclosure is known by its summary, a box by its id; what is new stays as it comes.
 */
export function holdOpen(root: Element): () => void {
  const open = new Map([...root.querySelectorAll("details")].map((one) => [summaryOf(one), one.open]));
  const changed = [...root.querySelectorAll<HTMLInputElement>("input[type=checkbox][id]")]
    .filter((box) => box.checked !== box.defaultChecked).map(({ id, checked }) => ({ id, checked }));
  return () => {
    for (const one of root.querySelectorAll("details")) one.open = open.get(summaryOf(one)) ?? one.open;
    for (const { id, checked } of changed) {
      const box = root.querySelector<HTMLInputElement>(`#${CSS.escape(id)}`);
      if (box !== null) box.checked = checked;
    }
  };
}

function summaryOf(details: HTMLDetailsElement): string {
  return details.querySelector("summary")?.textContent ?? "";
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
