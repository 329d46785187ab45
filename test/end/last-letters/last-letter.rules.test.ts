import { describe, expect, test } from 'vitest'
import { draftLastLetter, whyNone } from '#end/last-letters/last-letter.rules'
import type { Outcome } from '#gifts/outcome/outcome.rules'
import { showMoney } from '#kernel/money'

const lot = (number: number, hammerMinor: number) => ({
  id: `lot ${number}`,
  number,
  title: 'Receiver',
  state: 'sold' as const,
  hammerMinor,
})
const crystals: Outcome = {
  giftId: 'g1',
  what: 'Crystal',
  kind: 'parts',
  quantity: 20,
  minutes: null,
  state: 'available',
  machines: [
    { unitId: 'u1', tag: 'TERN-01', designators: ['X1', 'X2'], lot: lot(1, 15_000) },
    { unitId: 'u2', tag: 'TERN-02', designators: ['X1'], lot: lot(2, 6_200) },
  ],
  withLots: [],
  inHand: 15,
  failed: 2,
  isQuarantined: false,
}
const help: Outcome = {
  ...crystals,
  giftId: 'g2',
  what: 'winding coils',
  kind: 'labour',
  quantity: 0,
  minutes: 240,
  machines: [],
  inHand: 0,
  failed: 0,
}
const told = {
  campaign: 'Long Bench Day',
  cause: 'Ferry Lane',
  raised: '£900.00',
  ownPage: 'https://bench.example/yours',
  name: 'Ines',
  money: (minor: number) => showMoney(minor, 'GBP'),
}

describe('the last letter', () => {
  test('says what each gift became and what those lots raised, and never what a gift is worth', () => {
    const { subject, body } = draftLastLetter({ ...told, outcomes: [crystals, help] })
    expect(subject).toBe('Long Bench Day: what became of your gifts')
    expect(body).toContain('Long Bench Day is over. It raised £900.00 for Ferry Lane')
    expect(body).toContain(
      '- Your 20 × Crystal: 3 fitted in TERN-01 and -02, 15 kept as spares, 2 failed. Those two lots raised £212.00 together.',
    )
    expect(body).toContain('- Your 4 h of help: winding coils.')
    expect(body).toContain('Altogether, 2 lots with your gifts in them raised £212.00.')
  })

  test('goes to whoever can be reached, and says why to nobody else', () => {
    const one = { isStandIn: false, approved: true, contact: 'ines@donor.example', gifts: 1, toldAt: null, knowsAll: false }
    expect(whyNone(one)).toBeNull()
    expect(whyNone({ ...one, toldAt: '2027-03-14' })).toBe('Told on 2027-03-14.')
    expect(whyNone({ ...one, gifts: 0 })).toBe('Nothing from them has arrived.')
    expect(whyNone({ ...one, isStandIn: true })).toBe('Nobody knows who this was.')
    expect(whyNone({ ...one, approved: false })).toContain('not approved')
    expect(whyNone({ ...one, knowsAll: true })).toContain('Already told')
    expect(whyNone({ ...one, contact: '' })).toContain('We have no email address')
  })
})
