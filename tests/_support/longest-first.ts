import { BaseSequencer, type TestSpecification } from "vitest/node";

/** Files that take long, the longest first; begun last, one of them would keep one of two workers waiting for the other. */
const LONG = [
  "browser/year",
  "browser/together",
  "browser/old-days",
  "browser/farm",
  "browser/offer",
  "unit/plan/brute-force",
  "unit/plan/micro",
  "unit/acceptance/",
  "unit/plan/",
  "unit/generate/made",
  "api/",
  "unit/bound/",
  "unit/search/weighed",
  "unit/next/next-season",
];

/** Puts the files of each project in the order in which the workers are kept busy to the end. */
export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    const place = ({ moduleId }: TestSpecification) => {
      const found = LONG.findIndex((part) => moduleId.includes(`/tests/${part}`));
      return found < 0 ? LONG.length : found;
    };
    const projects = [...new Set(sorted.map(({ project }) => project.name))];
    return projects.flatMap((name) =>
      sorted.filter(({ project }) => project.name === name).toSorted((a, b) => place(a) - place(b))
    );
  }
}
