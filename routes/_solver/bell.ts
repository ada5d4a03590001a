/** Tells those who follow a season that its plan has changed. They look for themselves what is new. */
export interface Bell {
  ring(seasonId: string): void;
  /** Calls `listener` at each ring until the returned function is called. */
  follow(seasonId: string, listener: () => void): () => void;
}

/** Makes a bell that nobody follows yet. */
export function makeBell(): Bell {
  const listeners = new Map<string, Set<() => void>>();
  return {
    ring: (seasonId) => listeners.get(seasonId)?.forEach((listener) => listener()),
    follow(seasonId, listener) {
      const set = listeners.get(seasonId) ?? new Set();
      listeners.set(seasonId, set.add(listener));
      return () => {
        set.delete(listener);
        if (set.size === 0) listeners.delete(seasonId);
      };
    },
  };
}
