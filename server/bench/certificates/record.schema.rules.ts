import { z } from 'zod'
import {
  certificatePayload,
  earlierShape,
  evidenceShape,
  faultShape,
  instrumentShape,
  resultShape,
  reworkShape,
} from './certificates.contract'
import { standingPayload } from './status.contract'

/** The form of `/units/{tag}/record.json`, as it is published. */
export const recordShape = z
  .strictObject({
    $schema: z.literal('/schemas/record-1.json'),
    kind: z.literal('tagstrip-record'),
    version: z.literal(1).describe('Takes the next number when something is changed or left out; what is only added does not change it.'),
    tag: z.string().describe('The unit, such as TERN-03.'),
    number: z.int().positive().describe('Which of the units of its design.'),
    design: z.strictObject({ name: z.string(), revision: z.string(), quirks: z.array(z.string()), cautions: z.array(z.string()) }),
    setAside: z.string().nullable().describe('Why the unit must not go on; null when nothing stands against it.'),
    sentence: z.string().describe('The verdict in one sentence.'),
    checks: z.int().nonnegative().describe('Checks on the checklist.'),
    passed: z.int().nonnegative().describe('Checks with a current pass, within doubt or not.'),
    within: z.int().nonnegative().describe('Of those, passes within doubt.'),
    failed: z.int().nonnegative(),
    firstReadingAt: z.iso.datetime({ precision: 3 }).nullable(),
    lastReadingAt: z.iso.datetime({ precision: 3 }).nullable(),
    results: z.array(resultShape).describe('The readings that stand, in the order of the checklist.'),
    atHome: z.array(z.string()).max(5).describe('Keys of the checks that a buyer can repeat.'),
    missing: z.array(z.string()).describe('What a certificate would still need.'),
    earlier: z.array(earlierShape).describe('Readings that no longer count, with the reason.'),
    reworks: z.array(reworkShape),
    faults: z.array(faultShape).optional().describe('Faults that were found, the oldest first. Houses of before do not say.'),
    instruments: z.array(instrumentShape),
    evidence: z
      .array(evidenceShape)
      .optional()
      .describe('What the maker chose of the evidence for everybody. Houses of before do not say.'),
    decision: z.string().describe('The rule by which each verdict was reached.'),
    doubt: z.string().describe('What ± means.'),
    proves: z.string(),
    certificate: z.string().nullable(),
    links: z.strictObject({
      record: z.string(),
      certificate: z.string().nullable(),
      signed: z.string().nullable(),
      paper: z.string().nullable(),
      credits: z.string(),
      keys: z.string(),
    }),
  })
  .describe(
    'What anybody may read about a unit: no name of a person but of who released a hold point, no donor. Instants are ISO 8601 in UTC, links are paths of the house.',
  )

/** JSON Schema (2020-12) of what this house publishes, by the name it is published under. */
export const SCHEMAS: Record<string, z.ZodType> = {
  'record-1': recordShape,
  'certificate-1': certificatePayload,
  'standing-1': standingPayload,
}

export const schemaOf = (name: string): object | null => {
  const shape = Object.hasOwn(SCHEMAS, name) ? SCHEMAS[name] : undefined
  return shape ? { ...z.toJSONSchema(shape, { target: 'draft-2020-12' }), $id: `/schemas/${name}.json` } : null
}
