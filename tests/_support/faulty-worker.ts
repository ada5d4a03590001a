/// <reference lib="deno.worker" />
/** A planning worker with the faults that a real one should not have. The seed says which. */
import type { FromWorker, Job } from "../../routes/_solver/messages.ts";

self.onmessage = ({ data }: MessageEvent<Job>) => {
  if (data.seed === 1) {
    setTimeout(() => {
      throw new Error("torn apart");
    });
  }
  // Seeds 2 and 4 neither end nor hear that they should; seed 4 has told of a plan by then.
  if (data.seed === 4) {
    tell({ kind: "progress", progress: { stage: "naive", done: 0, of: 1, best: data.from! } });
  }
  if (data.seed === 3) tell({ kind: "ending", ending: { kind: "cannot", findings: [] } });
};

function tell(message: FromWorker): void {
  self.postMessage(message);
}
