import { describe, expect, test } from "vitest";
import { type Trail, undoState } from "../../../core/edit/undo.ts";

const edit = (revision: number): Trail => ({ revision, undoes: null, redoes: null });
const undo = (revision: number, undoes: number): Trail => ({ revision, undoes, redoes: null });
const redo = (revision: number, redoes: number): Trail => ({ revision, undoes: null, redoes });

describe("what a person can take back", () => {
  test.each<[string, Trail[], number | null, number | null]>([
    ["nothing at first", [], null, null],
    ["the last edit", [edit(2), edit(5)], 5, null],
    ["the one before, once that is taken back", [edit(2), edit(5), undo(6, 5)], 2, 5],
    ["nothing, once all is taken back", [edit(2), undo(3, 2)], null, 2],
    ["the same again, once it is made again", [edit(2), undo(3, 2), redo(4, 2)], 2, null],
    ["the new edit, and what was taken back is past", [edit(2), undo(3, 2), edit(4)], 4, null],
    ["step by step, both ways", [edit(2), edit(3), undo(4, 3), undo(5, 2), redo(6, 2)], 2, 3],
  ])("%s", (_, own, back, again) => {
    expect(undoState(own)).toEqual({ undo: back, redo: again });
  });
});
