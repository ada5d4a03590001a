/** How hard the server and the commands search. The same seed and iterations give the same plan each time. */
export const ORDER = { seed: 1, iterations: 200_000 };
