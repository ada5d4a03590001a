export function wakeSection(_root: Element): void {}
