import { createPublicKey, verify } from 'node:crypto'
import { bytesToHex } from '@noble/hashes/utils.js'
import { describe, expect, it } from 'vitest'
import { MINUTE, SECOND } from '#kernel/instant'
import { aliasFrom } from '#sale/bidders/alias.rules'
import { checkHistory, signedHeads } from '#sale/history/check-history.rules'
import { keyHash, openNote } from '#sale/history/checkpoint.rules'
import type { History } from '#sale/history/history.contract'
import { commitmentTo } from '#sale/history/ledger.rules'
import { readShortHead, shortHead } from '#sale/history/short-head.rules'
import { HOUSE, makeKey, makeLot, makeTerms, pounds } from '#test/make/lot-history'

const CLOSES = 60 * MINUTE

/** A lot with everything in it: a hold, a late bid, an outage, a void, a reserve, a sale. */
function eventfulLot() {
  const lot = makeLot({ closesAt: CLOSES, terms: makeTerms({ reserveMinor: pounds(100) }) })
  lot.bid('4K', pounds(60), SECOND)
  lot.bid('7R', pounds(150), 2 * SECOND)
  lot.say({ kind: 'hold', reason: 'Sound.' }, MINUTE)
  lot.say({ kind: 'resume', shiftMs: 10 * SECOND }, MINUTE + 10 * SECOND)
  lot.bid('9F', pounds(400), 2 * MINUTE)
  lot.say({ kind: 'void', bidder: '9F', reason: 'Bid in error.' }, 3 * MINUTE)
  lot.say({ kind: 'extend', closesAt: CLOSES + MINUTE, reason: 'The guest is still talking.' }, 4 * MINUTE)
  lot.bid('4K', pounds(200), CLOSES)
  lot.say({ kind: 'outage', from: CLOSES, to: CLOSES + 20 * SECOND, shiftMs: 20 * SECOND }, CLOSES + 20 * SECOND)
  lot.bid('7R', pounds(230), CLOSES + 30 * SECOND)
  expect(lot.say({ kind: 'close' }, CLOSES + 60 * MINUTE)).toBeNull()
  return lot
}

const allHold = (history: unknown) => checkHistory(history).every(({ isSound }) => isSound)
const firstFault = (history: unknown) => checkHistory(history).find(({ isSound }) => !isSound)?.words

describe('a history that a stranger can check', () => {
  it('of an eventful lot holds in every respect', () => {
    const history = eventfulLot().history()
    expect(checkHistory(history).filter(({ isSound }) => !isSound)).toEqual([])
    expect(checkHistory(history).at(-1)?.words).toContain('every price, leader and closing comes out the same')
  })

  it('of a lot that is still open holds as far as can be seen, and says what cannot', () => {
    const lot = makeLot({ closesAt: CLOSES })
    lot.bid('4K', pounds(60), SECOND)
    expect(allHold(lot.history())).toBe(true)
    expect(checkHistory(lot.history()).at(-1)?.words).toContain('still sealed')
  })

  it('opens every maximum but the winner’s last, the voided one too', () => {
    const revealed = eventfulLot().leaves.at(-1)
    expect(revealed).toMatchObject({ kind: 'revealed', sealed: 5, reserve: { amountMinor: pounds(100) } })
    expect(revealed?.kind === 'revealed' && revealed.openings.map(({ sequence, amountMinor }) => [sequence, amountMinor])).toEqual([
      [1, pounds(60)],
      [2, pounds(150)],
      [3, pounds(400)],
      [4, pounds(200)],
    ])
  })

  it('holds when the winner paid exactly the sealed maximum', () => {
    const lot = makeLot({ closesAt: CLOSES })
    lot.bid('4K', pounds(80), 0)
    lot.bid('7R', pounds(80), 1)
    lot.say({ kind: 'close' }, CLOSES)
    expect(allHold(lot.history())).toBe(true)
  })

  it('of an unsold lot opens everything', () => {
    const lot = makeLot({ closesAt: CLOSES, terms: makeTerms({ reserveMinor: pounds(100) }) })
    lot.bid('4K', pounds(80), 0)
    lot.say({ kind: 'close' }, CLOSES)
    expect(lot.leaves.at(-1)).toMatchObject({ sealed: null, openings: [{ sequence: 1 }] })
    expect(allHold(lot.history())).toBe(true)
  })

  it('of a withdrawn lot opens everything too', () => {
    const lot = makeLot({ closesAt: CLOSES })
    lot.bid('4K', pounds(80), 0)
    lot.say({ kind: 'withdraw', reason: 'The display failed.' }, MINUTE)
    expect(lot.leaves.at(-1)).toMatchObject({ kind: 'revealed', openings: [{ sequence: 1 }] })
    expect(allHold(lot.history())).toBe(true)
  })

  it('carries nothing but aliases and roles', () => {
    expect(JSON.stringify(eventfulLot().history())).not.toMatch(/@|person|paddle|email/i)
  })

  it('one changed character anywhere in an entry is found', () => {
    const text = JSON.stringify(eventfulLot().history())
    const [start, end] = [text.indexOf('"leaves"') + 10, text.indexOf('"heads"') - 2]
    for (let place = start; place < end; place += 7) {
      const was = text.charAt(place)
      const changed = `${text.slice(0, place)}${was === '7' ? '8' : '7'}${text.slice(place + 1)}`
      let read: unknown
      try {
        read = JSON.parse(changed)
      } catch (error) {
        read = error
      }
      expect(allHold(read), `character ${place} of ${text.slice(place - 20, place + 20)}`).toBe(false)
    }
  })

  it.each<[string, (history: History) => void]>([
    ['a bid left out', (history) => history.leaves.splice(1, 1)],
    ['a head left out at the end', (history) => history.heads.pop()],
    [
      'heads of another lot',
      (history) => {
        history.origin = `${HOUSE}/lots/8`
      },
    ],
    ['two heads swapped', (history) => history.heads.reverse()],
  ])('%s is found', (_, tamper) => {
    const history = eventfulLot().history()
    tamper(history)
    expect(allHold(history)).toBe(false)
  })

  it.each([null, 4, 'history', [], {}, { version: 2 }])('anything else, such as %j, is answered in words', (given) => {
    expect(firstFault(given)).toContain('not a lot')
  })
})

/** Rewrites a leaf and signs all again: what a dishonest house could do, and what the replay then finds. */
function forged(change: (lot: ReturnType<typeof eventfulLot>) => void) {
  const lot = eventfulLot()
  change(lot)
  return firstFault(lot.history())
}

describe('a house that signs what is not so', () => {
  it('is found when the price is not the one of the rule', () => {
    expect(forged(({ leaves }) => Object.assign(leaves[2] ?? {}, { standingMinor: pounds(140) }))).toContain(
      'the standing bid would be another',
    )
  })

  it('is found when somebody else is said to lead', () => {
    expect(forged(({ leaves }) => Object.assign(leaves[2] ?? {}, { leader: '4K' }))).toContain('somebody else would lead')
  })

  it('is found when a maximum is opened as another amount', () => {
    expect(
      forged(({ leaves }) => {
        const last = leaves.at(-1)
        if (last?.kind === 'revealed') Object.assign(last.openings[0] ?? {}, { amountMinor: 1 })
      }),
    ).toContain('Bid 1 was opened with another amount')
  })

  it('is found when a maximum is not opened', () => {
    expect(
      forged(({ leaves }) => {
        const last = leaves.at(-1)
        if (last?.kind === 'revealed') last.openings.pop()
      }),
    ).toBe('Bid 4 was not opened.')
  })

  it('is found when the reserve is another than the one fixed', () => {
    expect(
      forged(({ leaves }) => {
        const last = leaves.at(-1)
        if (last?.kind === 'revealed') Object.assign(last.reserve ?? {}, { amountMinor: pounds(90) })
      }),
    ).toContain('not the one that was fixed')
  })

  it('is found when a bid was taken at the closing', () => {
    expect(
      forged(({ leaves }) => {
        const closes = leaves.at(-2)?.at
        const late = leaves.findLast(({ kind }) => kind === 'bid')
        if (late && closes) late.at = closes
      }),
    ).toMatch(/Entry \d+/)
  })

  it('is found when an extension is kept quiet', () => {
    expect(
      forged(({ leaves }) =>
        leaves.splice(
          leaves.findIndex((leaf) => leaf.kind === 'extended' && leaf.by === 'rule'),
          1,
        ),
      ),
    ).toContain('extension')
  })
})

describe('the signed head', () => {
  it('is a checkpoint that node:crypto verifies with the public key alone', () => {
    const key = makeKey()
    const [note] = signedHeads(eventfulLot().history(key))
    const publicKey = createPublicKey({ key: { kty: 'OKP', crv: 'Ed25519', x: Buffer.from(key.raw).toString('base64url') }, format: 'jwk' })
    expect(note && verify(null, Buffer.from(note.text), publicKey, note.signature)).toBe(true)
    expect(note && bytesToHex(note.keyHash)).toBe(bytesToHex(keyHash(HOUSE, key.raw)))
    expect(note && verify(null, Buffer.from(note.text.replace('/7', '/8')), publicKey, note.signature)).toBe(false)
  })

  it.each([
    '',
    'house.example/lots/7\n1\nAAAA\n\n— house.example AAAA\n',
    'a\n01\nAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA=\n\n— a AAAA\n',
  ])('a note that is not one, %j, is not opened', (note) => {
    expect(openNote(note)).toBeNull()
  })

  it('can be read aloud as five groups of four, ninety bits and two check digits', () => {
    // python3: n = int(root[:24], 16) >> 6; eighteen times five bits of n, and '%02d' % (n % 97)
    expect(shortHead('0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef')).toBe('04HM ASW9 NF6Y Y093 8N28')
    expect(shortHead('f'.repeat(64))).toMatch(/^(ZZZZ ){4}ZZ\d\d$/)
  })

  it('is read as it is typed, with what is taken for other letters, and a wrong or swapped character is found', () => {
    const spoken = shortHead('0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef')
    expect(readShortHead(spoken.toLowerCase().replaceAll(' ', '-').replaceAll('0', 'o').replaceAll('1', 'l'))).toEqual({ code: spoken })
    const bare = spoken.replaceAll(' ', '')
    for (let at = 0; at < bare.length; at++) {
      for (const other of '0123456789ABCDEFGHJKMNPQRSTVWXYZ')
        if (other !== bare[at]) expect(readShortHead(bare.slice(0, at) + other + bare.slice(at + 1))).toHaveProperty('fault')
      const swapped = bare.slice(0, at) + (bare[at + 1] ?? '') + bare[at] + bare.slice(at + 2)
      if (swapped !== bare) expect(readShortHead(swapped)).toHaveProperty('fault')
    }
    expect(readShortHead('1234')).toMatchObject({ fault: expect.stringContaining('twenty characters') })
    expect(readShortHead('U'.repeat(20))).toMatchObject({ fault: expect.stringContaining('no “U”') })
  })
})

describe('a commitment', () => {
  const sealed = { lot: 7, alias: '4K', sequence: 3, amountMinor: 21_000, nonce: '00'.repeat(32) }

  it('is SHA-256 over tag, lot, alias, sequence, amount and the random bytes', () => {
    // echo -ne 'tagstrip/maximum/v1\x007\x004K\x003\x0021000\x00' followed by 32 zero bytes, through sha256sum
    expect(commitmentTo(sealed)).toBe('b11a47c9858a5cbb21a1d370c344a455159afe0470d96d0e428ae0bcbe48b604')
  })

  it('changes with each of them', () => {
    const others = [
      { lot: 8 },
      { alias: '4L' },
      { sequence: 4 },
      { amountMinor: 21_001 },
      { nonce: '01'.repeat(32) },
      { lot: 74, alias: 'K' },
    ]
    expect(new Set([sealed, ...others.map((change) => ({ ...sealed, ...change }))].map(commitmentTo)).size).toBe(7)
  })
})

describe('an alias', () => {
  it('is a digit and a letter, drawn at random, never one that is taken', () => {
    expect(aliasFrom(Uint8Array.of(2, 6, 1, 1), () => false)).toBe('4K')
    expect(aliasFrom(Uint8Array.of(2, 6, 1, 1), (alias) => alias === '4K')).toBe('3D')
    expect(aliasFrom(Uint8Array.of(2, 6, 1, 1), (alias) => alias === '4K' || alias === '3D')).toBe('4K3D')
  })
})
