import type { Highs, HighsCallbackMap, Model } from "highs";

/** Thrown out of a search of which nothing more is wanted. */
export class LeftOff extends Error {
  constructor() {
    super("Left off.");
  }
}

/**
 * A HiGHS instance whose solves throw LeftOff soon after `isLeft` has become true. Terminating a worker does not end a solve
 * that runs inside WebAssembly, so the solve has to look for itself. What is solved to its end is the same as without.
 */
export function interruptible(highs: Highs, isLeft: () => boolean): Highs {
  const { simplexInterrupt, ipmInterrupt, mipInterrupt } = highs.constants.callbackType;
  const look = (event: { interrupt(): void }): undefined => {
    if (isLeft()) event.interrupt();
  };
  const callbacks: HighsCallbackMap = {
    [simplexInterrupt]: look,
    [ipmInterrupt]: look,
    [mipInterrupt]: look,
  };

  function run(model: Model) {
    if (isLeft()) throw new LeftOff();
    const result = model.run(callbacks);
    if (isLeft()) throw new LeftOff();
    return result;
  }

  const withModel = (source: Parameters<Highs["createModel"]>[0], operation: (model: Model) => unknown) =>
    highs.withModel(source!, (model) => operation(instead(model, { run: () => run(model) })));
  return instead(highs, { withModel: withModel as Highs["withModel"] });
}

/** The same object with some methods of its own; the others are called on the object itself, which keeps private things. */
function instead<Thing extends object>(thing: Thing, own: Partial<Thing>): Thing {
  return new Proxy({} as Thing, {
    get(_, name) {
      const value: unknown = Reflect.get(name in own ? own : thing, name);
      return typeof value === "function" && !(name in own) ? value.bind(thing) : value;
    },
  });
}
