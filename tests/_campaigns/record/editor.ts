import type { Conflict, EditAnswer } from "../../../routes/_edits.ts";
import type { Season } from "../../../core/season/season.ts";
import { type Pick, someEdit } from "../../_support/some-edit.ts";

/** What a client asks of the server, with the name that makes it the same edit however often it is sent. */
export interface Asked {
  readonly id: string;
  readonly author: string;
  readonly [what: string]: unknown;
}

/** An edit that the server said was saved. */
export interface Acknowledged {
  readonly asked: Asked;
  readonly revision: number;
}

/** How often each answer came. */
export type Tally = Record<EditAnswer["kind"] | "refused", number>;

/**
 * One person at one page: sees the season as it was some while ago, changes it, takes edits back, and after a conflict
 * overwrites what they were shown or leaves it. What was sent without an answer is sent again, under the same name.
 */
export class Editor {
  readonly acknowledged: Acknowledged[] = [];
  readonly tally: Tally = { saved: 0, nothing: 0, conflict: 0, "no reason": 0, findings: 0, refused: 0 };
  /** Milliseconds from sending to the answer, of edits that were saved. */
  readonly took: number[] = [];
  private view: Season | null = null;
  private waiting: Asked | null = null;
  private made = 0;

  constructor(
    private readonly author: string,
    private readonly seasonId: string,
    private readonly pick: Pick,
  ) {}

  /** The edit that was sent and not answered, or null. */
  get unanswered(): Asked | null {
    return this.waiting;
  }

  /** Makes one edit and waits for its answer. Throws when the server does not answer. */
  async step(origin: string): Promise<void> {
    const season = `${origin}/api/seasons/${this.seasonId}`;
    if (this.view === null || this.pick(8) === 0) {
      const answer = await fetch(season);
      this.view = await answer.json() as Season;
    }
    this.waiting ??= { ...this.name(), ...this.wish(this.view) };
    const answer = await this.send(season, this.waiting);
    if (answer?.kind !== "conflict" || this.pick(2) === 0) return;
    const seen = answer.conflicts.map(({ place, now }: Conflict) => ({ at: place, value: now }));
    this.waiting = { ...this.last!, ...this.name(), seen };
    await this.send(season, this.waiting);
  }

  private last: Asked | null = null;

  private async send(season: string, asked: Asked): Promise<EditAnswer | null> {
    const began = performance.now();
    const response = await fetch(`${season}/edits`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(asked),
    });
    const answer = await response.json() as EditAnswer | { error: unknown };
    if (response.status >= 500) throw new Error(`${response.status}: ${JSON.stringify(answer)}`);
    this.waiting = null;
    this.last = asked;
    if (!("kind" in answer)) {
      this.tally.refused++;
      return null;
    }
    this.tally[answer.kind]++;
    if (answer.kind === "saved") {
      this.took.push(performance.now() - began);
      this.acknowledged.push({ asked, revision: answer.revision });
    }
    return answer;
  }

  private name(): { id: string; author: string } {
    return { id: `${this.author}-${String(this.made++).padStart(8, "0")}`, author: this.author };
  }

  private wish(season: Season): object {
    const dice = this.pick(100);
    if (dice < 10) return { undo: "last" };
    if (dice < 14) return { redo: "last" };
    const changes = someEdit(season, this.pick, `${this.author}-${this.made}`);
    return { changes, reason: this.pick(2) === 0 ? "because" : "" };
  }
}
