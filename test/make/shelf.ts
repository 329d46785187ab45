import { design, partsLine, position, run, unit } from '#db/schema/index'
import { type PartIn, partIn } from '#stock/catalogue/part.contract'
import { findOrAddPart } from '#stock/catalogue/part.service'
import { type DonorIn, donorIn } from '#stock/donors/donor.contract'
import { addDonor } from '#stock/donors/donor.service'
import type { Stage } from '#test/stage'

/** A donor that the maker wrote down, willing to be named everywhere. */
export async function makeDonor(stage: Stage, name = 'Ines Abreu', change: Partial<DonorIn> = {}) {
  const maker = await stage.actor('maker')
  const input = donorIn.parse({ name, contact: 'ines@abreu.example', consents: { page: true, stream: true, card: true }, ...change })
  return stage.command((turn) => addDonor(turn, maker, input))
}

export async function makePart(stage: Stage, change: Partial<PartIn> = {}) {
  const input = partIn.parse({ kind: 'display', name: 'Display, 14 mm', ...change })
  return (await stage.command((turn) => findOrAddPart(turn, input))).part
}

/**
 * Units of one design that lack the parts named, one position for each. They stand in the tables without a
 * checklist, since here it only matters what they lack.
 */
export async function makeUnits(stage: Stage, tags: string[], needs: Record<string, number>, designName = 'Tidemill LC-6') {
  const maker = await stage.actor('maker')
  return stage.command(({ db, dice, now }) => {
    const designId = dice.id()
    const words = { quirks: '', cautions: '', digest: '0'.repeat(64), decisionRule: 'simple' } as const
    const key = designName.toLowerCase().replaceAll(' ', '-')
    db.insert(design)
      .values({ id: designId, key, name: designName, revision: 'A', ...words, at: now, byPersonId: maker.personId })
      .run()
    let number = 0
    for (const [line, [partId, quantity]] of Object.entries(needs).entries()) {
      const lineId = dice.id()
      db.insert(partsLine)
        .values({ id: lineId, designId, line: line + 1, partId, quantity, fittedAfter: null, notes: '' })
        .run()
      for (let count = 0; count < quantity; count++) {
        number += 1
        db.insert(position)
          .values({ designId, designator: `U${number}`, partId, lineId, blocks: [], fittedAfter: null })
          .run()
      }
    }
    const runId = dice.id()
    const [prefix = 'UNIT'] = (tags[0] ?? '').split('-')
    db.insert(run).values({ id: runId, designId, tagPrefix: prefix, at: now }).run()
    return tags.map((tag, index) => {
      const row = { id: dice.id(), tag, runId, number: index + 1, at: now, setAsideAt: null, setAsideReason: null }
      db.insert(unit).values(row).run()
      return { ...row, designId }
    })
  })
}

/** Three batches on the shelf: capacitors from a donor, resistors that were bought, and two programmable chips with tags. */
export async function makeThreeBatches(stage: Stage) {
  const volunteer = await stage.as('volunteer')
  const donor = await makeDonor(stage)
  const cap = await makePart(stage, { kind: 'capacitor', name: 'capacitor', value: '100n', package: 'radial' })
  const resistor = await makePart(stage, { kind: 'resistor', name: 'resistor', value: '100R' })
  const chip = await makePart(stage, { kind: 'chip', name: 'Logic device PLD-22', programmed: true })
  await volunteer.parcels.log({ key: 'one-parcel-key', donorId: donor.id, lines: [{ partId: cap.id, quantity: 50, marking: 'SN74K104X' }] })
  await volunteer.shelf.buy({ partId: resistor.id, boughtFrom: 'Corner Electronics', quantity: 20, dateCode: '8824' })
  await volunteer.shelf.buy({ partId: chip.id, boughtFrom: 'Corner Electronics', quantity: 2 })
  return { volunteer, donor, cap }
}
