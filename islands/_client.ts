/**
 * Wakes the islands of a page. An island is an element with data-island, the island's name, and data-props, its
 * arguments as JSON; its module is fetched only on pages that hold it and exports `wake`.
 */
type Wake = (root: HTMLElement, props: never) => void;

const islands: Record<string, () => Promise<{ wake: Wake }>> = {
  Follow: () => import("./Follow.ts"),
  LivePage: () => import("./LivePage.ts"),
  LiveYear: () => import("./LiveYear.ts"),
};

for (const root of document.querySelectorAll<HTMLElement>("[data-island]")) {
  const props = JSON.parse(root.dataset.props ?? "{}") as never;
  islands[root.dataset.island ?? ""]?.().then(({ wake }) => wake(root, props));
}
