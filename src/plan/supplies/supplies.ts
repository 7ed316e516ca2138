/** Everything behind a case that can run out, and how fast its mixture changes. */
import type { Reason, Reasoned } from '../reason.ts';
import { type AbsorbentPart, absorbentOf } from './absorbent.ts';
import { type AgentPart, agentOf } from './agent.ts';
import { type Breathing, breathingOf } from './breathing.ts';
import type { SupplyCase } from './case.ts';
import { type CharcoalPart, charcoalOf } from './charcoal.ts';
import { type DeadSpace, deadSpaceOf } from './dead-space.ts';
import { type Metabolism, metabolismOf } from './metabolism.ts';
import { type OxygenPart, oxygenOf } from './oxygen.ts';
import { type WashIn, washInOf } from './wash-in.ts';

export interface Supplies extends Reasoned {
  readonly oxygen: OxygenPart;
  /** null: the circuit has no absorbent. */
  readonly absorbent: AbsorbentPart | null;
  readonly agent: AgentPart;
  /** null: no charcoal takes up the waste gas. */
  readonly charcoal: CharcoalPart | null;
  readonly washIn: WashIn;
  readonly breathing: Breathing;
  readonly deadSpace: DeadSpace;
  readonly metabolism: Metabolism;
}

/**
 * The supplies of a case. A figure that cannot be worked out is null, and its part names what is missing.
 *
 * @example suppliesOf(supplyCase).oxygen.leftL //=> 434.21…
 */
export function suppliesOf(supplyCase: SupplyCase): Supplies {
  const agent = agentOf(supplyCase);
  const parts = {
    oxygen: oxygenOf(supplyCase),
    absorbent: absorbentOf(supplyCase),
    agent,
    charcoal: charcoalOf(supplyCase, agent),
    washIn: washInOf(supplyCase),
    breathing: breathingOf(supplyCase),
    deadSpace: deadSpaceOf(supplyCase),
    metabolism: metabolismOf(supplyCase),
  };
  const reasons: Reason[] = Object.values(parts).flatMap(part => part?.reasons ?? []);
  return { ...parts, reasons };
}
