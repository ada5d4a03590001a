/// <reference lib="deno.worker" />
/** A planning worker with the faults that a real one should not have. The seed says which. */
import type { FromWorker, Job } from "../../routes/_solver/messages.ts";

self.onmessage = ({ data }: MessageEvent<Job>) => {
  if (data.seed === 1) {
    setTimeout(() => {
      throw new Error("torn apart");
    });
  }
  // Seed 2 neither ends nor hears that it should.
  if (data.seed === 3) tell({ kind: "ending", ending: { kind: "cannot", findings: [] } });
};

function tell(message: FromWorker): void {
  self.postMessage(message);
}
