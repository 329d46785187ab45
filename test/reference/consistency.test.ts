import { bytesToHex, hexToBytes } from '@noble/hashes/utils.js'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { verifyByLibrary } from '#app/_trust/ed25519.ts'
import { toBase64url } from '#bench/certificates/base64url.rules'
import { fromBase64, keyHash, openNote } from '#sale/history/checkpoint.rules'
import { consistencyPaths, isConsistent, leafHash, nodeHash, rootOf } from '#sale/history/merkle.rules'

const consistencyPath = (leaves: readonly Uint8Array[], from: number) => consistencyPaths(leaves, [from])[0] ?? []

/** The eight leaves of the reference tree (transparency-dev/merkle, as in merkle-and-canonical.json). */
const DATA = ['', '00', '10', '2021', '3031', '40414243', '5051525354555657', '606162636465666768696a6b6c6d6e6f']
const leaves = DATA.map((hex) => leafHash(hexToBytes(hex)))

describe('that one tree continues another', () => {
  // Source: the published consistency proofs of the reference tree (transparency-dev/merkle, proof tests).
  it.each([
    [1, 1, []],
    [
      1,
      8,
      [
        '96a296d224f285c67bee93c30f8a309157f0daa35dc5b87e410b78630a09cfc7',
        '5f083f0a1a33ca076a95279832580db3e0ef4584bdff1f54c8a360f50de3031e',
        '6b47aaf29ee3c2af9af889bc1fb9254dabd31177f16232dd6aab035ca39bf6e4',
      ],
    ],
    [
      6,
      8,
      [
        '0ebc5d3437fbe2db158b9f126a1d118e308181031d0a949f8dededebc558ef6a',
        'ca854ea128ed050b41b35ffc1b87b8eb2bde461e9e3b5596ece6b9d5975a0ae0',
        'd37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7',
      ],
    ],
    [
      2,
      5,
      [
        '5f083f0a1a33ca076a95279832580db3e0ef4584bdff1f54c8a360f50de3031e',
        'bc1a0643b12e4d2d7c77918f44e0f4f79a838b6cf9ec5b5c283e1f4d88599e6b',
      ],
    ],
  ])('from %d to %d is shown by the published path', (from, size, path) => {
    expect(consistencyPath(leaves.slice(0, size), from).map(bytesToHex)).toEqual(path)
  })

  it('is shown as the example of RFC 6962, section 2.1.3, says', () => {
    const [a, b, c, d, e, f, j] = leaves as [Uint8Array, Uint8Array, Uint8Array, Uint8Array, Uint8Array, Uint8Array, Uint8Array]
    const [g, h, i] = [nodeHash(a, b), nodeHash(c, d), nodeHash(e, f)]
    const [k, l] = [nodeHash(g, h), nodeHash(i, j)]
    const proof = (from: number) => consistencyPath(leaves.slice(0, 7), from).map(bytesToHex)
    expect(proof(3)).toEqual([c, d, g, l].map(bytesToHex))
    expect(proof(4)).toEqual([l].map(bytesToHex))
    expect(proof(6)).toEqual([i, j, k].map(bytesToHex))
  })

  it('verifies for each pair of sizes, and for no other root, size or path', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 70 }), fc.integer({ min: 1, max: 70 }), fc.integer({ min: 0, max: 9 }), (one, other, which) => {
        const [from, size] = [Math.min(one, other), Math.max(one, other)]
        const all = Array.from({ length: size }, (_, index) => leafHash(Uint8Array.of(index)))
        const [earlier, later] = [rootOf(all.slice(0, from)), rootOf(all)]
        const path = consistencyPath(all, from)
        expect(isConsistent({ from, size, path }, earlier, later)).toBe(true)
        const wrong = leafHash(Uint8Array.of(99))
        expect(isConsistent({ from, size, path }, wrong, later)).toBe(false)
        expect(isConsistent({ from, size, path }, earlier, wrong)).toBe(false)
        expect(isConsistent({ from, size, path: [...path, wrong] }, earlier, later)).toBe(false)
        expect(isConsistent({ from: from + 1, size, path }, earlier, later)).toBe(false)
        if (path.length > 0) {
          const bent = path.map((hash, index) => (index === which % path.length ? wrong : hash))
          expect(isConsistent({ from, size, path: bent }, earlier, later)).toBe(false)
          expect(isConsistent({ from, size, path: path.slice(1) }, earlier, later)).toBe(false)
        }
      }),
      { numRuns: 300 },
    )
  })
})

describe('signed notes against published examples', () => {
  it('the four bytes of a key, and a signature, are those of the example of the note package (golang.org/x/mod/sumdb/note)', () => {
    const key = fromBase64('ARpc2QcUPDhMQegwxbzhKqiBfsVkmqq/LDE4izWy10TW')?.slice(1) ?? new Uint8Array()
    const text = 'If you think cryptography is the answer to your problem,\nthen you don\u0027t know what your problem is.\n'
    const line = fromBase64('x08go/ZJkuBS9UG/SffcvIAQxVBtiFupLLr8pAcElZInNIuGUgYN1FFYC2pZSNXgKvqfqdngotpRZb6KE6RyyBwJnAM=')
    expect(bytesToHex(keyHash('PeterNeumann', key))).toBe('c74f20a3')
    expect(line && bytesToHex(line.slice(0, 4))).toBe('c74f20a3')
    expect(line && verifyByLibrary(toBase64url(key), line.slice(4), new TextEncoder().encode(text))).toBe(true)
  })

  it('the example of C2SP tlog-checkpoint is read', () => {
    const note =
      'example.com/behind-the-sofa\n20852163\nCsUYapGGPo4dkMgIAUqom/Xajj7h2fB2MPA3j2jxq2I=\n\n' +
      '— example.com/behind-the-sofa Az3grlgtzPICa5OS8npVmf1Myq/5IZniMp+ZJurmRDeOoRDe4URYN7u5/Zhcyv2q1gGzGku9nTo+zyWE+xeMcTOAYQ8=\n'
    expect(openNote(note)).toMatchObject({
      head: { origin: 'example.com/behind-the-sofa', size: 20852163 },
      name: 'example.com/behind-the-sofa',
    })
  })
})
