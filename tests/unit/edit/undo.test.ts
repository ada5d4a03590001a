import { describe, expect, test } from "vitest";
import { type Trail, undoState } from "../../../core/edit/undo.ts";

const edit = (revision: number): Trail => ({ revision, undoes: null, redoes: null, own: true });
const undo = (revision: number, undoes: number, own = true): Trail => ({ ...edit(revision), undoes, own });
const redo = (revision: number, redoes: number, own = true): Trail => ({ ...edit(revision), redoes, own });

describe("what a person can take back", () => {
  test.each<[string, Trail[], number | null, number | null]>([
    ["nothing at first", [], null, null],
    ["the last edit", [edit(2), edit(5)], 5, null],
    ["the one before, once that is taken back", [edit(2), edit(5), undo(6, 5)], 2, 5],
    ["nothing, once all is taken back", [edit(2), undo(3, 2)], null, 2],
    ["the same again, once it is made again", [edit(2), undo(3, 2), redo(4, 2)], 2, null],
    ["the new edit, and what was taken back is past", [edit(2), undo(3, 2), edit(4)], 4, null],
    ["step by step, both ways", [edit(2), edit(3), undo(4, 3), undo(5, 2), redo(6, 2)], 2, 3],
    ["not what somebody else has taken back", [edit(2), edit(3), undo(4, 3, false)], 2, null],
    ["but what somebody else has made again", [edit(2), undo(3, 2), redo(4, 2, false)], 2, null],
    ["nothing of what others do among themselves", [edit(2), undo(5, 4, false), redo(6, 4, false)], 2, null],
  ])("%s", (_, own, back, again) => {
    expect(undoState(own)).toEqual({ undo: back, redo: again });
  });
});
