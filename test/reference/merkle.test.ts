import { bytesToHex, hexToBytes } from '@noble/hashes/utils.js'
import canonicalize from 'canonicalize'
import { describe, expect, it } from 'vitest'
import { append, grow, inclusionPath, isIncluded, leafHash, rootOf, rootOfPeaks } from '#sale/history/merkle.rules'
import reference from './merkle-and-canonical.json'

const rows = reference.rows
/** The eight leaves of the reference tree: RFC 6962/9162 reference leaves (transparency-dev/merkle). */
const DATA = ['', '00', '10', '2021', '3031', '40414243', '5051525354555657', '606162636465666768696a6b6c6d6e6f']
const leaves = DATA.map((hex) => leafHash(hexToBytes(hex)))
const of = (kind: string) => rows.filter((row) => row.kind === kind)

describe('the tree against the reference leaves of RFC 6962 / 9162', () => {
  it.each(of('merkle_leaf').map((row) => [row.index, row] as const))(
    'leaf %d has the published hash',
    (_, { data_hex = '', leaf_hash }) => {
      expect(bytesToHex(leafHash(hexToBytes(data_hex)))).toBe(leaf_hash)
    },
  )

  it.each(of('merkle_root').map((row) => [row.tree_size ?? 0, row.root] as const))(
    'a tree of %d leaves has the published root',
    (size, root) => {
      expect(bytesToHex(rootOf(leaves.slice(0, size)))).toBe(root)
    },
  )

  it.each(of('merkle_inclusion').map((row) => [row.index ?? 0, row.size ?? 0, row] as const))(
    'leaf %d of %d has the published path, and it verifies',
    (index, size, row) => {
      const path = inclusionPath(leaves.slice(0, size), index)
      expect(path.map(bytesToHex)).toEqual(row.proof)
      expect(isIncluded({ index, size, leaf: hexToBytes(row.leaf_hash ?? ''), path }, hexToBytes(row.root ?? ''))).toBe(true)
    },
  )

  it('a path verifies for no other leaf, index, size or root', () => {
    for (let size = 1; size <= 8; size++) {
      const tree = leaves.slice(0, size)
      for (const [index, leaf] of tree.entries()) {
        const path = inclusionPath(tree, index)
        expect(isIncluded({ index, size, leaf, path }, rootOf(tree))).toBe(true)
        expect(isIncluded({ index, size, leaf: leafHash(Uint8Array.of(9)), path }, rootOf(tree))).toBe(false)
        expect(isIncluded({ index: index + 1, size, leaf, path }, rootOf(tree))).toBe(false)
        expect(isIncluded({ index, size, leaf, path: [...path, leaf] }, rootOf(tree))).toBe(false)
        expect(isIncluded({ index, size, leaf, path }, leaf) && size > 1).toBe(false)
      }
    }
  })

  it('growing by one, two or three leaves gives the same root, and the path of the first of them', () => {
    for (let size = 0; size < 8; size++) {
      let peaks: Uint8Array[] = []
      for (const [index, leaf] of leaves.slice(0, size).entries()) peaks = append(peaks, index, leaf)
      for (const count of [1, 2, 3].filter((more) => size + more <= 8)) {
        const grown = grow(peaks, size, leaves.slice(size, size + count))
        const tree = leaves.slice(0, size + count)
        expect(bytesToHex(rootOfPeaks(grown.peaks))).toBe(bytesToHex(rootOf(tree)))
        expect(grown.path.map(bytesToHex)).toEqual(inclusionPath(tree, size).map(bytesToHex))
      }
    }
  })
})

describe('canonical JSON against RFC 8785', () => {
  it.each(of('jcs_number').map((row) => [row.ieee754 ?? '', row] as const))(
    'the double %s is written as published, or refused',
    (hex, { json, expect_error }) => {
      const value = new DataView(hexToBytes(hex).buffer).getFloat64(0)
      if (expect_error) expect(() => canonicalize(value)).toThrow()
      else expect(canonicalize(value)).toBe(json)
    },
  )

  it.each(of('jcs_file').map((row) => [row.name, row] as const))(
    'the test file "%s" comes out byte for byte',
    (_, { input_json = '', output_hex }) => {
      expect(Buffer.from(canonicalize(JSON.parse(input_json)) ?? '').toString('hex')).toBe(output_hex)
    },
  )
})
