/**
 * How wide words will stand in the drawing. The server draws without a browser, so the advance widths of Source
 * Sans 3 (measured from the font file, thousandths of the type size, tabular figures) are kept here.
 */

/** Characters 32 to 126 at weight 400. */
const REGULAR = (
  "200 289 426 497 497 824 609 249 303 303 418 497 249 311 249 350 497 497 497 497 497 497 497 497 " +
  "497 497 249 249 497 497 497 425 847 537 588 545 615 527 494 617 652 263 443 579 486 727 647 664 " +
  "566 664 569 522 536 645 524 786 513 476 524 303 350 303 497 500 542 504 553 437 555 496 289 504 " +
  "544 246 247 495 255 829 547 542 555 555 347 419 320 544 467 719 446 467 425 303 241 303 497"
).split(" ").map(Number);
/** The same at weight 650. */
const BOLD = (
  "200 328 510 521 520 849 653 288 334 334 447 520 288 327 288 341 520 520 520 520 520 520 520 520 " +
  "520 520 288 288 520 520 520 454 889 562 601 548 630 543 517 633 668 292 465 606 510 754 661 679 " +
  "589 679 602 535 551 660 555 807 554 513 529 334 341 334 520 500 552 522 568 442 568 512 319 527 " +
  "565 269 270 535 279 850 566 552 568 568 386 437 354 562 509 762 497 508 452 334 261 334 520"
).split(" ").map(Number);
/** Anything else counts as wide as an em of three quarters: vulgar fractions, accented capitals. */
const OTHER = 810;

/** Width in drawing units of `text` at a type size in the same units. */
export function textWidth(text: string, size: number, bold = false): number {
  const table = bold ? BOLD : REGULAR;
  let sum = 0;
  for (const sign of text) sum += table[sign.charCodeAt(0) - 32] ?? OTHER;
  return sum * size / 1000;
}

/** `text`, or as much of it as fits into `width` with an ellipsis behind it. */
export function clip(text: string, width: number, size: number, bold = false): string {
  if (textWidth(text, size, bold) <= width) return text;
  const signs = [...text];
  while (signs.length > 0 && textWidth(`${signs.join("").trimEnd()}…`, size, bold) > width) signs.pop();
  return signs.length === 0 ? "" : `${signs.join("").trimEnd()}…`;
}

/**
 * `text` broken at its blanks into lines of the given widths, one width a line; what does not fit into the last of
 * them is cut there. A word wider than its line is cut as well.
 */
export function wrap(text: string, widths: readonly number[], size: number): string[] {
  const lines: string[] = [];
  let rest = text.trim();
  for (const [index, width] of widths.entries()) {
    if (rest === "") break;
    if (index === widths.length - 1 || textWidth(rest, size) <= width) {
      lines.push(clip(rest, width, size));
      return lines;
    }
    const words = rest.split(/(?<= )/);
    let line = words.shift() ?? "";
    while (words.length > 0 && textWidth((line + words[0]).trimEnd(), size) <= width) line += words.shift();
    lines.push(clip(line.trimEnd(), width, size));
    rest = words.join("");
  }
  return lines;
}
