import { loadHighs } from "../../_support/highs.ts";
import { outcomeOf, type SeasonTask } from "./outcome.ts";

const highs = await loadHighs();
self.onmessage = async ({ data }: MessageEvent<SeasonTask>) => self.postMessage(await outcomeOf(highs, data));
self.postMessage("ready");
