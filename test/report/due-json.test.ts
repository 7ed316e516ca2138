import { readFileSync } from 'node:fs';
import Ajv from 'ajv';
import addFormats from 'ajv-formats';
import { describe, expect, it } from 'vitest';
import { dueDocument, renderDueJson } from '../../src/report/due-json.ts';
import { named, reportOf, STATION } from '../due/report.ts';
import { reading, signOff, usage, withdraw } from '../record/entries.ts';

const ajv = new Ajv({ allErrors: true, strict: true, allowUnionTypes: true });
addFormats(ajv);
const validate = ajv.compile(JSON.parse(readFileSync('schemas/due.schema.json', 'utf8')));

const REPORT = reportOf([
  signOff('2026-11-20', 'theatre-1-absorber', 'absorbent-change'),
  usage('2026-11-21T10:00:00+00:00', 'theatre-1', 'y-piece-1', { minutes: 100 }),
  reading('2026-11-22T08:00:00+00:00', 'theatre-1-charcoal', { g: 800, new: true }),
  withdraw('2026-11-23T09:00:00+00:00', 'bain-1'),
]);

describe('dueDocument', () => {
  it('is what the schema says', () => {
    validate(JSON.parse(renderDueJson(REPORT)));
    expect(validate.errors).toBeNull();
    validate(JSON.parse(renderDueJson(reportOf([], { damage: ['line 7 is no entry'] }))));
    expect(validate.errors).toBeNull();
  });

  it('has the keys that other programs rely on', () => {
    const { format, as_of, practices } = dueDocument(REPORT);
    expect([format, as_of]).toEqual(['holdfast.due/1', '2026-11-25']);
    const [practice] = practices;
    expect(practice).toMatchObject({
      practice: 'Larkhill Animal Clinic',
      stations: [STATION],
      record: 'read',
    });
    expect(practice?.counts).toEqual({ overdue: 5, due: 0, soon: 0, ok: 3, withdrawn: 2 });
    expect(practice?.items.find(({ check }) => check === 'absorbent-change')).toEqual({
      asset: 'theatre-1-absorber',
      check: 'absorbent-change',
      state: 'ok',
      due_on: '2026-12-20',
      limit: 'interval',
      days_overdue: 0,
      last_done_on: '2026-11-20',
      failed_on: null,
      blocks: false,
      used: { hours_in_use: 1.67, hours_in_use_limit: 8, gain_g: null, gain_g_limit: null },
      because: '30 days after it was last done on 2026-11-20; 1.67 of 8 h in use',
    });
  });

  it('keeps control characters out of the text and brings them back', () => {
    const text = renderDueJson(reportOf([], { inventory: named('Lark\u009bhill') }));
    expect(text).not.toContain('\u009b');
    expect(JSON.parse(text).practices[0].practice).toBe('Lark\u009bhill');
  });
});
