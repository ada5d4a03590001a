import { z } from "zod";
import { seasonSchema } from "../../core/season/season.ts";

/** Prints the JSON Schema of the season file: the form that one writes, in which defaults may be left out. */
if (import.meta.main) console.log(JSON.stringify(z.toJSONSchema(seasonSchema, { io: "input" }), null, 2));
