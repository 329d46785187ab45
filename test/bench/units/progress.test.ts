import { expect, it } from 'vitest'
import { type ProgressFacts, reachedBy, STATIONS } from '#bench/units/progress.rules'

const reached = (over: Partial<ProgressFacts>) =>
  reachedBy({ positions: 20, fitted: 20, inHand: 0, hasValidCertificate: false, lot: null, ...over })

it.each([
  ['nothing while a piece is missing', { fitted: 10, inHand: 9 }, 0],
  ['given when every piece is in hand or fitted', { fitted: 10, inHand: 10 }, 1],
  ['built when all are fitted', {}, 2],
  ['tested with a valid certificate', { hasValidCertificate: true }, 3],
  ['tested while its lot is a draft', { hasValidCertificate: true, lot: { isPublic: false, isSold: false, isSent: false } }, 3],
  ['listed when its lot is public', { hasValidCertificate: true, lot: { isPublic: true, isSold: false, isSent: false } }, 4],
  ['built again when the certificate is withdrawn from a listed lot', { lot: { isPublic: true, isSold: false, isSent: false } }, 2],
  ['sold when the hammer fell, whatever was found later', { fitted: 19, lot: { isPublic: true, isSold: true, isSent: false } }, 5],
  ['sent', { lot: { isPublic: true, isSold: true, isSent: true } }, 6],
])('%s', (_words, facts, expected) => {
  expect(reached(facts)).toBe(expected)
  expect(expected).toBeLessThanOrEqual(STATIONS.length)
})
